"""The honest answer first: what a whole screening comes to, in two or three sentences."""

from __future__ import annotations

from collections.abc import Mapping

from screening.judgement.case.case import Case
from screening.judgement.choice.order import NOT_PRINTABLE, group_of, leading
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import FAILS, GAMBLE, LASTS, SHORT, Standing
from screening.judgement.piston import ends
from screening.words import chance, duration, with_and, within

NEAR_THE_TOP = 3
_SOME = 0.05
"""Share of the draws [1] from which it matters that the crown's gas ends the run (the project's choice)."""
NOT_COUNTED = "Creep and fatigue are not counted: take such a piston out and inspect it after every run."
_CROWNS = {
    "all polymer": "with a bare polymer crown",
    "coated crown": "with this coating on the crown",
    "metal cap": "under this metal cap",
    "metal crown on polymer skirt": "under this metal crown",
}


def headline_of(case: Case, stories: Mapping[str, Story], baseline: Story) -> str:
    """Return the honest answer in two or three sentences: can it run, how long at best, how long the metal piston does."""
    can = leading(stories)
    if not can:
        return "None of the materials with known values can be printed on this printer."
    assert baseline.standing is not None
    metal = f"The metal piston lasts (chance {chance(baseline.standing.chance_of_lasting, baseline.life.size)})."
    parts = [_of_the_printable(case, can), _better_elsewhere(can[0], stories), metal, _hangs_on(can[:NEAR_THE_TOP])]
    return " ".join(filter(None, parts))


def _hangs_on(best: list[Story]) -> str:
    """Return the two guesses on which the order of the leading materials hangs, where the crown's gas ends some of their runs."""
    standings = [story.standing for story in best if story.standing]
    if len(standings) < 2 or max(dict(s.shares).get(ends.FLOODING, 0.0) for s in standings) < _SOME:
        return ""
    return (
        "Which material comes first hangs on two numbers that nobody has published, how much of the crown's gas meets fresh charge "
        "and how rich the engine still runs: here they are guesses."
    )


def _of_the_printable(case: Case, can: list[Story]) -> str:
    """Return the best verdict among what can be printed, with its times; `can` comes best first and holds one or more."""
    target = duration(case.operation.target_run)
    best, crown = can[0], _CROWNS[case.piston.build]
    assert best.standing is not None
    lasting, short = (
        [story for story in can if story.standing and story.standing.verdict == verdict] for verdict in (LASTS, SHORT)
    )
    if lasting:
        return f"{len(lasting)} of {len(can)} printable materials should last the wanted {target}: {_names(lasting)}. {NOT_COUNTED}"
    nothing = f"{crown} no printable material lasts the wanted {target}"
    if not short:
        word = "is a gamble" if best.standing.verdict == GAMBLE else "fails"
        return f"No: {nothing}, and none is worth a planned run. The best, {best.material.name}, {word}: {_gone(best.standing)}."
    if best.standing.verdict == SHORT:
        return f"{nothing.capitalize()} with confidence. {_leads(can)} is good for a short run: {_gone(best.standing)}."
    assert short[0].standing is not None
    return (
        f"{nothing.capitalize()} with confidence. {short[0].material.name.capitalize()} is good for a short run: "
        f"{_gone(short[0].standing)}; {best.material.name} may last longer, yet it is a gamble: {_gone(best.standing)}."
    )


def _leads(can: list[Story]) -> str:
    """Return the first material, and how many cannot be told apart from it."""
    level = sum(story.rank == can[0].rank for story in can)
    if level == 1:
        return f"The best, {can[0].material.name},"
    return f"Of the first {level}, which cannot be told apart, {can[0].material.name}"


def _gone(standing: Standing) -> str:
    """Return when half and when one in twenty are gone."""
    return f"half are gone by {duration(standing.median)}, one in twenty {within(standing.plan_for)}"


def _better_elsewhere(best: Story, stories: Mapping[str, Story]) -> str:
    """Return the material that this printer cannot print and that would do better than the best printable one, or nothing."""
    if best.standing is None:
        return ""
    others = [(s, s.standing) for s in stories.values() if s.standing and group_of(s) == NOT_PRINTABLE]
    story, place = max(others, key=lambda pair: pair[1].worth, default=(best, best.standing))
    if place.worth <= best.standing.worth:
        return ""
    if place.verdict in (FAILS, GAMBLE):
        does = f"would last longer, yet it is no more than a gamble: {_gone(place)}"
    elif place.verdict == LASTS:
        does = f"should last (chance {chance(place.chance_of_lasting, story.life.size)})"
    else:
        does = f"would do better: {_gone(place)}"
    return f"Of what this printer cannot print, {story.material.name} {does}."


def _names(stories: list[Story]) -> str:
    names = [story.material.name for story in stories[:NEAR_THE_TOP]]
    return with_and([*names, "others"] if len(stories) > NEAR_THE_TOP else names)
