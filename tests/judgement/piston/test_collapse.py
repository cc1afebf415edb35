"""When the crown collapses, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from judgement.piston.made_up_crown import conditions, heat, load, stack, warming

from screening.judgement.piston.collapse import time_of_collapse
from screening.judgement.piston.crown_plate import crown_plate
from screening.judgement.piston.load import Load, Start


def test_plate_is_free_within_wall_groove_and_the_clearance_behind_the_ring() -> None:
    """50/2 - (3 + 1.5 + 0.5) = 20 mm; webs leave 0.72 of it, 14.4 mm."""
    sizes = {"skirt_wall": 3e-3, "ring_depth": 1.5e-3, "ring_back_clearance": 0.5e-3}
    assert crown_plate(conditions(**sizes), stack()).radius == pytest.approx([0.020])
    assert crown_plate(conditions(webs_span_share=0.72, **sizes), stack()).radius == pytest.approx([0.0144])


def test_belt_and_wall_hold_what_their_hoop_and_their_bending_carry() -> None:
    """50 MPa x (5 x 10^2/(4 x 20) + 5^2/4) = 50 x 12.5 = 625 N. A groove of 2 mm takes half its depth off a belt of
    25 - 18 = 7 mm: 50 x (6 x 100/(4 x 18) + 6.25) = 729.2 N."""
    assert crown_plate(conditions(), stack()).belt_moment == pytest.approx([625.0])
    assert crown_plate(conditions(ring_depth=2e-3), stack()).belt_moment == pytest.approx([729.17], rel=1e-4)


def test_edge_is_held_less_the_more_the_crown_asks_of_it() -> None:
    """The crown's moment is what carries 100 bar: 100 bar x 20^2 = 4,000 N; over 0.888 that is 4,504 = 6 M + 5.26 min(M, belt).
    A belt of 625 N clamps (M = 400), one of 200 N gives M = (4,504 - 1,052)/6 = 575.3 and k = 4,000/575.3 = 6.953."""
    strong = crown_plate(conditions(), stack())
    weak = replace(strong, belt_moment=np.array([200.0]))
    pressure = np.array([100e5])
    assert strong.at_load(pressure).edge_factor == pytest.approx([10.0])
    assert weak.at_load(pressure).edge_factor == pytest.approx([6.953], rel=1e-3)
    assert weak.limit(np.array([575.3])) == pytest.approx([100e5], rel=1e-3)


def test_crown_collapses_when_its_strength_has_fallen_to_ten_times_the_load() -> None:
    """Running asks 25 bar of a crown that carries 0.1 of its strength: 25 MPa is left at 300 + 25/0.25 = 400 K. The crown
    has 320 K after 1 s and 20 K more at each doubling: 400 K after 1 x 2^4 = 16 s. The start, over after 0.5 s, asks 28 bar
    of 0.1 x 50 MPa = 50 bar and is carried."""
    ends = time_of_collapse(conditions(), stack(), heat(warming()), load(), 0.0)
    assert ends == pytest.approx([16.0])


def test_start_ends_a_crown_that_falls_to_its_load_while_the_throttle_is_open() -> None:
    """28 bar need 28 MPa, which is left at 300 + 22/0.25 = 388 K: 3.4 doublings after 1 s, 2^3.4 = 10.56 s. With the throttle
    open for 12 s that ends the run; shut after 10 s, the crown holds 25 bar on to 16 s."""
    draws = conditions(2)
    start = Start(np.full(2, 35e5), np.full(2, 28e5), np.array([12.0, 10.0]))
    both = Load(np.full(2, 25e5), (start,), start)
    ends = time_of_collapse(draws, stack(2), heat(warming() * np.ones(2)), both, 0.0)
    assert ends == pytest.approx([2**3.4, 16.0])


def test_depth_that_the_fuel_has_softened_carries_nothing() -> None:
    """1 of 4 mm lost leaves (3/4)^2 of the moment: 0.05625 of the strength. 25 bar then need 44.44 MPa, left at
    300 + 5.556/0.25 = 322.2 K: 0.1111 doublings after 1 s, 1.080 s."""
    ends = time_of_collapse(conditions(), stack(), heat(warming()), load(flow=2e6), np.array([0.001]))
    assert ends == pytest.approx([2 ** (1 / 9)], rel=1e-6)


def test_layers_that_only_lie_on_each_other_add_their_moments() -> None:
    """A cap of 1 mm with 200 MPa carries 200 x 1/4 = 50 N, the 3 mm beneath with s MPa carry s 9/4 N; k/R^2 = 0.025/mm2 of the
    sum meets a load of 2.5 MPa at 100 N: s = 22.22 MPa, left at 300 + 27.78/0.25 = 411.1 K, 4.556 doublings, 23.52 s."""
    ends = time_of_collapse(conditions(), stack(cap=0.001), heat(warming()), load(), 0.0)
    assert ends == pytest.approx([2 ** (41 / 9)], rel=1e-6)
