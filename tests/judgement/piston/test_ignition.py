"""When glowing char lights the charge, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.piston.made_up_crown import TIMES, conditions, heat, polymer, warming

from screening.judgement.piston.ignition import time_of_surface_ignition

HEAT = heat(warming(start=660.0))


def test_char_glows_when_the_face_and_its_swing_reach_the_hot_spot() -> None:
    """The hot spot needs 800 K; 40 K above its mean in each cycle, the face needs 760 K: 660 K after 1 s, 760 K after
    2^5 = 32 s. (Without the swing: 2^7 = 128 s.)"""
    ends = time_of_surface_ignition(conditions(), polymer(char_yield=0.2), HEAT, np.array([40.0]))
    assert ends == pytest.approx([32.0])


def test_only_char_that_stays_glows() -> None:
    """A fifth of the mass is char, half of which stays: 0.1, above 0.05. Of a char yield of 0.08 0.04 stay, and none where there
    is none."""
    for char, glows in ((0.2, True), (0.08, False)):
        found = time_of_surface_ignition(conditions(), polymer(char_yield=char), HEAT, np.array([40.0]))
        assert np.isfinite(found).tolist() == [glows]
    assert time_of_surface_ignition(conditions(), polymer(), HEAT, np.array([40.0])).tolist() == [np.inf]


def test_crown_that_is_used_up_glows_no_more() -> None:
    """Gone before it has 760 K: after 8 s, at 720 K."""
    field = warming(start=660.0)
    field[TIMES >= 8] = np.nan
    gone = heat(field, np.where(TIMES >= 8, 4e-3, 0.0))
    assert time_of_surface_ignition(conditions(), polymer(char_yield=0.2), gone, np.array([40.0])).tolist() == [np.inf]
