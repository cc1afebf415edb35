"""When pin bosses and crown seat yield, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import TIMES, conditions, heat, load, polymer, stack, warming

from screening.judgement.piston.pin_boss_and_seat import time_of_pin_boss_yielding, time_of_seat_yielding

COLD_SKIRT = np.full((TIMES.size, 1), 300.0)


def test_two_bosses_carry_the_pressure_over_the_bore_and_are_as_warm_as_the_underside() -> None:
    """The pin, 10 mm thick, bears on 30 mm of boss, 15 on either side: 300 mm2 under pi/4 x 50^2 = 1963.5 mm2 of bore. At
    440 K 15 MPa are left, 1.2 times as much where the boss holds the pin: 15 x 1.2 x 300/1963.5 = 2.7502 MPa. The underside,
    20 K colder than the face, has 320 K after 1 s and 440 K after 2^6 = 64 s."""
    under = heat(warming(start=340.0, under=5e3))
    ends = time_of_pin_boss_yielding(conditions(), polymer(), stack(), under, COLD_SKIRT, load(2.7503e6))
    assert ends == pytest.approx([64.0], rel=2e-3)


def test_bosses_that_cannot_carry_the_load_cold_yield_at_once() -> None:
    """50 MPa x 1.2 x 300/1963.5 = 9.17 MPa is all they carry at 300 K."""
    for running, ends in ((9.1e6, False), (9.2e6, True)):
        found = time_of_pin_boss_yielding(conditions(), polymer(), stack(), heat(warming()), COLD_SKIRT, load(running))
        assert (found == 0).tolist() == [ends]


def test_bosses_that_carry_the_run_yield_under_the_start() -> None:
    """9.17 MPa cold, as above: 2.5 MPa running and 9.2 at the start, over the gain for short strokes; 9.1 hold."""
    for flow, ends in ((9.1e6, False), (9.2e6, True)):
        found = time_of_pin_boss_yielding(
            conditions(), polymer(), stack(), heat(warming()), COLD_SKIRT, load(flow=flow)
        )
        assert (found == 0).tolist() == [ends]


def test_bosses_of_a_skirt_under_a_metal_crown_are_as_warm_as_the_skirt() -> None:
    """The skirt has 440 K after 16 s, whatever the crown has."""
    skirt = np.interp(TIMES, [0.0, 16.0, 128.0], [300.0, 440.0, 440.0])[:, None]
    crown = stack(cap=0.003, on_skirt=True)
    hot = heat(warming(start=600.0))
    ends = time_of_pin_boss_yielding(conditions(), polymer(), crown, hot, skirt, load(2.7503e6))
    assert ends == pytest.approx([16.0], rel=2e-3)


def test_seat_is_the_walls_end_and_as_warm_as_the_metals_rim() -> None:
    """The wall's end is 1 - (20/25)^2 = 0.36 of the bore's area. The metal has 480 K after 2^6 = 64 s; its centre is a quarter
    of that above the bore's 400 K hotter, its rim as much colder: 480 - 0.25 x 80 = 460 K, where 10 MPa are left:
    10 x 1.2 x 0.36 = 4.32 MPa. (At the mean's 480 K it would be 2.16 MPa.)"""
    crown = stack(cap=0.003, on_skirt=True, centre_excess=np.array([0.25]))
    ends = time_of_seat_yielding(conditions(), polymer(), crown, heat(warming(start=360.0)), load(4.32e6))
    assert ends == pytest.approx([64.0])


def test_rim_of_a_metal_that_is_colder_than_the_bore_is_no_warmer_than_its_mean() -> None:
    """At 300 K, below the bore's 400 K, 50 x 1.2 x 0.36 = 21.6 MPa are carried."""
    crown = stack(cap=0.003, on_skirt=True, centre_excess=np.array([0.25]))
    for running, at_once in ((21.5e6, False), (21.7e6, True)):
        found = time_of_seat_yielding(conditions(), polymer(), crown, heat(warming()), load(running))
        assert (found == 0).tolist() == [at_once]
