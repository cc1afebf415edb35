"""Pin boss and ring land by hand, and what they and a strength curve refuse."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.physics.strength.pin_boss import pin_boss_limit, pin_boss_pressure
from screening.physics.strength.ring_land import ring_land_time
from screening.physics.strength.strength_curve import StrengthCurve


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
        (lambda: pin_boss_pressure(1e6, 0.05, 0.0, 0.01), "above 0"),
        (lambda: ring_land_time(10.0, -1.0), "side_cooling"),
        (lambda: StrengthCurve([300.0, np.inf], [1.0, -2.0]), "0 or more"),
    ],
)
def test_refusals_say_what_is_allowed(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
