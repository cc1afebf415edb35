"""From times to an order, on a handful of made-up lives: each answer is reckoned in its test."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest
from judgement.piston.made_up_crown import gas, heat, load, material, warming

from screening import load_case, screen
from screening.judgement.choice import one_material
from screening.judgement.choice.joined_run import JoinedRun
from screening.judgement.choice.order import leading, ranked, shared_ranks
from screening.judgement.choice.printability import CANNOT, Printability
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import FAILS, LASTS, SHORT, life_of, standing
from screening.judgement.draws.conditions import draw_conditions
from screening.judgement.piston import ends
from screening.judgement.piston.run import PartRun
from screening.records.materials.materials import load_materials

TWENTY = np.arange(1.0, 21.0)
"""Lives of 1 to 20 s, one a draw."""


def story(name: str, life: list[float] | np.ndarray | None, printable: str = "prints with care") -> Story:
    """Return the story of a made-up material whose crown collapses at these times, 10 s being wanted."""
    times = np.asarray([] if life is None else life, dtype=float)
    place = None if life is None else standing({ends.COLLAPSE: times}, 10.0)
    made = replace(material(), id=name, name=name)
    return Story(made, place, times, {}, None, Printability(printable, ()), MappingProxyType({}), None, (), (), ())


# quantiles, chance and shares


def test_time_to_plan_for_is_outlasted_by_nineteen_of_twenty() -> None:
    """Of 1, 2 ... 20 s the 1st is the 5 % quantile (the 10 % would be the 2nd), the 10th the median, the 19th the 95 %."""
    place = standing({ends.COLLAPSE: TWENTY[::-1]}, 300.0)
    assert (place.plan_for, place.median, place.late) == (1.0, 10.0, 19.0)


def test_run_that_ends_as_the_wanted_time_is_over_has_lasted() -> None:
    """Of 1 to 20 s eleven are 10 s or more: 11/20 = 0.55, not 0.50."""
    assert standing({ends.COLLAPSE: TWENTY}, 10.0).chance_of_lasting == pytest.approx(0.55)


def test_first_end_counts_in_each_draw() -> None:
    """Collapse at 5, 30, 30, never; seizure at 20, 20, 40, never: lives 5, 20, 30, never. Collapse ends two of four, seizure
    one, nothing one."""
    times = {
        ends.COLLAPSE: np.array([5.0, 30.0, 30.0, np.inf]),
        ends.SEIZURE: np.array([20.0, 20.0, 40.0, np.inf]),
    }
    assert life_of(times).tolist() == [5.0, 20.0, 30.0, np.inf]
    place = standing(times, 10.0)
    assert (place.ends_by, place.ends_by_share) == (ends.COLLAPSE, 0.5)
    assert dict(place.shares) == {ends.COLLAPSE: 0.5, ends.SEIZURE: 0.25, "nothing within the horizon": 0.25}
    assert place.chance_of_lasting == 0.75


@pytest.mark.parametrize(("early", "verdict"), [(0, LASTS), (1, LASTS), (2, SHORT)])
def test_nineteen_of_twenty_must_last(early: int, verdict: str) -> None:
    """One draw in twenty may end early, 0.95; with two, at 12 s, 0.90 last and 12 s can be planned for: a short run."""
    life = np.where(np.arange(20) < early, 12.0, 300.0)
    assert standing({ends.COLLAPSE: life}, 300.0).verdict == verdict


@pytest.mark.parametrize(("first", "verdict"), [(10.0, SHORT), (9.9, FAILS)])
def test_short_run_is_worth_ten_seconds_in_nineteen_of_twenty(first: float, verdict: str) -> None:
    """The shortest of twenty is what is planned for."""
    life = np.concatenate([[first], np.full(19, 100.0)])
    assert standing({ends.COLLAPSE: life}, 300.0).verdict == verdict


# ties


def test_draws_are_compared_in_the_same_engine() -> None:
    """The other lasts longer in three of four draws, 0.75: no tie, though the four times are the same in another order."""
    leader, other = np.array([10.0, 20.0, 30.0, 40.0]), np.array([20.0, 30.0, 40.0, 10.0])
    assert shared_ranks([leader, other], [0, 0]) == [1, 2]


def test_what_swaps_places_in_half_of_the_draws_is_a_tie() -> None:
    """Longer in one of four, as long in two, shorter in one: 0.25 + 0.25 = 0.5."""
    leader, other = np.array([10.0, 20.0, 30.0, 40.0]), np.array([11.0, 20.0, 30.0, 39.0])
    assert shared_ranks([leader, other], [0, 0]) == [1, 1]


# the shortlist


def test_what_cannot_be_printed_stands_below_what_can_and_what_is_unknown_below_both() -> None:
    """The best of all cannot be printed, the worst can."""
    stories = [story("a unknown", None), story("b superb", [500.0] * 20, CANNOT), story("c poor", [1.0] * 20)]
    order = ranked(stories)
    assert list(order) == ["c poor", "b superb", "a unknown"]
    assert [s.rank for s in order.values()] == [1, 2, 3]
    assert [s.material.id for s in leading(order)] == ["c poor"]


def test_within_a_group_the_verdict_then_the_time_to_plan_for_decide() -> None:
    """Wanted are 10 s: lasts; fails but for 9 s in the worst of twenty draws; fails at 1 s."""
    lasting, nearly, poor = [20.0] * 20, [9.0] * 20, [1.0] + [9.5] * 19
    order = ranked([story("poor", poor), story("nearly", nearly), story("lasting", lasting)])
    assert list(order) == ["lasting", "nearly", "poor"]


def test_metal_piston_stands_beside_the_polymers_not_among_them() -> None:
    result = screen(load_case("petrol_baseline"), 10, materials=["abs", "pei"])
    assert set(result.materials) == {"abs", "pei"}
    assert result.baseline.material.id == "aluminium"
    assert result.baseline.rank == 0
    assert result.material("aluminium") is result.baseline
    assert "aluminium" not in set(result.shortlist["material"])


# parts of the draws put together


def test_parts_of_the_draws_are_put_together_in_their_order() -> None:
    joined = JoinedRun()
    for start, ends_at in ((1, 2.0), (0, 1.0)):  # a later part may be there sooner
        none, hot = np.zeros(1), heat(warming())
        part = PartRun({ends.COLLAPSE: np.array([ends_at])}, hot, None, load(), none, none, none, None)
        joined.add(part, start)
    assert joined.times[ends.COLLAPSE].tolist() == [1.0, 2.0]


def test_skirt_is_drawn_so_that_one_draw_in_twenty_touches(monkeypatch: pytest.MonkeyPatch) -> None:
    """Free sizes of 49.00, 49.05 ... 50.00 mm, 21 of them: 49.05 mm is the second, the 5 % quantile (the median is 49.50)."""
    drawn: list[float] = []

    def run_polymer(*given: Any) -> None:
        drawn.append(given[5])
        raise InterruptedError

    monkeypatch.setattr(one_material, "skirt_sizes", lambda *_: np.linspace(49.0e-3, 50.0e-3, 21))
    monkeypatch.setattr(one_material, "run_polymer", run_polymer)
    case = load_case("petrol_baseline")
    draws = draw_conditions(case, 21)
    line = one_material.OneMaterial(case, draws, load_materials().get("abs"), 0)
    with pytest.raises(InterruptedError):
        line.run(slice(0, 21), draws, gas(21))
    assert drawn == pytest.approx([49.05e-3])
