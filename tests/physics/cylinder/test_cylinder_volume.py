"""Slider-crank volume and piston speed against Heywood's relations and limits."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.physics.cylinder import volume as geometry


def test_volume_is_that_of_heywood():
    """Heywood 1988, eq. 2.6: V/Vc = 1 + (rc - 1)/2 [R + 1 - cos - sqrt(R^2 - sin^2)] (from memory)."""
    angle = np.linspace(0.0, 4.0 * np.pi, 91)
    ratio, rod = 8.0, 0.070 / 0.020
    expected = 1.0 + 0.5 * (ratio - 1.0) * (rod + 1.0 - np.cos(angle) - np.sqrt(rod**2 - np.sin(angle) ** 2))
    clearance = np.pi / 4 * 0.056**2 * 0.040 / 7.0
    volume = geometry.cylinder_volume(angle, 0.056, 0.040, 0.070, ratio)
    np.testing.assert_allclose(volume / clearance, expected, rtol=1e-12)
    assert volume[0] * 8.0 == pytest.approx(geometry.cylinder_volume(np.pi, 0.056, 0.040, 0.070, ratio))


def test_infinite_rod_is_a_sine():
    assert geometry.piston_travel(np.pi / 3, 0.04, 1e4) == pytest.approx(0.02 * (1 - 0.5), rel=1e-5)


def test_swept_volume_of_the_invented_pump_engine_and_its_piston_speed():
    assert geometry.swept_volume(0.056, 0.040) == pytest.approx(98.5e-6, rel=1e-3)
    angle = np.linspace(0.0, np.pi, 20001)
    travel = geometry.piston_travel(angle, 0.040, 0.070)
    speed = np.abs(np.gradient(travel, angle)) * 2 * np.pi * 50.0
    assert speed.mean() == pytest.approx(4.0, rel=1e-3)


def test_flat_head_ratio_and_scaling():
    assert geometry.flat_head_area_ratio(0.056, 0.040, 8.0) == pytest.approx(1.0 + 4 * 0.04 / 7 / 0.056)
    assert geometry.cylinder_volume(1.0, 3 * 0.056, 3 * 0.04, 3 * 0.07, 8.0) == pytest.approx(
        27.0 * geometry.cylinder_volume(1.0, 0.056, 0.04, 0.07, 8.0)
    )


def test_refusals():
    with pytest.raises(OutOfRange, match=r"compression_ratio is 1\.0"):
        geometry.clearance_volume(1e-4, 1.0)
    with pytest.raises(OutOfRange, match=r"rod_length is 0\.02"):
        geometry.piston_travel(0.0, 0.040, 0.020)
    assert np.isnan(geometry.cylinder_volume(0.0, np.nan, 0.04, 0.07, 8.0))
