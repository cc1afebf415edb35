"""The order of materials, and who shares a rank with whom."""

from __future__ import annotations

import numpy as np
import pytest

from screening.judgement.choice.verdict import FAILS, LASTS, SHORT, Standing, standing

N = 1000
NEVER = np.full(N, np.inf)


def _place(verdict: str, plan_for: float, median: float, chance: float) -> Standing:
    return Standing(verdict, chance, plan_for, median, np.inf, "collapse", 1.0, (("collapse", 1.0),))


def test_order_has_no_hidden_weights() -> None:
    """Verdict, then time to plan for, then median, then chance; what ends at once can be planned for no time at all."""
    best_first = [
        _place(LASTS, 290.0, 400.0, 0.95),  # exactly at the border, where a twentieth of the draws falls short
        _place(SHORT, np.inf, np.inf, 0.94),
        _place(SHORT, 40.0, 50.0, 0.2),
        _place(SHORT, 30.0, 90.0, 0.1),
        _place(SHORT, 30.0, 60.0, 0.3),
        _place(SHORT, 30.0, 60.0, 0.2),
        _place(FAILS, 9.0, 10.0, 0.0),
        _place(FAILS, 0.05, 1.0, 0.9),
        _place(FAILS, 0.01, 3.0, 0.0),
        _place(FAILS, 0.04, 2.0, 0.9),
    ]
    keys = [order_of(place) for place in best_first]
    assert keys == sorted(keys)
    assert len(set(keys)) == len(keys)
    assert order_of(_place(FAILS, 0.01, 2.0, 0.9)) == keys[-1]


def test_a_lucky_draw_lifts_nothing_above_what_lasts_longer() -> None:
    """One draw in a thousand that never ends, against a material that lasts twice as long in all the others."""
    lucky = np.full(N, 4.0)
    lucky[0] = np.inf
    one, other = (standing({"collapse": life}, 300.0) for life in (lucky, np.full(N, 8.0)))
    assert one.chance_of_lasting > other.chance_of_lasting
    assert order_of(other) < order_of(one)


def _outlasting(share: float) -> np.ndarray:
    """Return lives that outlast a leader of 100 s in `share` of the draws."""
    life = np.full(N, 50.0)
    life[: round(share * N)] = 150.0
    return life


@pytest.mark.parametrize(("share", "shared"), [(0.399, False), (0.4, True), (0.5, True), (0.6, True), (0.601, False)])
def test_ties_at_their_borders(share: float, shared: bool) -> None:
    ranks = shared_ranks([np.full(N, 100.0), _outlasting(share)], [0, 0])
    assert ranks == ([1, 1] if shared else [1, 2])


def test_equal_lives_and_never_count_half() -> None:
    assert shared_ranks([NEVER, NEVER, np.full(N, 9.0)], [0, 0, 0]) == [1, 1, 3]


def test_ranks_are_shared_with_the_groups_leader_only() -> None:
    """A chain of near-ties does not pull everybody up: the fourth is compared with the first."""
    generator = np.random.default_rng(0)
    lives = [generator.normal(100 - 3 * i, 10, N) for i in range(4)]
    ranks = shared_ranks(lives, [0] * 4)
    assert ranks[0] == ranks[1] == 1
    assert ranks[3] > 1


def test_what_fails_shares_no_rank_with_what_lasts() -> None:
    """Never ending in all draws or in 85 of 100 is all but a tie draw by draw; the early ends make it fail."""
    fails = NEVER.copy()
    fails[: N * 15 // 100] = 2.0
    assert shared_ranks([NEVER, fails], [(0, LASTS), (0, LASTS)]) == [1, 1]
    assert shared_ranks([NEVER, fails], [(0, LASTS), (0, FAILS)]) == [1, 2]


def test_groups_and_unknowns_do_not_mix() -> None:
    assert shared_ranks([NEVER, NEVER, None, None], [0, 1, 2, 2]) == [1, 2, 3, 3]
    assert shared_ranks([], []) == []
