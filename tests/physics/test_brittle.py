"""Brittle crown, pin boss, hot surface and ring land: plate theory by hand, limits, laws, refusals."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.physics.brittle import (
    brittle_limit_pressure,
    edge_stress,
    elastic_moment_factor,
    thermal_stress,
)
from screening.physics.hot_surface import hot_surface_excess
from screening.physics.modulus import ModulusCurve
from screening.physics.pin_boss import pin_boss_limit, pin_boss_pressure
from screening.physics.ring_land import ring_land_time
from screening.physics.strength import StrengthCurve, amorphous_strength

STIFF = ModulusCurve([296.15, 400.0, 420.0], [3e9, 2.4e9, 0.0])
STRONG = amorphous_strength(60e6, 410.0)


def test_clamped_edge_has_three_quarters_of_p_r_squared_over_t_squared() -> None:
    """Timoshenko & Woinowsky-Krieger, art. 16 (from memory): 0.75 clamped; (3/8)(3 + nu) simply supported."""
    assert edge_stress(2e6, 0.02, 0.004) == pytest.approx(0.75 * 2e6 * 25)
    assert edge_stress(2e6, 0.02, 0.004, restraint=0.0) == pytest.approx(3 / 8 * 3.37 * 2e6 * 25)
    assert elastic_moment_factor(1.0, 0.3) == pytest.approx(1 / 8)
    shares = elastic_moment_factor(np.linspace(0, 1, 21))
    assert shares.min() >= 0.37 / 32, "no restraint does away with the moment"


def test_even_brittle_plate_is_the_textbook_plate() -> None:
    """An even 60 MPa, 3 GPa plate: p = sigma/(0.75 (R/t)^2), to the trapezium rule on 201 nodes."""
    depth = np.linspace(0.0, 0.005, 201)
    found = brittle_limit_pressure(depth, np.full((1, 201), 296.15), STRONG, STIFF, 0.024, 380.0)
    assert found[0] == pytest.approx(60e6 / (0.75 * (0.024 / 0.005) ** 2), rel=1e-4)


def test_cold_sound_depth_decides_when_the_top_is_soft() -> None:
    """Top half without stiffness: the plate left is half as thick, so a quarter of the pressure."""
    depth = np.linspace(0.0, 0.006, 1201)
    whole, half = np.full((1, 1201, 1), 296.15), np.full((1, 1201, 1), 296.15)
    half[0, :601] = 450.0
    full = brittle_limit_pressure(depth, whole, STRONG, STIFF, 0.024, 380.0)
    left = brittle_limit_pressure(depth, half, STRONG, STIFF, 0.024, 380.0)
    assert left[0, 0] / full[0, 0] == pytest.approx(0.25, rel=0.01)
    assert np.isinf(brittle_limit_pressure(depth, whole + 200.0, STRONG, STIFF, 0.024, 380.0)).all()
    half[0, 5] = np.nan
    assert np.isnan(brittle_limit_pressure(depth, half, STRONG, STIFF, 0.024, 380.0)).all()


def test_thermal_stress_balances_itself_and_vanishes_for_a_straight_profile() -> None:
    """Exact: a free plate with a straight profile has no stress; held flat,
    E alpha dT/(2 (1 - nu)) at the faces."""
    even = ModulusCurve([296.15, 900.0], [3e9, 3e9])
    depth = np.linspace(0.0, 0.005, 101)
    field = np.stack([np.full(101, 300.0), np.linspace(400.0, 300.0, 101)])
    free = thermal_stress(depth, field, even, 70e-6, held_flat=False)
    np.testing.assert_allclose(free, 0.0, atol=3e3)  # trapezium rule: 1e-4 of the 10 MPa below
    flat = thermal_stress(depth, field, even, 70e-6)
    assert flat[1, 0] == pytest.approx(-3e9 * 70e-6 * 50 / 0.63)
    assert flat[1, -1] == pytest.approx(3e9 * 70e-6 * 50 / 0.63), "tension on the cold underside"
    np.testing.assert_allclose(np.trapezoid(flat, depth, axis=1), 0.0, atol=1.0)


def test_pin_boss_by_hand() -> None:
    """2.5 MPa on a 56 mm bore is 6,158 N; two bosses of 13 x 14 mm: 16.9 MPa."""
    assert pin_boss_pressure(2.5e6, 0.056, 0.013, 0.014) == pytest.approx(6157.5 / (2 * 0.013 * 0.014), rel=1e-4)
    limit = pin_boss_limit([60e6, 30e6], 0.056, 0.013, 0.014, 1.2)
    np.testing.assert_allclose(pin_boss_pressure(limit, 0.056, 0.013, 0.014), [72e6, 36e6])


def test_hot_surface_and_ring_land() -> None:
    np.testing.assert_allclose(hot_surface_excess([850.0, 900.0], 60.0, 900.0), [10.0, 60.0])
    np.testing.assert_allclose(ring_land_time([20.0, np.inf, np.nan], 0.5), [30.0, np.inf, np.nan])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: edge_stress(1e6, 0.02, 0.0), "above 0"),
        (lambda: elastic_moment_factor(2.0), "restraint"),
        (lambda: elastic_moment_factor(1.0, 0.7), "poisson"),
        (lambda: pin_boss_pressure(1e6, 0.05, 0.0, 0.01), "above 0"),
        (lambda: hot_surface_excess(800.0, -1.0, 900.0), "swing"),
        (lambda: ring_land_time(10.0, -1.0), "side_cooling"),
        (lambda: brittle_limit_pressure([0, 1], [[300.0, 300.0]], STRONG, STIFF, 0.0, 380.0), "radius"),
        (lambda: StrengthCurve([300.0, np.inf], [1.0, -2.0]), "0 or more"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
