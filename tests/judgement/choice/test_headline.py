"""The headline names the best that can be printed, and what would do better on another printer."""

from __future__ import annotations

from dataclasses import replace

import pytest

from screening import Screening, load_case, screen
from screening.judgement.choice.cautions import cautions_of
from screening.judgement.choice.headline import headline_of
from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.stop_rule import stop_rule_of
from screening.judgement.choice.story import Story
from screening.judgement.piston import ends
from screening.records.hazards.cautions import fuel_cautions, material_cautions, work_cautions


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("cyclopentanone_blend"), 30, materials=["pei", "pa66", "abs"])


def test_a_better_material_that_cannot_be_printed_is_named_with_its_times(result: Screening) -> None:
    assert result.material("pei").printability.outcome == CANNOT
    assert "The best, polyamide 66" in result.headline
    assert "Of what this printer cannot print, polyetherimide would do better: half are gone by" in result.headline


def test_a_worse_one_is_not_named(result: Screening) -> None:
    stories = dict(result.stories)
    pei, pa66 = stories["pei"], stories["pa66"]
    assert pa66.standing is not None
    stories["pei"] = replace(pei, standing=replace(pa66.standing, worth=pa66.standing.worth - 1))
    assert "cannot print" not in headline_of(result.case, stories, result.baseline)


def with_lasting(result: Screening, id: str) -> dict[str, Story]:
    """Return the stories as they would be if this material lasted."""
    story = result.material(id)
    assert story.standing is not None
    lasting = replace(story.standing, verdict="lasts", chance_of_lasting=0.97)
    return {**result.stories, id: replace(story, standing=lasting)}


def test_one_that_lasts_is_said_to_last(result: Screening) -> None:
    told = headline_of(result.case, with_lasting(result, "pei"), result.baseline)
    assert "polyetherimide should last (chance 97 %)" in told


def test_where_something_lasts_creep_and_fatigue_are_said_not_to_count(result: Screening) -> None:
    told = headline_of(result.case, with_lasting(result, "abs"), result.baseline)
    assert "Creep and fatigue are not counted" in told
    assert "Creep" not in headline_of(result.case, result.stories, result.baseline)


def test_cautions_are_those_of_what_can_be_printed(result: Screening) -> None:
    told = " ".join(cautions_of(result.case, result.stories))
    only_pei = " ".join(cautions_of(result.case, {"pei": result.material("pei")}))
    assert "hydrogen cyanide" in told
    assert told != only_pei


@pytest.mark.parametrize(("verdict", "word"), [("fails", "fails: half"), ("gamble", "is a gamble: half")])
def test_where_none_is_worth_a_run_there_is_no_time_to_plan_for(result: Screening, verdict: str, word: str) -> None:
    pa66 = result.material("pa66")
    assert pa66.standing is not None
    failing = replace(pa66, standing=replace(pa66.standing, verdict=verdict))
    headline = headline_of(result.case, {"pa66": failing}, result.baseline)
    assert "none is worth a planned run" in headline
    assert f"polyamide 66, {word}" in headline
    rule = stop_rule_of(result.case, {"pa66": failing})
    assert "Do not run it as it stands" in rule
    assert "by the clock" not in rule


def test_a_gamble_above_a_short_run_is_called_what_it_is(result: Screening) -> None:
    """The gamble is worth more, so it stands first; what is good for a short run is named first."""
    abs_, pa66 = result.material("abs"), result.material("pa66")
    assert abs_.standing is not None
    assert pa66.standing is not None
    gamble = replace(abs_, standing=replace(abs_.standing, verdict="gamble"))
    short = replace(pa66, standing=replace(pa66.standing, verdict="short run only"))
    told = headline_of(result.case, {"abs": gamble, "pa66": short}, result.baseline)
    assert "Polyamide 66 is good for a short run" in told
    assert "acrylonitrile butadiene styrene may last longer, yet it is a gamble" in told


def test_what_decides_between_the_leaders_is_told_where_it_does(result: Screening) -> None:
    """Where the crown's gas ends one run in twenty of a leading material, two guesses set the order."""
    pa66, abs_ = result.material("pa66"), result.material("abs")
    assert pa66.standing is not None
    for share, told in ((0.2, True), (0.01, False)):
        shares = ((ends.COLLAPSE, 1 - share), (ends.FLOODING, share))
        flooded = replace(pa66, standing=replace(pa66.standing, shares=shares))
        dry = replace(abs_, standing=replace(pa66.standing, shares=((ends.COLLAPSE, 1.0),)))
        headline = headline_of(result.case, {"pa66": flooded, "abs": dry}, result.baseline)
        assert ("here they are guesses" in headline) is told


def test_a_short_run_has_a_clock(result: Screening) -> None:
    pa66 = result.material("pa66")
    assert pa66.standing is not None
    short = replace(pa66, standing=replace(pa66.standing, verdict="short run only", plan_for=14.0))
    assert "by the clock, after 14 s" in stop_rule_of(result.case, {"pa66": short})


def test_clock_that_nobody_could_keep_is_none(result: Screening) -> None:
    """One in twenty gone by 0.4 s: there is no stopping by the clock, whatever the verdict."""
    pa66 = result.material("pa66")
    assert pa66.standing is not None
    early = replace(pa66.standing, verdict="short run only", plan_for=0.4, holding_plan_for=12.0)
    rule = stop_rule_of(result.case, {"pa66": replace(pa66, standing=early)})
    assert "No clock makes polyamide 66 safe" in rule
    assert "gone by 12 s" in rule
    assert "by the clock" not in rule


def test_start_with_the_throttle_held_is_advised_where_it_is_not_so_already(result: Screening) -> None:
    pa66 = result.material("pa66")
    assert pa66.standing is not None
    short = replace(pa66, standing=replace(pa66.standing, verdict="short run only", plan_for=14.0))
    advice = "Start it with the throttle held nearly shut"
    assert advice in stop_rule_of(result.case, {"pa66": short})
    document = result.case.to_dict()
    document["operation"]["start"] = "held"
    assert advice not in stop_rule_of(load_case(document), {"pa66": short})


def test_each_advice_stands_once_and_no_hazard_is_lost(result: Screening) -> None:
    told = cautions_of(result.case, result.stories)
    rows = [*work_cautions(), *fuel_cautions("ethanol", "cyclopentanone"), *material_cautions("pa66")]
    assert sum("no flame, spark or hot engine near" in caution for caution in told) == 1
    for row in rows:
        (line,) = (caution for caution in told if caution.endswith(f": {row.first_advice}"))
        assert row.hazard.removeprefix("fire: ").removeprefix("health: ") in line
