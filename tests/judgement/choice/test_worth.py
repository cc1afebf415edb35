"""What lives are worth, the order that follows, and who shares a rank with whom: each answer is reckoned in its test."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from screening.judgement.choice.worth import beaten_share, ordered, ranks, worth

N = 1000
NEVER = np.full(N, np.inf)


def test_worth_of_a_steady_life_is_that_life() -> None:
    """All draws alike: 10 s (e^ln(1 + 37/10) - 1) = 37 s; what outlasts the wanted run is worth the wanted run."""
    assert worth(np.full(N, 37.0), 300.0) == pytest.approx(37.0)
    assert worth(NEVER, 300.0) == pytest.approx(300.0)


def test_worth_of_a_start_that_breaks_one_in_two() -> None:
    """Half at once, half 300 s: the mean of 0 and ln 31 is 1.717, 10 (e^1.717 - 1) = 45.7 s."""
    assert worth(np.repeat([0.0, 300.0], N // 2), 300.0) == pytest.approx(45.68, abs=0.01)


def test_worth_has_no_cliff_where_one_draw_in_twenty_breaks() -> None:
    """49, 50 and 51 of 1,000 that break at once: the fifth percentile falls from 60 s to nothing, the worth by 0.1 s a step.

    A draw is a thousandth of the mean of ln 7 = 1.946: 10 s x 7 x 0.00195 = 0.136 s less each, and a little more slowly.
    """
    lives = [np.where(np.arange(N) < broken, 0.0, 60.0) for broken in (49, 50, 51)]
    steps = -np.diff([worth(life, 300.0) for life in lives])
    assert steps == pytest.approx([0.123, 0.123], abs=0.002)
    assert np.quantile(lives[0], 0.05, method="inverted_cdf") == 60.0
    assert np.quantile(lives[2], 0.05, method="inverted_cdf") == 0.0


def test_one_lucky_draw_lifts_nothing_above_what_lasts_longer() -> None:
    """One draw in a thousand that never ends, against a material that lasts twice as long in all the others."""
    lucky = np.full(N, 4.0)
    lucky[0] = np.inf
    assert ordered([lucky, np.full(N, 8.0)], 300.0) == [1, 0]


def test_who_is_plainly_beaten_stands_below_whatever_the_score() -> None:
    """The first lasts 20 s in 92 of 100 draws and breaks at once in 8; the other 19 s always: a better score (19 s against
    17.5 s), yet it is outlasted in 0.92 of the draws, so it stands below."""
    often = np.where(np.arange(N) < 80, 0.0, 20.0)
    steady = np.full(N, 19.0)
    assert worth(steady, 300.0) > worth(often, 300.0)
    assert beaten_share(steady, often) == pytest.approx(0.92)
    assert ordered([steady, often], 300.0) == [1, 0]


def test_two_are_compared_in_the_same_engine_draw_by_draw() -> None:
    """1, 2, 3, 4 s against 2, 3, 4, 0.5 s in the same four draws: the other lasts longer in three of four, 0.75. (Each sorted
    by itself: longer in none, equal in three, 0.375.)"""
    assert beaten_share(np.array([1.0, 2.0, 3.0, 4.0]), np.array([2.0, 3.0, 4.0, 0.5])) == 0.75


def test_what_breaks_both_at_once_counts_half() -> None:
    """5, 5, 10, 20 s against 5, 5, 20, 10 s: longer in one of four, equal in two: 0.25 + 0.25; neither ever ends: 0.5."""
    assert beaten_share(np.array([5.0, 5.0, 10.0, 20.0]), np.array([5.0, 5.0, 20.0, 10.0])) == 0.5
    assert beaten_share(NEVER, NEVER) == 0.5


def test_a_circle_in_which_each_is_plainly_beaten_stands_by_score() -> None:
    """Eleven materials, each outlasting the next in 10 of 11 draws (0.909), the last the first: nobody is free, and the order
    is that of the scores."""
    base = np.arange(11.0)
    lives = [20.0 + (base + shift) % 11 for shift in range(11)]
    lives[4] = lives[4] + 0.5
    assert all(beaten_share(lives[i], lives[(i + 1) % 11]) > 0.9 for i in range(11))
    assert ordered(lives, 300.0)[0] == 4


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.floats(0, 400), min_size=12, max_size=12), min_size=2, max_size=7))
def test_nobody_stands_above_whom_he_is_plainly_beaten_by(table: list[list[float]]) -> None:
    """Fewer than ten materials make no circle: of all pairs the upper one is never outlasted in 0.9 of the draws."""
    lives = [np.array(row) for row in table]
    places = ordered(lives, 300.0)
    assert sorted(places) == list(range(len(lives)))
    for above, upper in enumerate(places):
        for lower in places[above + 1 :]:
            assert beaten_share(lives[upper], lives[lower]) < 0.9


def _outlasting(share: float) -> np.ndarray:
    """Return lives that outlast a leader of 100 s in `share` of the draws, far longer or far shorter."""
    life = np.full(N, 1.0)
    life[: round(share * N)] = 150.0
    return life


@pytest.mark.parametrize(("share", "shared"), [(0.399, False), (0.4, True), (0.5, True), (0.6, True), (0.601, False)])
def test_ties_at_their_borders(share: float, shared: bool) -> None:
    given_ranks = ranks([np.full(N, 100.0), _outlasting(share)], [0, 0], 300.0, N)
    assert given_ranks == ([1, 1] if shared else [1, 2])


def test_equal_lives_and_never_count_half() -> None:
    assert ranks([NEVER, NEVER, np.full(N, 9.0)], [0, 0, 0], 300.0, N) == [1, 1, 3]


def test_scores_nearer_than_the_draws_can_tell_share_a_rank() -> None:
    """Against a leader of 100 s: longer in 5 of 16 draws, 160 s, shorter in 11, 82 s: no tie by draws (0.3125).

    ln(1 + 160/10) - ln 11 = 0.4353, ln 9.2 - ln 11 = -0.1787: the mean is 0.0132, the deviation 0.2846; of 16 draws the mean is
    good to 0.2846/4 = 0.071, twice that is more than 0.0132: shared. With 10,000 draws of the same the mean is good to 0.0028,
    twice is 0.0057, less than 0.0132: told apart.
    """
    other = np.array([160.0] * 5 + [82.0] * 11)
    leader = np.full(16, 100.0)
    assert beaten_share(leader, other) == pytest.approx(0.3125)
    assert ranks([leader, other], [0, 0], 300.0, 16) == [1, 1]
    assert ranks([leader, other], [0, 0], 300.0, 10_000) == [1, 2]


def test_ranks_are_shared_with_the_groups_leader_only() -> None:
    """A chain of near-ties does not pull everybody up: the fourth is compared with the first."""
    generator = np.random.default_rng(0)
    lives = [generator.normal(100 - 3 * i, 10, N) for i in range(4)]
    given_ranks = ranks(lives, [0] * 4, 300.0, N)
    assert given_ranks[0] == given_ranks[1] == 1
    assert given_ranks[3] > 1


def test_groups_and_unknowns_do_not_mix() -> None:
    assert ranks([NEVER, NEVER, None, None], [0, 1, 2, 2], 300.0, N) == [1, 2, 3, 3]
    assert ranks([], [], 300.0, N) == []
