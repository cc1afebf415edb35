"""When the crown collapses, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import conditions, heat, load, stack, warming

from screening.judgement.piston.collapse import crown_plate, time_of_collapse
from screening.judgement.piston.load import Load


def test_plate_is_free_within_the_skirts_wall() -> None:
    """50 mm / 2 - 5 mm = 20 mm."""
    plate = crown_plate(conditions())
    assert plate.radius == pytest.approx([0.020])
    assert plate.edge_factor == pytest.approx([10.0])


def test_crown_collapses_when_its_strength_has_fallen_to_ten_times_the_load() -> None:
    """Running asks 25 bar of a crown that carries 0.1 of its strength: 25 MPa is left at 300 + 25/0.25 = 400 K. The crown
    has 320 K after 1 s and 20 K more at each doubling: 400 K after 1 x 2^4 = 16 s. The start, over after 0.5 s, asks 28 bar
    of 0.1 x 50 MPa = 50 bar and is carried."""
    ends = time_of_collapse(conditions(), stack(), heat(warming()), load(), 0.0)
    assert ends == pytest.approx([16.0])


def test_start_ends_a_crown_that_falls_to_its_load_while_the_throttle_is_open() -> None:
    """28 bar need 28 MPa, which is left at 300 + 22/0.25 = 388 K: 3.4 doublings after 1 s, 2^3.4 = 10.56 s. With the throttle
    open for 12 s that ends the run; shut after 10 s, the crown holds 25 bar on to 16 s."""
    draws = conditions(2, start_lasts=[12.0, 10.0])
    both = Load(*(np.full(2, pressure) for pressure in (25e5, 35e5, 28e5)))
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
