"""Verdicts at their borders, and times that never come."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from screening.errors import OutOfRange
from screening.judgement.choice.verdict import (
    FAILS,
    GAMBLE,
    LASTS,
    SHORT,
    chance_range,
    life_of,
    on_the_line,
    standing,
)
from screening.judgement.piston.load import StartOutcome

N = 1000
NEVER = np.full(N, np.inf)


START = StartOutcome(np.full(N, 1.0), np.zeros(N, dtype=bool))
"""A start of one second; held, it breaks nothing."""


def _times(share_reaching: float, short_share: float, target: float = 300.0) -> dict[str, np.ndarray]:
    """Return lives of which a share reaches the wanted run, a share (all of those among them) 10 s, the rest 5 s."""
    place = np.arange(N)
    life = np.where(place < round(share_reaching * N), target, np.where(place < round(short_share * N), 10.0, 5.0))
    return {"collapse": life, "seizure": NEVER}


@pytest.mark.parametrize(
    ("share", "short", "verdict"),
    [
        (1.0, 1.0, LASTS),
        (0.95, 0.95, LASTS),  # exactly at the border
        (0.949, 0.949, SHORT),
        (0.0, 0.8, SHORT),  # exactly ten seconds in exactly four of five
        (0.0, 0.799, GAMBLE),
        (0.0, 0.5, GAMBLE),
        (0.0, 0.499, FAILS),
        (0.4, 0.4, FAILS),
    ],
)
def test_verdict_borders(share: float, short: float, verdict: str) -> None:
    place = standing(_times(share, short), 300.0, START)
    assert place.verdict == verdict
    assert place.chance_of_lasting == pytest.approx(share)
    assert place.chance_of_short_run == pytest.approx(short)


def test_wanted_run_under_ten_seconds_is_the_short_run() -> None:
    """Of 5 s wanted, 5 s is reached by all."""
    assert standing(_times(0.0, 0.0), 5.0, START).verdict == LASTS


def test_start_and_what_holds_are_told_apart() -> None:
    """Of 1,000 draws 100 end within the 1 s of their start; the other 900 last 20 s (45 of them, one in twenty) and 40 s."""
    life = np.concatenate([np.full(100, 0.5), np.full(45, 20.0), np.full(855, 40.0)])
    held = np.arange(N) < 30
    place = standing({"collapse": life}, 300.0, StartOutcome(np.full(N, 1.0), held))
    assert (place.start_breaks, place.held_start_breaks) == (pytest.approx(0.1), pytest.approx(0.03))
    assert (place.holding_plan_for, place.holding_median) == (20.0, 40.0)
    assert place.plan_for == 0.5


def test_nothing_is_said_of_what_holds_where_the_start_breaks_all() -> None:
    place = standing({"collapse": np.zeros(N)}, 300.0, START)
    assert place.start_breaks == 1.0
    assert np.isnan(place.holding_plan_for)
    assert np.isnan(place.holding_median)


@pytest.mark.parametrize(
    ("lasting", "short", "draws", "line"),
    [
        (0.0, 0.81, 250, True),  # 0.766 to 0.847 holds 0.8
        (0.0, 0.81, 10_000, False),  # 0.804 to 0.816 does not
        (0.0, 0.65, 250, False),  # 0.599 to 0.698: between 0.5 and 0.8
        (0.0, 0.52, 250, True),
        (0.96, 0.97, 250, True),  # 0.934 to 0.976 holds 0.95
        (1.0, 1.0, 250, False),  # from 0.989 on
        (0.0, 0.0, 250, False),
    ],
)
def test_on_the_line_where_so_few_draws_leave_the_verdict_open(
    lasting: float, short: float, draws: int, line: bool
) -> None:
    """Wilson's 90 % interval about the share that the draws show, (2 n p + z^2 +- z sqrt(z^2 + 4 n p q))/(2 (n + z^2))."""
    assert on_the_line(lasting, short, draws) is line


def test_range_of_a_chance_against_scipy() -> None:
    """The same interval by scipy.stats.binomtest, method wilson."""
    low, high = chance_range(0.81, 1000)
    known = stats.binomtest(810, 1000).proportion_ci(0.9, method="wilson")
    assert (low, high) == pytest.approx((known.low, known.high), abs=1e-4)


def test_percentiles_are_order_statistics_and_inf_is_allowed() -> None:
    life = np.arange(1.0, N + 1)
    life[600:] = np.inf
    found = standing({"collapse": np.random.default_rng(0).permutation(life)}, 300.0, START)
    assert (found.plan_for, found.median, found.late) == (50.0, 500.0, np.inf)
    assert found.ends_by == "collapse"
    assert dict(found.shares) == pytest.approx({"collapse": 0.6, "nothing within the horizon": 0.4})


def test_what_never_ends_lasts_and_nothing_ends_it() -> None:
    found = standing({"collapse": NEVER, "seizure": NEVER}, 300.0, START)
    assert found.verdict == LASTS
    assert found.plan_for == np.inf
    assert found.ends_by == "nothing within the horizon"
    assert found.shares == (("nothing within the horizon", 1.0),)


def test_the_first_mechanism_ends_the_run() -> None:
    collapse, seizure = np.full(N, 30.0), np.full(N, 40.0)
    seizure[:300] = 20.0
    found = standing({"seizure": seizure, "collapse": collapse}, 300.0, START)
    assert found.ends_by == "collapse"
    assert found.ends_by_share == pytest.approx(0.7)
    assert sum(share for _, share in found.shares) == pytest.approx(1.0)
    assert np.array_equal(life_of({"a": seizure, "b": collapse}), np.minimum(seizure, collapse))


def test_a_time_that_is_no_number_does_not_pass_for_never() -> None:
    broken = NEVER.copy()
    broken[3] = np.nan
    with pytest.raises(OutOfRange, match="times: seizure gives no number"):
        standing({"collapse": NEVER, "seizure": broken}, 300.0, START)
