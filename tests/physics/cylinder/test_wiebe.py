"""Wiebe's burning curve against Heywood's points, and the cycle's burning against the curve."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.cylinder.wiebe import burned_fraction


@pytest.mark.parametrize(("progress", "share"), [(0.276, 0.1), (0.518, 0.5), (0.772, 0.9), (1.0, 0.9933)])
def test_points_of_heywood(progress, share):
    """Heywood 1988, eq. 9.27 with a = 5, m = 2 (from memory): by hand, y = (-ln(1 - x)/5)^(1/3)."""
    assert burned_fraction(-0.3 + 2.0 * progress, -0.3, 2.0, 5.0, 2.0) == pytest.approx(share, rel=5e-3)


def test_shape_and_efficiency_by_hand():
    """x(y = 1/2) = 1 - exp(-6.9/2^4) for a = 6.9, m = 3; a = 6.9 leaves a thousandth unburned."""
    assert burned_fraction(0.5, 0.0, 1.0, 6.9, 3.0) == pytest.approx(0.35030, rel=1e-4)
    assert 1.0 - burned_fraction(1.0, 0.0, 1.0, 6.9, 3.0) == pytest.approx(1e-3, rel=0.01)


def test_nothing_burns_before_the_start_and_nan_stays():
    shares = burned_fraction(np.array([-0.5, -0.3, np.nan]), -0.3, 1.0, 5.0, 2.0)
    np.testing.assert_array_equal(shares, [0.0, 0.0, np.nan])
