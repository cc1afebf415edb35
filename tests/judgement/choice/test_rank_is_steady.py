"""A study of ours: another seed, or fewer draws, leaves the same materials in front."""

from __future__ import annotations

import pytest

from screening import load_case, screen

LEADING = ("ppa", "ppa_cf", "pa66", "pps_gf", "pa6_gf", "pa6", "pps_cf", "pa6_cf", "pps")
"""What stands in front by any seed, and some that follow; no other material of the table comes near the first."""


def _first(draws: int, seed: int) -> set[str]:
    result = screen(load_case("cyclopentanone_blend"), draws, seed=seed, materials=LEADING)
    return {id for id, story in result.stories.items() if story.rank == 1}


@pytest.mark.slow
def test_first_rank_is_the_same_for_nine_seeds_of_ten_or_shared() -> None:
    """The material that stands first most often shares the first rank in nine of ten seeds at 1,000 draws."""
    first = [_first(1000, seed) for seed in range(10)]
    print("\n" + "\n".join(str(sorted(ids)) for ids in first))
    assert max(sum(id in ids for ids in first) for id in LEADING) >= 9


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_first_group_of_250_draws_holds_the_winner_of_1000(seed: int) -> None:
    result = screen(load_case("cyclopentanone_blend"), 1000, seed=seed, materials=LEADING)
    assert next(iter(result.stories)) in _first(250, seed)
