"""How the mechanisms read a crown's heat, on a made-up crown (`made_up_crown`): each answer is reckoned in its test."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from judgement.piston.made_up_crown import DEPTH, TIMES, heat, load, polymer, stack, warming

from screening.judgement.piston.hot_crown import (
    CARRIES_NOTHING,
    carried_temperature,
    first_outgrown,
    first_reached,
    softened_depth,
)

ALL = slice(0, 1)
RISING = np.log2(np.maximum(TIMES, 0.5))[:, None]
"""-1 at the start, then 0, 1, 2 ... 7: even from look to look."""


def burned_to(depth: float, since: float) -> tuple[np.ndarray, np.ndarray]:
    """Return a temperature that is unknown down to `depth` [m] from `since` [s] on, and the recession that says why."""
    field = warming(start=320.0)
    field[(TIMES[:, None] >= since) & (depth > DEPTH)] = np.nan
    return field, np.where(since <= TIMES, depth, 0.0)


def test_polymer_is_soft_as_deep_as_it_is_hotter_than_its_softening() -> None:
    """The face has 420 K after 2^5 = 32 s and 20 K less each mm: 1 mm is above 400 K; after 64 s 2 mm, after 16 s nothing."""
    warm = heat(warming(start=320.0, under=20e3))
    depth = softened_depth(polymer(softening=400.0), stack(), warm, carried_temperature(warm, ALL), ALL)[:, 0]
    after = dict(zip(TIMES.tolist(), (1e3 * depth).tolist(), strict=True))
    assert (after[16.0], after[32.0], after[64.0]) == pytest.approx((0.0, 1.0, 2.0), abs=0.011)


def test_cap_does_not_soften() -> None:
    """Of the upper 2 mm, above 400 K after 64 s, 1 mm is metal."""
    warm = heat(warming(start=320.0, under=20e3))
    depth = softened_depth(polymer(softening=400.0), stack(cap=0.001), warm, carried_temperature(warm, ALL), ALL)[:, 0]
    assert 1e3 * depth[TIMES == 64.0] == pytest.approx([1.0], abs=0.011)


def test_what_has_burned_away_is_soft_and_carries_nothing() -> None:
    """1 mm gone after 8 s, at 380 K where 400 K soften: 1 mm. Before, nothing is."""
    field, gone = burned_to(0.001, since=8.0)
    burned = heat(field, gone)
    hot = carried_temperature(burned, ALL)
    assert np.all(hot[TIMES == 8.0][:, DEPTH < 0.001] == CARRIES_NOTHING)
    depth = softened_depth(polymer(softening=400.0), stack(), burned, hot, ALL)[:, 0]
    assert 1e3 * depth[TIMES == 8.0] == pytest.approx([1.0], abs=0.011)
    assert depth[TIMES == 4.0] == pytest.approx([0.0])


def test_what_is_unknown_without_having_burned_stays_unknown() -> None:
    field, _ = burned_to(0.001, since=8.0)
    assert np.isnan(carried_temperature(heat(field), ALL)[TIMES == 8.0][:, DEPTH < 0.001]).all()


def test_what_was_not_followed_is_not_asked() -> None:
    """4.5 doublings, 2^4.5 = 22.6 s; of a draw that was followed to 16 s only, never."""
    warm = heat(warming())
    assert first_reached(warm, RISING - 4.5) == pytest.approx([2**4.5])
    assert first_reached(replace(warm, followed=np.array([16.0])), RISING - 4.5).tolist() == [np.inf]


def test_limit_is_outgrown_when_it_has_fallen_to_the_running_load() -> None:
    """A limit of 5 MPa that loses 0.5 MPa a doubling meets 2.5 MPa after 5, 32 s; one that begins at 2.5 MPa at once."""
    warm, running = heat(warming()), load(2.5e6)
    assert first_outgrown(warm, 5e6 - 0.5e6 * RISING, running) == pytest.approx([32.0])
    assert first_outgrown(warm, np.full((TIMES.size, 1), 2.5e6), running).tolist() == [0.0]
