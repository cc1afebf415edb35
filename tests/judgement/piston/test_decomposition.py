"""When a crown burns away or lets go of its cap, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import TIMES, conditions, gas, heat, polymer, stack, warming

from screening.judgement.piston.decomposition import time_of_burning_through, time_of_flooding, time_of_letting_go
from screening.judgement.piston.stack import face_onset

BURNING = np.where(TIMES >= 4, 6.25e-6 * TIMES, 0.0)  # m/s: 25 um/s after 4 s, 50 after 8, 100 after 16
LITTLE = np.where(TIMES >= 4, 1e-4, 0.0)  # m


def test_engine_stops_when_the_crowns_gas_has_made_the_mixture_too_rich() -> None:
    """The engine burns pi/2 x 100 = 157.1 mg/s at phi 1. Half of the gas meets fresh charge and needs as much air as the fuel,
    so phi 1.5 is reached at 1.0 times the fuel: 157.1 mg/s. The face is pi/4 x 50^2 = 1963.5 mm2 of a polymer of 1 mg/mm3, a
    fifth of which stays as char: 1,571 mg a millimetre. So 0.1 mm/s, which is seen after 16 s. (No char: 80 um/s, 12.5 s;
    against all the gas: 50 um/s, 8 s.)"""
    given_off = heat(warming(start=600.0), LITTLE, BURNING)
    ends = time_of_flooding(conditions(), gas(), polymer(char_yield=0.2), given_off)
    assert ends == pytest.approx([16.0])


def test_gas_of_a_polymer_that_needs_half_the_air_floods_later() -> None:
    """Twice the gas, 0.2 mm/s, after 32 s; printed half solid 0.4 mm/s, after 64 s."""
    given_off = heat(warming(start=600.0), LITTLE, BURNING)
    lean = polymer(char_yield=0.2, air_need_of_gas=4.76)
    assert time_of_flooding(conditions(), gas(), lean, given_off) == pytest.approx([32.0])
    assert time_of_flooding(conditions(solid_share=0.5), gas(), lean, given_off) == pytest.approx([64.0])


def test_an_engine_that_runs_at_the_rich_limit_already_stands_a_little_more() -> None:
    """At phi 1.5 the limit is 1.6: 0.0667/0.5 = 0.1333 of the fuel, 20.94 mg/s, 13.3 um/s: between the looks after 2 and 4 s,
    where the speed rises from 0 to 25 um/s: 2 + 2 x 0.533 = 3.07 s."""
    given_off = heat(warming(start=600.0), LITTLE, BURNING)
    ends = time_of_flooding(conditions(equivalence_ratio=1.5), gas(), polymer(char_yield=0.2), given_off)
    assert 2.0 < ends[0] < 4.0


@pytest.mark.parametrize(("gone_by_16", "ends"), [(3.92e-3, 16.0), (3.90e-3, np.inf)])
def test_crown_is_burned_through_when_hardly_any_of_it_is_left(gone_by_16: float, ends: float) -> None:
    """0.98 x 4 mm = 3.92 mm."""
    gone = np.where(TIMES >= 16, gone_by_16, LITTLE)
    assert time_of_burning_through(conditions(), heat(warming(start=600.0), gone)) == pytest.approx([ends], rel=1e-3)


def test_face_decomposes_hotter_than_a_slow_thermobalance_says() -> None:
    """700 K at 10 K/min and 200 kJ/mol, at 10 K/s: 1/T = 1/700 - 8.314 ln(60)/(1.052 x 200,000) = 1.26676e-3, 789.4 K, 89.4 K
    more. At a steep 60 kJ/mol it would be 1,123 K: the shift is held to 90 K; at the balance's own rate to 40 K."""
    at = {"face_heating_rate": 10.0, "onset_measured_rate": 10 / 60}
    assert face_onset(conditions(**at), polymer()) == pytest.approx([789.4], abs=0.1)
    assert face_onset(conditions(**at), polymer(activation_energy=6e4)) == pytest.approx([790.0])
    assert face_onset(conditions(), polymer()) == pytest.approx([740.0])


def test_cap_is_let_go_when_the_polymer_beneath_its_hot_centre_decomposes() -> None:
    """The centre is a quarter of the mean's excess over the bore's 400 K hotter. Beneath a cap of 1 mm the mean has 540 K after 1 s and
    20 K more a doubling. The centre has the slow onset's 660 K at a mean of (660 + 0.25 x 400)/1.25 = 608 K, between the looks
    after 8 and 16 s, straight in the root of time: (2.828 + 0.4 x 1.172)^2 = 10.87 s; 700 K at 640 K after 32 s. So it warms by
    40/21.13 = 1.89 K/s, 11.36 times as fast as 10 K/min: 1/T = 1/660 - 8.314 ln 11.36/(1.052 x 2e5), 704.7 K, a mean of 643.7 K:
    (5.657 + 0.186 x 2.343)^2 = 37.1 s. (Without the hotter centre: not in 128 s.)"""
    crown = stack(cap=0.001, centre_excess=np.array([0.25]))
    melts = polymer(decomposition_onset=660.0)
    ends = time_of_letting_go(conditions(), melts, crown, heat(warming(start=560.0, under=20e3)))
    assert ends == pytest.approx([37.13], rel=1e-3)


def test_coating_that_conducts_nothing_sideways_has_no_hotter_centre() -> None:
    """600 K at the joint after 8 s, 640 K after 32: 1.667 K/s, ten times as fast as 10 K/min: 1/600 - 8.314 ln 10/(1.052 x 2e5) is
    634.7 K, (4 + 0.733 x 1.657)^2 = 27.2 s."""
    crown = stack(cap=0.001, groove_in_metal=False)
    ends = time_of_letting_go(
        conditions(), polymer(decomposition_onset=600.0), crown, heat(warming(start=560.0, under=20e3))
    )
    assert ends == pytest.approx([27.18], rel=1e-3)
