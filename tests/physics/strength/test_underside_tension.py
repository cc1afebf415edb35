"""Tension at a brittle crown's underside, by bending and by warming: plate theory by hand, limits, laws."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.strength.crown_edge import centre_stress_factor
from screening.physics.strength.underside_tension import tension_of_bending, tension_of_warming

POISSON = 0.37
DEPTH = np.linspace(0.0, 0.006, 1201)[:, None]
EVEN = np.full((1201, 1), 3e9)


@pytest.mark.parametrize(
    ("belt", "height", "expected"),
    [(1.0, 1.0, 6 * 1.37 / 16), (1e-6, 1e-6, 6 * 3.37 / 16)],
    ids=["clamped by a heavy belt", "free on none"],
)
def test_factor_of_the_two_ends_is_the_textbook_plate(belt: float, height: float, expected: float) -> None:
    """Timoshenko & Woinowsky-Krieger, art. 16 (from memory): the centre of a clamped plate has (1 + nu) p R^2/16, that of a
    supported one (3 + nu) p R^2/16; over t^2/6."""
    factor = centre_stress_factor(6e-3, 22e-3, belt, height, 1e-7, POISSON)
    assert float(factor) == pytest.approx(expected, rel=1e-3)


def test_even_plate_is_the_textbook_plate() -> None:
    """3 GPa throughout, to the trapezium rule: c p (R/t)^2 = 0.9 x 2 MPa x (22/6)^2 = 24.2 MPa."""
    assert tension_of_bending(DEPTH, EVEN, 2e6, 0.022, 0.9)[0] == pytest.approx(0.9 * 2e6 * (22 / 6) ** 2, rel=1e-5)


def test_soft_face_leaves_the_bending_to_the_depth_that_is_cold() -> None:
    """The upper half without stiffness: the plate left is half as thick, so the tension is fourfold."""
    soft = np.where(DEPTH < 0.003, 0.0, EVEN)
    whole, left = (tension_of_bending(DEPTH, stiff, 2e6, 0.022, 0.9)[0] for stiff in (EVEN, soft))
    assert left / whole == pytest.approx(4.0, rel=0.01)


def test_only_ratios_of_the_moduli_and_of_the_sizes_bend() -> None:
    graded = 1e9 * (1 + 300 * DEPTH)
    base = tension_of_bending(DEPTH, graded, 2e6, 0.022, 0.9)
    assert tension_of_bending(DEPTH, 7 * graded, 2e6, 0.022, 0.9) == pytest.approx(base)
    assert tension_of_bending(3 * DEPTH, graded, 2e6, 3 * 0.022, 0.9) == pytest.approx(base)
    assert tension_of_bending(DEPTH, graded, 4e6, 0.022, 0.9) == pytest.approx(2 * base)


def test_nothing_left_to_bend_has_no_limit() -> None:
    assert np.isinf(tension_of_bending(DEPTH, 0 * EVEN, 2e6, 0.022, 0.9)).all()


def test_even_warmth_pulls_nothing_but_what_the_belt_keeps_back() -> None:
    """1 % of growth, a quarter kept back, 3 GPa/(1 - 0.37): -0.0025 x 4.762 GPa = -11.9 MPa, a push."""
    grown = np.full_like(EVEN, 0.01)
    assert tension_of_warming(DEPTH, EVEN, grown, 0.0, POISSON)[0] == pytest.approx(0.0, abs=1.0)
    assert tension_of_warming(DEPTH, EVEN, grown, 0.25, POISSON)[0] == pytest.approx(-0.0025 * 3e9 / 0.63, rel=1e-6)


def test_slope_through_the_depth_is_the_slab_kept_flat() -> None:
    """Timoshenko & Goodier 1970, art. 149 (from memory): a slab that stays flat has E/(1 - nu) (mean - local strain). From 0.4 % at
    the face to nothing in a straight line, 3 GPa: 3/0.63 GPa x 0.2 % = 9.52 MPa; a quarter kept back 7.14 MPa."""
    strain = 0.004 * (1 - DEPTH / 0.006)
    assert tension_of_warming(DEPTH, EVEN, strain, 0.0, POISSON)[0] == pytest.approx(9.52e6, rel=1e-3)
    assert tension_of_warming(DEPTH, EVEN, strain, 0.25, POISSON)[0] == pytest.approx(7.14e6, rel=1e-3)


def test_what_is_soft_does_not_pull() -> None:
    """Of the slope above only the colder half is stiff: its mean strain is 0.1 %, so half the tension."""
    strain, stiff = 0.004 * (1 - DEPTH / 0.006), np.where(DEPTH < 0.003, 0.0, EVEN)
    assert tension_of_warming(DEPTH, stiff, strain, 0.0, POISSON)[0] == pytest.approx(4.76e6, rel=5e-3)
