"""The melting point of crystals in a liquid falls as it should."""

from __future__ import annotations

import numpy as np
import pytest

from screening.physics.contact.crystals import melting_point_in_liquid


def test_crystals_melt_lower_in_better_and_smaller_liquids():
    points = melting_point_in_liquid(411.0, 2.9e8, np.array([60e-6, 120e-6, 1.0]), 0.3)
    assert (np.diff(points) > 0).all()
    assert points[-1] == pytest.approx(411.0, abs=0.1)
    assert melting_point_in_liquid(411.0, 2.9e8, 1e-4, 3.0) == pytest.approx(411.0)
