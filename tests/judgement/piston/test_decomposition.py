"""When a crown burns away or lets go of its cap, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import TIMES, conditions, gas, heat, polymer, stack, warming

from screening.judgement.piston.decomposition import time_of_burning_away, time_of_letting_go

BURNING = np.where(TIMES >= 4, 6.25e-6 * TIMES, 0.0)  # m/s: 25 um/s after 4 s, 50 after 8, 100 after 16
LITTLE = np.where(TIMES >= 4, 1e-4, 0.0)  # m


def test_gas_given_off_outweighs_a_quarter_of_the_fuel() -> None:
    """The engine burns pi/2 x 100 = 157.1 mg/s, a quarter is 39.27 mg/s. The face is pi/4 x 50^2 = 1963.5 mm2 of a polymer of
    1 mg/mm3, printed half solid, a fifth of which stays as char: 1963.5 x 0.5 x 0.8 = 785.4 mg a millimetre. So
    39.27/785.4 = 0.05 mm/s, which is seen after 8 s. (All solid: 25 um/s, 4 s; no char: 40 um/s, 6.1 s.)"""
    given_off = heat(warming(start=600.0), LITTLE, BURNING)
    ends = time_of_burning_away(conditions(solid_share=0.5), gas(), polymer(char_yield=0.2), given_off)
    assert ends == pytest.approx([8.0])


@pytest.mark.parametrize(("gone_by_16", "ends"), [(3.92e-3, 16.0), (3.90e-3, np.inf)])
def test_crown_is_used_up_when_hardly_any_of_it_is_left(gone_by_16: float, ends: float) -> None:
    """0.98 x 4 mm = 3.92 mm."""
    gone = np.where(TIMES >= 16, gone_by_16, LITTLE)
    slow = np.where(TIMES >= 4, 1e-6, 0.0)
    found = time_of_burning_away(conditions(), gas(), polymer(), heat(warming(start=600.0), gone, slow))
    assert found == pytest.approx([ends], rel=1e-3)


def test_cap_is_let_go_when_the_polymer_beneath_its_hot_centre_decomposes() -> None:
    """The centre is a quarter of the mean's excess over the bore's 400 K hotter: it has the onset's 700 K when the mean has
    (700 + 0.25 x 400)/1.25 = 640 K. Beneath a cap of 1 mm the mean has 540 K after 1 s, 20 K less than the face, and 20 K
    more a doubling: 640 K after 2^5 = 32 s. (Without the hotter centre: not in 128 s.)"""
    crown = stack(cap=0.001, centre_excess=np.array([0.25]))
    ends = time_of_letting_go(conditions(), polymer(), crown, heat(warming(start=560.0, under=20e3)))
    assert ends == pytest.approx([32.0], rel=1e-4)


def test_coating_that_conducts_nothing_sideways_has_no_hotter_centre() -> None:
    """640 K at the joint after 2^5 = 32 s is the onset itself."""
    crown = stack(cap=0.001, groove_in_metal=False)
    ends = time_of_letting_go(
        conditions(), polymer(decomposition_onset=640.0), crown, heat(warming(start=560.0, under=20e3))
    )
    assert ends == pytest.approx([32.0], rel=1e-4)
