"""When a brittle crown cracks, on a made-up crown (`made_up_crown`): each answer is reckoned in its test.

The tension at the centre of its underside is p (R/t)^2 = 25 p here (factor 1), and it breaks at 1.5 x 0.8 x 1.25 = 1.5 times its
tensile strength.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from judgement.piston.made_up_crown import DEPTH, TIMES, case, conditions, heat, load, polymer, stack, warming

from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.cracking import breaking_strength, time_of_cold_cracking, time_of_hot_cracking

FOLLOWED = np.array([np.inf])
PRESSURE = np.array([35e5])
EVEN = {"thermal_expansion": 1e-12, "thermal_expansion_hot": 1e-12}
"""A polymer that does not grow has no tension of warming."""


def stiff(**changed: Any) -> Polymer:
    """Return a brittle polymer of 100 MPa at 300 K, 0.5 MPa less a kelvin, that keeps some stiffness up to 500 K."""
    known = {"tensile_modulus": 3e9, "deflection_temperature_180": 470.0, "deflection_temperature_045": 470.0}
    return polymer(cold=100e6, brittle=True, **known | EVEN | changed)


def test_breaks_in_bending_at_more_than_a_tensile_bar_says() -> None:
    """60 MPa x 1.5 (bending) x 0.8 (larger face) x 1.25 (milliseconds) = 90 MPa."""
    assert breaking_strength(conditions(), np.array([60e6])) == pytest.approx([90e6])


@pytest.mark.parametrize(("printed", "cracks"), [(58.2e6, 0.0), (58.5e6, np.inf)])
def test_cold_crown_cracks_where_the_start_pulls_its_underside_beyond_what_it_breaks_at(
    printed: float, cracks: float
) -> None:
    """35 bar x (20/4)^2 = 87.5 MPa against 1.5 x 58.33; the solid bar's 80 MPa are not what is printed."""
    ends = time_of_cold_cracking(conditions(), polymer(cold=printed, brittle=True), stack(), PRESSURE)
    assert ends == pytest.approx([cracks])


def test_what_yields_does_not_crack_and_on_a_skirt_the_metal_bends_alone() -> None:
    """The same 87.5 MPa against 15 MPa; of two draws one is brittle."""
    weak, hard = polymer(cold=10e6), polymer(cold=10e6, brittle=True)
    assert time_of_cold_cracking(conditions(), weak, stack(), PRESSURE).tolist() == [np.inf]
    assert time_of_cold_cracking(conditions(), hard, stack(cap=0.001, on_skirt=True), PRESSURE).tolist() == [np.inf]
    assert time_of_cold_cracking(conditions(), hard, stack(), PRESSURE).tolist() == [0.0]
    either = polymer(2, cold=10e6, brittle=[True, False])
    assert time_of_cold_cracking(conditions(2), either, stack(2), PRESSURE).tolist() == [0.0, np.inf]


@pytest.mark.parametrize(("printed", "cracks"), [(42.4e6, 0.0), (42.9e6, np.inf)])
def test_polymer_beneath_a_cap_bears_its_share_of_the_bending(printed: float, cracks: float) -> None:
    """Layers that slide share the bending as E t^3: 3 GPa x 64 mm3 of polymer, 70 GPa x 1 mm3 of cap: 192/262 = 0.733 of 87.5 MPa are
    64.1 MPa against 1.5 x 42.75. (Timoshenko & Woinowsky-Krieger 1959 art. 4, from memory: the stiffness goes as E t^3.)"""
    capped = stack(cap=0.001, bending_of_metal=np.array([70e9 * 1e-9 / 12]))
    brittle = polymer(cold=printed, brittle=True, tensile_modulus=3e9)
    assert time_of_cold_cracking(conditions(), brittle, capped, PRESSURE).tolist() == [cracks]


def test_warm_crown_of_one_temperature_cracks_when_its_strength_has_fallen_to_the_tension() -> None:
    """At 380 K, after 8 s, 100 - 0.5 x 80 = 60 MPa are left, 90 in bending: 90/25 = 3.6 MPa; that its modulus has fallen with
    them changes nothing while it is one through the depth."""
    ends = time_of_hot_cracking(case(), conditions(), stiff(), stack(), heat(warming()), load(3.6e6), FOLLOWED)
    assert ends == pytest.approx([8.0], rel=2e-3)


def test_soft_face_leaves_the_bending_to_the_cold_depth() -> None:
    """Up to 4 s the crown is cold: 25 x 2.5 = 62.5 MPa against 150. From 8 s its upper 2 mm are at 600 K and have no
    stiffness, the lower 2 mm are cold: 2.5 x (20/2)^2 = 250 MPa. Between the looks after 4 and 8 s the excess goes from -87.5 to +100
    MPa: 87.5/187.5 = 0.4667 of the way, 4 x 2^0.4667 = 5.53 s."""
    field = np.where((TIMES[:, None] >= 8) & (DEPTH < 0.002), 600.0, 300.0)[:, :, None]
    ends = time_of_hot_cracking(case(), conditions(), stiff(), stack(), heat(field), load(), FOLLOWED)
    assert ends == pytest.approx([5.53], rel=1e-2)


def test_hot_depth_that_wants_to_grow_pulls_on_the_cold_underside() -> None:
    """The upper 2 mm at 390 K, the lower at 300 K, of one stiffness E that hardly falls: strain 1e-4 x 90 = 0.009 above, 0 beneath,
    mean 0.0045, of which the belt keeps a quarter: 0.003375 E/0.63. With E 3 GPa 16.1 MPa, and the pressure's 25 x 2.5 = 62.5: 78.6.
    What breaks at 1.5 x 50 = 75 MPa cracks from 8 s on; without growth, or at 1.5 x 60, it holds."""
    field = np.where((TIMES[:, None] >= 8) & (DEPTH < 0.002), 390.0, 300.0)[:, :, None]
    hard = {"deflection_temperature_180": 490.0, "deflection_temperature_045": 495.0, "tensile_modulus": 3e9}
    for cold, grows, cracks in ((50e6, 1e-4, True), (50e6, 1e-12, False), (60e6, 1e-4, False)):
        one = polymer(cold=cold, brittle=True, thermal_expansion=grows, thermal_expansion_hot=grows, **hard)
        ends = time_of_hot_cracking(case(), conditions(), one, stack(), heat(field), load(starting=2.5e6), FOLLOWED)
        assert np.isfinite(ends).tolist() == [cracks]


def test_start_pulls_on_the_warming_underside_too() -> None:
    """The same hot upper half from 0.25 s on: 16.1 MPa of warming and 25 x 2.5 = 62.5 MPa running are less than 1.5 x 59 = 88.5 MPa; with
    the start's 35 bar they are 16.1 + 87.5 = 103.6 MPa, more. (Cold the start's 87.5 MPa alone hold.)"""
    times = np.r_[0.0, 0.25, TIMES[1:]]
    field = np.where((times[:, None] >= 0.25) & (DEPTH < 0.002), 390.0, 300.0)[:, :, None]
    hard = {"deflection_temperature_180": 490.0, "deflection_temperature_045": 495.0, "tensile_modulus": 3e9}
    one = polymer(cold=59e6, brittle=True, thermal_expansion=1e-4, thermal_expansion_hot=1e-4, **hard)
    warm = replace(
        heat(warming()),
        times=times,
        temperature=field,
        recession=np.zeros((times.size, 1)),
        followed=np.array([times[-1]]),
    )
    for starting, cracks in ((3.5e6, True), (2.5e6, False)):
        found = time_of_hot_cracking(case(), conditions(), one, stack(), warm, load(starting=starting), FOLLOWED)
        assert (found < 0.5).tolist() == [cracks]


def test_filled_crystalline_plastic_stays_brittle_above_its_glass_transition() -> None:
    """Glass transition 340 K, melting at 500 K: at 380 K, after 8 s, its strength has fallen to the tension, as above; unfilled it
    yields from 320 K on. Common practice, no source: fibres leave a plastic some per cent of strain hot or cold."""
    plain = stiff(glass_transition=340.0, softening=500.0)
    filled = replace(plain, material=replace(plain.material, filler="glass fibre"))
    for one, ends_at in ((filled, 8.0), (plain, np.inf)):
        ends = time_of_hot_cracking(case(), conditions(), one, stack(), heat(warming()), load(3.6e6, 3.0e6), FOLLOWED)
        assert ends == pytest.approx([ends_at], rel=2e-3)


def test_near_its_transition_a_polymer_yields_instead() -> None:
    """With a transition of 390 K it cracks below 370 K only; 340 K, after 2 s, bear 1.5 x 80/25 = 4.8 MPa. At 380 K, after 8 s,
    4.0 MPa would crack it."""
    soft = stiff(glass_transition=390.0)
    ends = time_of_hot_cracking(case(), conditions(), soft, stack(), heat(warming()), load(4.0e6), FOLLOWED)
    assert ends.tolist() == [np.inf]


def test_crown_is_looked_at_until_something_else_has_ended_it() -> None:
    """Ended at the start, it is not asked; nor is what yields, or what lies under a metal cap."""
    heated, asked = heat(warming()), load(3.6e6)
    for brittle, crown, until in ((True, stack(), 0.0), (False, stack(), np.inf), (True, stack(cap=0.001), np.inf)):
        known = {"tensile_modulus": 3e9, "deflection_temperature_180": 470.0}
        one = polymer(cold=100e6, brittle=brittle, **known | EVEN)
        ends = time_of_hot_cracking(case(), conditions(), one, crown, heated, asked, np.array([until]))
        assert ends.tolist() == [np.inf]
