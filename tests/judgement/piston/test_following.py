"""How far a burning crown is followed, on a made-up crown (`made_up_crown`): on until something has ended it, no further.

The crown warms as in test_collapse.py: it collapses after 16 s, and has 320 K after 1 s.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from judgement.piston.made_up_crown import TIMES, conditions, heat, load, stack, warming

from screening.judgement.piston.following import WINDOW, FollowedRun
from screening.physics.crown.crown_heat import CrownHeat

NEVER = np.array([np.inf])


def followed(until: float) -> CrownHeat:
    """Return the made-up crown's heat as it is computed up to `until` [s]; what comes later is not there yet."""
    temperature = warming()
    temperature[until < TIMES] = np.nan
    return replace(heat(temperature), followed=np.array([until]))


def run(ended_otherwise: np.ndarray = NEVER, shown: int = 0) -> FollowedRun:
    return FollowedRun(conditions(), stack(), load(), ended_otherwise, shown)


def test_crown_that_carries_its_load_is_followed_on() -> None:
    """Computed to 8 s it still stands: on to 1.7 x 8 = 13.6 s, and nothing before 8 s is asked again."""
    going = run()
    assert going.follow(followed(8.0)) == pytest.approx([WINDOW * 8.0])
    assert going.carried == pytest.approx([8.0])
    assert np.isinf(going.collapses[0])


def test_collapsed_crown_is_followed_no_further() -> None:
    going = run()
    going.follow(followed(8.0))
    assert going.follow(followed(32.0)) == pytest.approx([0.0])
    assert going.collapses == pytest.approx([16.0])


@pytest.mark.parametrize(("ended", "wanted"), [(7.0, 0.0), (9.0, WINDOW * 8.0)])
def test_run_that_something_else_ends_is_followed_no_further(ended: float, wanted: float) -> None:
    """A skirt that seizes at 7 s ends what is computed to 8 s; one that seizes at 9 s does not yet."""
    assert run(np.array([ended])).follow(followed(8.0)) == pytest.approx([wanted])


def test_draw_that_is_shown_is_followed_to_the_end_whatever_ends_it() -> None:
    assert run(np.array([1.0]), shown=1).follow(followed(8.0)) == pytest.approx([TIMES[-1]])


def test_crown_that_the_fuel_weakens_is_asked_from_the_start() -> None:
    """With 1.5 of 4 mm lost (2.5/4)^2 of 50 bar are left cold, 19.5, and the start asks 28: it falls at once, though whole
    it had carried its load to 8 s."""
    going = run()
    going.follow(followed(8.0))
    assert going.collapse(heat(warming()), np.array([0.0015])) == pytest.approx([0.0])
    assert going.collapse(heat(warming()), np.zeros(1)) == pytest.approx([16.0])
