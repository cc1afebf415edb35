"""Uptake in time: half full, smooth and full in the end, depths by hand."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.contact.diffusion import (
    diffusion_at,
    front_depth,
    half_time,
    penetration_depth,
    slab_filled_share,
)


def test_slab_half_time():
    """Half full at D t / l^2 = 0.0492 (Crank 1975, eq. 10.2, from memory)."""
    time = half_time(2e-12, 3e-3)
    assert slab_filled_share(2e-12, time, 3e-3) == pytest.approx(0.5, abs=2e-4)


def test_slab_is_smooth_and_full_in_the_end():
    fourier = np.array([0.00999, 0.01001, 10.0])
    share = slab_filled_share(fourier, 1.0, 1.0)
    assert share[1] - share[0] == pytest.approx(0.0, abs=5e-4)
    assert share[2] == pytest.approx(1.0)


def test_depth_scales():
    assert penetration_depth(4e-12, 100.0) == pytest.approx(2e-5)
    hot = diffusion_at(1e-12, 60e3, 330.0)
    assert hot > 1e-12
    assert diffusion_at(1e-12, 60e3, 296.15) == pytest.approx(1e-12)
    assert front_depth(1e-8, 60.0) == pytest.approx(6e-7)
