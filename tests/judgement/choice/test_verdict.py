"""Verdicts at their borders, and times that never come."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import OutOfRange
from screening.judgement.choice.verdict import FAILS, LASTS, SHORT, life_of, standing

N = 1000
NEVER = np.full(N, np.inf)


def _times(share_reaching: float, early: float, target: float = 300.0) -> dict[str, np.ndarray]:
    times = np.full(N, target)
    times[: N - round(share_reaching * N)] = early
    return {"collapse": times, "seizure": NEVER}


@pytest.mark.parametrize(
    ("share", "early", "verdict"),
    [
        (1.0, 0.0, LASTS),
        (0.95, 1.0, LASTS),  # exactly at the border
        (0.949, 1.0, FAILS),
        (0.949, 10.0, SHORT),  # exactly ten seconds
        (0.949, 9.999, FAILS),
        (0.0, 299.999, SHORT),
        (0.0, 0.0, FAILS),
    ],
)
def test_verdict_borders(share: float, early: float, verdict: str) -> None:
    found = standing(_times(share, early), 300.0)
    assert found.verdict == verdict
    assert found.chance_of_lasting == pytest.approx(share)


def test_percentiles_are_order_statistics_and_inf_is_allowed() -> None:
    life = np.arange(1.0, N + 1)
    life[600:] = np.inf
    found = standing({"collapse": np.random.default_rng(0).permutation(life)}, 300.0)
    assert (found.plan_for, found.median, found.late) == (50.0, 500.0, np.inf)
    assert found.ends_by == "collapse"
    assert dict(found.shares) == pytest.approx({"collapse": 0.6, "nothing within the horizon": 0.4})


def test_what_never_ends_lasts_and_nothing_ends_it() -> None:
    found = standing({"collapse": NEVER, "seizure": NEVER}, 300.0)
    assert found.verdict == LASTS
    assert found.plan_for == np.inf
    assert found.ends_by == "nothing within the horizon"
    assert found.shares == (("nothing within the horizon", 1.0),)


def test_the_first_mechanism_ends_the_run() -> None:
    collapse, seizure = np.full(N, 30.0), np.full(N, 40.0)
    seizure[:300] = 20.0
    found = standing({"seizure": seizure, "collapse": collapse}, 300.0)
    assert found.ends_by == "collapse"
    assert found.ends_by_share == pytest.approx(0.7)
    assert sum(share for _, share in found.shares) == pytest.approx(1.0)
    assert np.array_equal(life_of({"a": seizure, "b": collapse}), np.minimum(seizure, collapse))


def test_a_time_that_is_no_number_does_not_pass_for_never() -> None:
    broken = NEVER.copy()
    broken[3] = np.nan
    with pytest.raises(OutOfRange, match="times: seizure gives no number"):
        standing({"collapse": NEVER, "seizure": broken}, 300.0)
