"""A study of ours: another seed, or fewer draws, leaves the same materials in front."""

from __future__ import annotations

import numpy as np
import pytest

from screening import load_case, screen
from screening.judgement.draws import conditions
from screening.records.tables.assumptions import Assumption

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


def test_two_guesses_decide_which_material_leads_as_the_answer_says(monkeypatch: pytest.MonkeyPatch) -> None:
    """At their harsh end (most of the crown's gas mixed in, the engine soon too rich) another material comes first: the answer says
    that the lead hangs on them."""
    case = load_case("cyclopentanone_blend")
    usual = screen(case, 500, materials=LEADING)
    assert "here they are guesses" in usual.headline
    drawn = conditions.drawn_assumption
    harsh = {"crown_gas_mixed": 0.7, "rich_limit": 1.4}

    def fixed(row: Assumption, n_draw: int, seed: int) -> np.ndarray:
        return np.full(n_draw, harsh[row.name]) if row.name in harsh else drawn(row, n_draw, seed)

    monkeypatch.setattr(conditions, "drawn_assumption", fixed)
    worst = screen(case, 500, materials=LEADING)
    first = next(iter(usual.stories))
    assert usual.material(first).rank == 1
    assert worst.material(first).rank > 1
