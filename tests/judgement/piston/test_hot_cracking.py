"""A crown that breaks before it yields cracks while it warms, as the cold depth alone takes the bending."""

from __future__ import annotations

import numpy as np
import pytest

from screening import load_case, screen
from screening.judgement.choice.screening import Screening
from screening.judgement.piston import ends


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("petrol_baseline"), 64, materials=("pei", "pei_gf", "pekk_cf"))


def test_filled_crown_cracks_hot_and_unfilled_does_not(result: Screening) -> None:
    """Common practice, no source: glass makes PEI stiffer and stronger cold, and brittle: it breaks at 2 to 3 %."""
    filled, plain = (result.material(id).times[ends.CRACKING] for id in ("pei_gf", "pei"))
    later = filled[(filled > 0) & np.isfinite(filled)]
    assert later.size > 0.3 * filled.size
    assert np.isfinite(plain).mean() < 0.5 * np.isfinite(filled).mean(), "only draws of a small elongation are brittle"


def test_no_stiffness_against_temperature_no_hot_crack(result: Screening) -> None:
    """pekk_cf has no deflection temperature: only the cold start is judged."""
    found = result.material("pekk_cf").times[ends.CRACKING]
    assert set(found[np.isfinite(found)]) <= {0.0}


def test_higher_pressure_cracks_sooner() -> None:
    case = load_case("petrol_baseline").to_dict()
    medians = []
    for ratio in (6.0, 10.0):
        case["engine"]["compression_ratio"] = ratio
        found = screen(load_case(case), 64, materials=("pei_gf",)).material("pei_gf").times[ends.CRACKING]
        medians.append(float(np.quantile(found, 0.3, method="inverted_cdf")))
    assert medians[1] < medians[0]
