"""A study of ours: what a brittle plastic stands in bending over what it stands in tension, and how size lowers it."""

from __future__ import annotations

import numpy as np
import pytest

from screening.records.tables.assumptions import load_assumptions

MODULUS = np.array([10.0, 15.0, 20.0, 30.0])
"""Weibull's modulus of filled and unfilled plastics (common practice, no source)."""


def test_drawn_ratio_of_bending_to_tension_is_that_of_weibulls_flaws() -> None:
    """(2 (m + 1)^2)^(1/m) for three-point bending of a bar of one volume: Weil and Daniel 1964 (from memory), Whitney and
    Knight 1980; 1.73, 1.52, 1.40, 1.29. The drawn range holds what m of 10 to 30 gives, to 0.05."""
    ratio = (2 * (MODULUS + 1) ** 2) ** (1 / MODULUS)
    assert ratio == pytest.approx([1.73, 1.52, 1.40, 1.29], abs=0.01)
    row = load_assumptions()["flexural_to_tensile"]
    assert (row.low, row.high) == pytest.approx((ratio[-1], ratio[0]), abs=0.05)
    assert ratio[2] <= row.typical <= ratio[1]


def test_drawn_share_that_size_leaves_is_that_of_weibulls_flaws() -> None:
    """(A/A_bar)^(-1/m), Weibull 1939 (from memory): an underside of 170 mm2 against a test bar's 40 mm2."""
    share = (170 / 40) ** (-1 / MODULUS)
    row = load_assumptions()["brittle_size_share"]
    assert (row.low, row.high) == pytest.approx((share[0], share[-1]), abs=0.01)
    assert share[1] <= row.typical <= share[2]
