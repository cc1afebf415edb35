"""A compression gauge in the case: draws that crank to the reading again, each with the intake of its own cycle."""

from __future__ import annotations

from typing import Any

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.case.case_file import load_case
from screening.judgement.choice.assumed import assumptions_used
from screening.judgement.draws.conditions import draw_conditions
from screening.judgement.draws.sampling import drawn_assumption
from screening.physics.cylinder.volume import cylinder_volume
from screening.records.tables.assumptions import load_assumptions

OF_THE_GAUGE = {"cranking_exponent", "cranking_filling", "compression_gauge_error"}


def engine_with(**engine: Any) -> Case:
    document = load_case("petrol_baseline").to_dict()
    document["engine"] = {"displacement_cc": 98} | engine
    return load_case(document)


def test_each_draw_cranked_by_hand_shows_the_reading_again() -> None:
    """p V^n from the intake's closing of the same draw to the clearance of the ratio drawn, less the air's pressure."""
    drawn = draw_conditions(engine_with(compression_gauge_bar=8.3), 300)
    exponent, filling, error = (
        drawn_assumption(load_assumptions()[name], 300, 0)
        for name in ("cranking_exponent", "cranking_filling", "compression_gauge_error")
    )
    at_closing, least = (
        cylinder_volume(angle, drawn["bore"], drawn["stroke"], drawn["rod_length"], drawn["compression_ratio"])
        for angle in (drawn["intake_closing"], 0.0)
    )
    air = drawn["ambient_pressure"]
    shown = (filling * air * (at_closing / least) ** exponent - air) / error
    assert np.allclose(shown, 8.3e5, rtol=1e-9)


def test_a_later_intake_goes_with_a_higher_ratio() -> None:
    drawn = draw_conditions(engine_with(compression_gauge_bar=8.3), 1000)
    assert np.corrcoef(drawn["intake_closing"], drawn["compression_ratio"])[0, 1] > 0.1


def test_the_gauge_is_drawn_with_its_spread_where_no_ratio_is_given() -> None:
    """8.3 bar: 6.7 as worked by hand beside the case's way to physics; some 10 % down and 25 % up."""
    low, middle, high = np.quantile(draw_conditions(engine_with(compression_gauge_bar=8.3), 2000)["compression_ratio"],
                                    (0.05, 0.5, 0.95))  # fmt: skip
    assert 6.7 < middle < 7.1  # the exponent reaches further down than up
    assert 0.85 < low / middle < 0.95
    assert 1.15 < high / middle < 1.35


def test_a_ratio_given_stands_beside_a_gauge() -> None:
    drawn = draw_conditions(engine_with(compression_gauge_bar=8.3, compression_ratio=8.0), 50)
    assert np.all(drawn["compression_ratio"] == 8.0)
    assert not drawn.assumed & (OF_THE_GAUGE | {"compression_ratio"})


def test_what_rests_on_the_gauge_is_told_in_place_of_the_usual_ratio() -> None:
    case = engine_with(compression_gauge_bar=8.3)
    used = {row.name for row in assumptions_used(case, draw_conditions(case, 8))}
    assert used >= OF_THE_GAUGE
    assert "compression_ratio" not in used
    plain = engine_with()
    assert not {row.name for row in assumptions_used(plain, draw_conditions(plain, 8))} & OF_THE_GAUGE


def test_nothing_else_moves_for_a_gauge() -> None:
    plain, gauged = (draw_conditions(engine_with(**keys), 50) for keys in ({}, {"compression_gauge_bar": 8.3}))
    moved = {name for name in plain if not np.array_equal(plain[name], gauged[name], equal_nan=True)}
    assert moved == {"compression_ratio"}
