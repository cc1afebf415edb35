"""From times to an order, on a handful of made-up lives: each answer is reckoned in its test."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest
from judgement.piston.made_up_crown import heat, load, material, warming

from screening import load_case, screen
from screening.judgement.choice import one_material
from screening.judgement.choice.joined_run import JoinedRun
from screening.judgement.choice.order import leading, ranked
from screening.judgement.choice.printability import CANNOT, Printability
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import FAILS, GAMBLE, LASTS, SHORT, Standing, life_of, standing
from screening.judgement.draws.conditions import draw_conditions
from screening.judgement.piston import ends
from screening.judgement.piston.load import StartOutcome
from screening.judgement.piston.run import PartRun
from screening.judgement.piston.seizure import SkirtFit
from screening.records.materials.materials import load_materials

TWENTY = np.arange(1.0, 21.0)
"""Lives of 1 to 20 s, one a draw."""


def stood(times: dict[str, np.ndarray], wanted: float) -> Standing:
    """Return the standing of a material whose start breaks nothing."""
    draws = next(iter(times.values())).size
    return standing(times, wanted, StartOutcome(np.zeros(draws) - 1, np.zeros(draws, dtype=bool)))


def story(name: str, life: list[float] | np.ndarray | None, printable: str = "prints with care") -> Story:
    """Return the story of a made-up material whose crown collapses at these times, 10 s being wanted."""
    times = np.asarray([] if life is None else life, dtype=float)
    place = None if life is None else stood({ends.COLLAPSE: times}, 10.0)
    made = replace(material(), id=name, name=name)
    return Story(made, place, times, {}, None, Printability(printable, ()), MappingProxyType({}), None, (), (), ())


# quantiles, chance and shares


def test_time_to_plan_for_is_outlasted_by_nineteen_of_twenty() -> None:
    """Of 1, 2 ... 20 s the 1st is the 5 % quantile (the 10 % would be the 2nd), the 10th the median, the 19th the 95 %."""
    place = stood({ends.COLLAPSE: TWENTY[::-1]}, 300.0)
    assert (place.plan_for, place.median, place.late) == (1.0, 10.0, 19.0)


def test_run_that_ends_as_the_wanted_time_is_over_has_lasted() -> None:
    """Of 1 to 20 s eleven are 10 s or more: 11/20 = 0.55, not 0.50."""
    assert stood({ends.COLLAPSE: TWENTY}, 10.0).chance_of_lasting == pytest.approx(0.55)


def test_first_end_counts_in_each_draw() -> None:
    """Collapse at 5, 30, 30, never; seizure at 20, 20, 40, never: lives 5, 20, 30, never. Collapse ends two of four, seizure
    one, nothing one."""
    times = {
        ends.COLLAPSE: np.array([5.0, 30.0, 30.0, np.inf]),
        ends.SEIZURE: np.array([20.0, 20.0, 40.0, np.inf]),
    }
    assert life_of(times).tolist() == [5.0, 20.0, 30.0, np.inf]
    place = stood(times, 10.0)
    assert (place.ends_by, place.ends_by_share) == (ends.COLLAPSE, 0.5)
    assert dict(place.shares) == {ends.COLLAPSE: 0.5, ends.SEIZURE: 0.25, "nothing within the horizon": 0.25}
    assert place.chance_of_lasting == 0.75


@pytest.mark.parametrize(("early", "verdict"), [(0, LASTS), (1, LASTS), (2, SHORT)])
def test_nineteen_of_twenty_must_last(early: int, verdict: str) -> None:
    """One draw in twenty may end early, 0.95; with two, at 12 s, 0.90 last: a short run, which all reach."""
    life = np.where(np.arange(20) < early, 12.0, 300.0)
    assert stood({ends.COLLAPSE: life}, 300.0).verdict == verdict


@pytest.mark.parametrize(("early", "verdict"), [(4, SHORT), (5, GAMBLE), (10, GAMBLE), (11, FAILS)])
def test_short_run_is_ten_seconds_in_sixteen_of_twenty_a_gamble_in_ten(early: int, verdict: str) -> None:
    """0.8 of twenty are sixteen, 0.5 ten."""
    life = np.where(np.arange(20) < early, 9.9, 100.0)
    assert stood({ends.COLLAPSE: life}, 300.0).verdict == verdict


# the shortlist


def test_what_cannot_be_printed_stands_below_what_can_and_what_is_unknown_below_both() -> None:
    """The best of all cannot be printed, the worst can."""
    stories = [story("a unknown", None), story("b superb", [500.0] * 20, CANNOT), story("c poor", [1.0] * 20)]
    order = ranked(stories, 10.0, 20)
    assert list(order) == ["c poor", "b superb", "a unknown"]
    assert [s.rank for s in order.values()] == [1, 2, 3]
    assert [s.material.id for s in leading(order)] == ["c poor"]


def test_within_a_group_the_worth_decides_and_the_verdict_is_a_word() -> None:
    """Wanted are 10 s, twenty draws. The steady one: 9.4 s always, worth 9.4 s: it fails at lasting 10 s. The lucky one: 10 s and more
    in eleven draws, 0.5 s in nine: (11 ln 2 + 9 ln 1.05)/20 = 0.4032, 10 (e^0.4032 - 1) = 4.97 s: it has a gamble's chance."""
    steady, lucky = story("steady", [9.4] * 20), story("lucky", [20.0] * 11 + [0.5] * 9)
    order = ranked([lucky, steady], 10.0, 20)
    assert list(order) == ["steady", "lucky"]
    assert [s.standing.verdict for s in order.values() if s.standing] == [FAILS, GAMBLE]
    assert lucky.standing is not None
    assert lucky.standing.worth == pytest.approx(4.97, abs=0.01)


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
        outcome = StartOutcome(np.array([ends_at / 4]), np.array([start == 0]))
        part = PartRun({ends.COLLAPSE: np.array([ends_at])}, hot, None, load(), none, none, none, outcome)
        joined.add(part, start)
    assert joined.times[ends.COLLAPSE].tolist() == [1.0, 2.0]
    assert joined.start.lasts.tolist() == [0.25, 0.5]
    assert joined.start.held_breaks.tolist() == [True, False]


@pytest.mark.parametrize(
    ("late", "wanted", "until"), [(17.0, 300.0, 17.0), (900.0, 300.0, 300.0), (np.inf, 60.0, 60.0)]
)
def test_skirt_is_sized_for_the_wanted_run_or_what_one_in_twenty_outlasts(
    late: float, wanted: float, until: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twenty-one draws of which the 95 % quantile ends at `late`; free sizes of 49.00, 49.05 ... 50.00 mm: 49.05 mm is the second,
    the 5 % quantile (the median is 49.50), and with that one it is asked when the skirt seizes."""
    asked: dict[str, Any] = {}
    sizes = np.linspace(49.0e-3, 50.0e-3, 21)

    def skirt_sizes(*given: Any) -> np.ndarray:
        asked["until"] = given[-1]
        return sizes

    def skirt_fit(*given: Any) -> SkirtFit:
        asked["drawn"] = given[-1]
        return SkirtFit(np.full(21, np.inf), np.full(21, np.inf))

    monkeypatch.setattr(one_material, "skirt_sizes", skirt_sizes)
    monkeypatch.setattr(one_material, "skirt_fit", skirt_fit)
    document = load_case("petrol_baseline").to_dict()
    document["operation"]["target_run_s"] = wanted
    case = load_case(document)
    line = one_material.OneMaterial(case, draw_conditions(case, 21), load_materials().get("abs"), 0)
    life = np.where(np.arange(21) < 20, late, 2000.0)
    monkeypatch.setattr(line._run, "_times", {0: {ends.COLLAPSE: life}})
    assert line._fitted_skirt() == pytest.approx((49.05e-3, 49.5e-3, 49.95e-3))
    assert asked == {"until": pytest.approx(until), "drawn": pytest.approx(49.05e-3)}
