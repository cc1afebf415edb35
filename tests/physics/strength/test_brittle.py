"""Brittle crown, pin boss, hot surface and ring land: plate theory by hand, limits, laws, refusals."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.physics.strength.brittle import brittle_limit_pressure, edge_stress
from screening.physics.strength.pin_boss import pin_boss_limit, pin_boss_pressure
from screening.physics.strength.ring_land import ring_land_time
from screening.physics.strength.strength_curve import StrengthCurve

POISSON = 0.37


def test_clamped_edge_has_three_quarters_of_p_r_squared_over_t_squared() -> None:
    """Timoshenko & Woinowsky-Krieger, art. 16 (from memory): 0.75 clamped."""
    assert edge_stress(2e6, 0.02, 0.004) == pytest.approx(0.75 * 2e6 * 25)


def test_even_brittle_plate_is_the_textbook_plate() -> None:
    """An even 60 MPa, 3 GPa plate: p = sigma/(0.75 (R/t)^2), to the trapezium rule on 201 nodes."""
    depth = np.linspace(0.0, 0.005, 201)
    even = np.ones((1, 201))
    found = brittle_limit_pressure(depth, 3e9 * even, 60e6 * even, 0.024, POISSON)
    assert found[0] == pytest.approx(60e6 / (0.75 * (0.024 / 0.005) ** 2), rel=1e-4)
    free = brittle_limit_pressure(depth, 3e9 * even, 60e6 * even, 0.024, POISSON, restraint=0.0)
    assert free[0] == pytest.approx(60e6 / (3 / 8 * 3.37 * (0.024 / 0.005) ** 2), rel=1e-4)


def test_underside_of_a_clamped_plate_is_pulled_at_the_centre() -> None:
    """Timoshenko & Woinowsky-Krieger, art. 16 (from memory): clamped, the centre has (1 + nu)/16 p R^2; with a face that
    yields, the underside decides."""
    depth, strong = np.linspace(0.0, 0.005, 201), np.full((1, 201), 60e6)
    strong[0, :100] = np.inf
    found = brittle_limit_pressure(depth, np.full((1, 201), 3e9), strong, 0.024, POISSON)
    assert found[0] == pytest.approx(60e6 / (6 * 1.37 / 16 * (0.024 / 0.005) ** 2), rel=1e-4)


def test_cold_sound_depth_decides_when_the_top_is_soft() -> None:
    """Top half without stiffness: the plate left is half as thick, so a quarter of the pressure."""
    depth = np.linspace(0.0, 0.006, 1201)
    stiff = np.full((1, 1201, 1), 3e9)
    strong = np.full((1, 1201, 1), 60e6)
    soft = stiff.copy()
    soft[0, :601] = 0.0
    full = brittle_limit_pressure(depth, stiff, strong, 0.024, POISSON)
    left = brittle_limit_pressure(depth, soft, strong, 0.024, POISSON)
    assert left[0, 0] / full[0, 0] == pytest.approx(0.25, rel=0.01)
    assert np.isinf(brittle_limit_pressure(depth, stiff, np.inf * strong, 0.024, POISSON)).all(), (
        "what yields does not crack"
    )
    assert np.isinf(brittle_limit_pressure(depth, 0.0 * stiff, strong, 0.024, POISSON)).all(), (
        "what has no stiffness has no stress"
    )
    soft[0, 5] = np.nan
    assert np.isnan(brittle_limit_pressure(depth, soft, strong, 0.024, POISSON)).all()


def test_brittle_limit_scales_with_strength_and_slenderness() -> None:
    depth = np.linspace(0.0, 0.006, 61)
    stiff = np.linspace(1e9, 3e9, 61)[None]
    strong = np.linspace(20e6, 60e6, 61)[None]
    base = brittle_limit_pressure(depth, stiff, strong, 0.024, POISSON)
    assert brittle_limit_pressure(depth, stiff, 2 * strong, 0.024, POISSON) == pytest.approx(2 * base)
    assert brittle_limit_pressure(depth, 7 * stiff, strong, 0.024, POISSON) == pytest.approx(base), (
        "only the moduli's ratios count"
    )
    assert brittle_limit_pressure(3 * depth, stiff, strong, 3 * 0.024, POISSON) == pytest.approx(base)


def test_pin_boss_by_hand() -> None:
    """2.5 MPa on a 56 mm bore is 6,158 N; two bosses of 13 x 14 mm: 16.9 MPa."""
    assert pin_boss_pressure(2.5e6, 0.056, 0.013, 0.014) == pytest.approx(6157.5 / (2 * 0.013 * 0.014), rel=1e-4)
    limit = pin_boss_limit([60e6, 30e6], 0.056, 0.013, 0.014, 1.2)
    np.testing.assert_allclose(pin_boss_pressure(limit, 0.056, 0.013, 0.014), [72e6, 36e6])


def test_ring_land_is_delayed_by_its_side_cooling() -> None:
    np.testing.assert_allclose(ring_land_time([20.0, np.inf, np.nan], 0.5), [30.0, np.inf, np.nan])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: edge_stress(1e6, 0.02, 0.0), "above 0"),
        (lambda: brittle_limit_pressure([0, 1], [[3e9, 3e9]], [[6e7, 6e7]], 0.02, 0.37, restraint=2.0), "restraint"),
        (lambda: brittle_limit_pressure([0, 1], [[3e9, 3e9]], [[6e7, 6e7]], 0.02, 0.7), "poisson"),
        (lambda: pin_boss_pressure(1e6, 0.05, 0.0, 0.01), "above 0"),
        (lambda: ring_land_time(10.0, -1.0), "side_cooling"),
        (lambda: brittle_limit_pressure([0, 1], [[3e9, 3e9]], [[6e7, 6e7]], 0.0, 0.37), "radius"),
        (lambda: StrengthCurve([300.0, np.inf], [1.0, -2.0]), "0 or more"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
