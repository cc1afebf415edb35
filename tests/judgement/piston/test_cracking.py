"""When a brittle crown cracks, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from judgement.piston.made_up_crown import DEPTH, TIMES, case, conditions, heat, load, polymer, stack, warming

from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.cracking import time_of_cold_cracking, time_of_hot_cracking

FOLLOWED = np.array([np.inf])


def stiff(**changed: Any) -> Polymer:
    """Return a brittle polymer of 100 MPa at 300 K, 0.5 MPa less a kelvin, that keeps some stiffness up to 500 K."""
    known = {"tensile_modulus": 3e9, "deflection_temperature_180": 470.0, "deflection_temperature_045": 470.0}
    return polymer(cold=100e6, brittle=True, **known | changed)


@pytest.mark.parametrize(("printed", "cracks"), [(65e6, 0.0), (66e6, np.inf)])
def test_cold_crown_cracks_where_the_start_bends_it_beyond_its_printed_strength(printed: float, cracks: float) -> None:
    """0.75 x 35 bar x (20/4)^2 = 65.6 MPa at the clamped edge; the solid bar's 80 MPa are not what is printed, and a crack
    has no need of time: the 28 bar of a flowing plastic would give 52.5 MPa."""
    ends = time_of_cold_cracking(conditions(), polymer(cold=printed, brittle=True), stack(), load())
    assert ends == pytest.approx([cracks])


def test_what_yields_does_not_crack_and_under_a_cap_the_metal_bends() -> None:
    """The same 65.6 MPa against 10 MPa."""
    weak, hard = polymer(cold=10e6), polymer(cold=10e6, brittle=True)
    assert time_of_cold_cracking(conditions(), weak, stack(), load()).tolist() == [np.inf]
    assert time_of_cold_cracking(conditions(), hard, stack(cap=0.001), load()).tolist() == [np.inf]
    assert time_of_cold_cracking(conditions(), hard, stack(), load()).tolist() == [0.0]


def test_warm_crown_of_one_temperature_cracks_when_its_strength_has_fallen_to_the_edges_stress() -> None:
    """At 380 K, after 8 s, 100 - 0.5 x 80 = 60 MPa are left, which 60/(0.75 x 25) = 3.2 MPa reach at the edge; that its
    modulus has fallen with them changes nothing while it is one through the depth."""
    ends = time_of_hot_cracking(case(), conditions(), stiff(), stack(), heat(warming()), load(3.2e6), FOLLOWED)
    assert ends == pytest.approx([8.0], rel=1e-3)


def test_soft_face_leaves_the_bending_to_the_cold_depth() -> None:
    """Up to 4 s the crown is cold: it cracks at 100/(0.75 x 25) = 5.333 MPa. From 8 s its upper 2 mm are at 600 K and have no
    stiffness, the lower 2 mm are cold: 100/(0.75 x (20/2)^2) = 1.333 MPa. Looked at after 2 and 8 s, 2.5 MPa lie
    (5.333 - 2.5)/4 = 0.7083 of the way between: 2 x 4^0.7083 = 5.34 s."""
    field = np.where((TIMES[:, None] >= 8) & (DEPTH < 0.002), 600.0, 300.0)[:, :, None]
    ends = time_of_hot_cracking(case(), conditions(), stiff(), stack(), heat(field), load(), FOLLOWED)
    assert ends == pytest.approx([5.34], rel=5e-3)


def test_near_its_transition_a_polymer_yields_instead() -> None:
    """With a transition of 390 K it cracks below 370 K only; 340 K, after 2 s, carry 80/(0.75 x 25) = 4.27 MPa. At
    380 K, after 8 s, 3.5 MPa would crack it."""
    soft = stiff(glass_transition=390.0)
    ends = time_of_hot_cracking(case(), conditions(), soft, stack(), heat(warming()), load(3.5e6), FOLLOWED)
    assert ends.tolist() == [np.inf]


def test_crown_is_looked_at_until_something_else_has_ended_it() -> None:
    """Ended at the start, it is not asked; nor is what yields, or what lies under a metal cap."""
    heated, asked = heat(warming()), load(3.2e6)
    for brittle, crown, until in ((True, stack(), 0.0), (False, stack(), np.inf), (True, stack(cap=0.001), np.inf)):
        one = polymer(cold=100e6, brittle=brittle, tensile_modulus=3e9, deflection_temperature_180=470.0)
        ends = time_of_hot_cracking(case(), conditions(), one, crown, heated, asked, np.array([until]))
        assert ends.tolist() == [np.inf]
