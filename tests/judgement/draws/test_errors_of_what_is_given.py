"""What the case gives is not exact: its measurement's error, as the table has it, is in the draws."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.spied_cases import GIVEN

from screening import load_case
from screening.judgement.draws.conditions import RICHEST, draw_conditions
from screening.records.tables.assumptions import load_assumptions

DRAWS = 2000


@pytest.mark.parametrize(
    ("drawn", "given", "error"),
    [
        ("equivalence_ratio", 1.17, "equivalence_ratio_error"),
        ("burned_volume_flow", 83e-6 / 611, "burn_error"),
        ("crown_thickness", 0.0067, "crown_thickness_tolerance"),
    ],
)
def test_error_spreads_what_is_given(drawn: str, given: float, error: str) -> None:
    """5th, 50th and 95th percentile are the stated value times the error's low, typical and high."""
    conditions, row = draw_conditions(load_case(GIVEN), DRAWS), load_assumptions()[error]
    ends = np.quantile(conditions[drawn], (0.05, 0.5, 0.95))
    assert row.low < row.typical < row.high
    assert ends == pytest.approx([given * row.low, given * row.typical, given * row.high], rel=2e-3)
    assert error in conditions.assumed


@pytest.mark.parametrize(
    ("drawn", "given"),
    [("bore", 0.061), ("stroke", 0.043), ("rod_length", 0.083), ("compression_ratio", 7.3), ("speed", 2710 / 60),
     ("skirt_wall", 0.0039), ("ring_groove_depth", 0.0046), ("pin_diameter", 0.0145), ("both_bosses_length", 0.0273),
     ("solid_share", 0.93), ("ambient", 304.15), ("crankcase", 350.15), ("crankcase_film", 113)],
)  # fmt: skip
def test_what_is_given_without_an_error_is_taken_as_it_is(drawn: str, given: float) -> None:
    assert np.all(np.isclose(draw_conditions(load_case(GIVEN), 50)[drawn], given, rtol=1e-12))


def test_error_of_a_rich_mixture_ends_where_the_tables_of_gas_do() -> None:
    richest = load_case(GIVEN | {"operation": GIVEN["operation"] | {"equivalence_ratio": 1.8}})
    assert draw_conditions(richest, 200)["equivalence_ratio"].max() == RICHEST


def test_a_measured_burn_and_a_throttle_leave_the_other_unknown() -> None:
    burned = draw_conditions(load_case(GIVEN), 20)
    assert np.all(np.isnan(burned["volumetric_efficiency"]))
    operation = {"throttle": 0.37}
    throttled = draw_conditions(load_case(GIVEN | {"operation": operation}), 20)
    assert np.all(np.isnan(throttled["burned_volume_flow"]))
    assert throttled["volumetric_efficiency"] == pytest.approx(0.37 * throttled["full_charge"])
