"""The honest answer first: what a whole screening comes to, and what can hurt."""

from __future__ import annotations

from collections.abc import Mapping

from screening.judgement.case.case import Case
from screening.judgement.choice.ranking import FAILS, LASTS, SHORT, order_of
from screening.judgement.choice.shortlist import NOT_PRINTABLE, group_of, leading
from screening.judgement.choice.story import Story
from screening.records.hazards.cautions import fuel_cautions, material_cautions, told_once, work_cautions
from screening.words import AT_ONCE, chance, duration, listed, percent

NEAR_THE_TOP = 3
NOT_COUNTED = "Creep and fatigue are not counted: take such a piston out and inspect it after every run."
_CROWNS = {
    "all polymer": "with a bare polymer crown",
    "coated crown": "with this coating on the crown",
    "metal cap": "under this metal cap",
    "metal crown on polymer skirt": "under this metal crown",
}


def headline_of(case: Case, stories: Mapping[str, Story], baseline: Story) -> str:
    """Return two or three sentences: can it run at all, how long at best, and what the metal piston does."""
    can = leading(stories)
    if not can:
        return "None of the materials with known values can be printed on this printer."
    target = duration(case.operation.target_run)
    lasting = [s for s in can if s.standing and s.standing.verdict == LASTS]
    short = [s for s in can if s.standing and s.standing.verdict == SHORT]
    best, crown = can[0], _CROWNS[case.piston.build]
    assert best.standing is not None
    if lasting:
        text = f"{len(lasting)} of {len(can)} printable materials should last the wanted {target}: {_names(lasting)}. {NOT_COUNTED}"
    elif short:
        text = (
            f"{crown.capitalize()} no printable material lasts the wanted {target} with confidence. The best, {best.material.name}, is good for a "
            f"short run: plan for {duration(best.standing.plan_for)}."
        )
    else:
        text = (
            f"No: {crown} no printable material lasts the wanted {target}, and none is worth a planned run. The best, "
            f"{best.material.name}, fails after {duration(best.standing.median)} (median), in one draw of twenty "
            f"{_by(best.standing.plan_for)}."
        )
    assert baseline.standing is not None
    metal = f"The metal piston lasts in {percent(baseline.standing.chance_of_lasting)} of the draws."
    return " ".join(filter(None, [text, _better_elsewhere(best, stories), metal]))


def _better_elsewhere(best: Story, stories: Mapping[str, Story]) -> str:
    """Return which material that this printer cannot print would do better than the best printable one, if any would."""
    if best.standing is None:
        return ""
    others = [(s, s.standing) for s in stories.values() if s.standing and group_of(s) == NOT_PRINTABLE]
    story, place = min(others, key=lambda pair: order_of(pair[1]), default=(best, best.standing))
    if order_of(place) >= order_of(best.standing):
        return ""
    if place.verdict == FAILS:
        does = f"would last longer, yet fails too: median {duration(place.median)}, one draw of twenty {_by(place.plan_for)}"
    elif place.verdict == LASTS:
        does = f"should last (chance {chance(place.chance_of_lasting, story.life.size)})"
    else:
        does = f"would do better: plan for {duration(place.plan_for)}, median {duration(place.median)}"
    return f"Of what this printer cannot print, {story.material.name} {does}."


def stop_rule_of(case: Case, stories: Mapping[str, Story]) -> str:
    """Return when to stop the engine: by the clock for a bare polymer crown, which fails long before the head warms."""
    best = next(iter(leading(stories)), None)
    if best is None or best.standing is None:
        return "There is nothing to run."
    if best.standing.verdict == FAILS:
        return (
            f"No stop rule makes this safe: one draw of twenty fails {_by(best.standing.plan_for)}, "
            "and the gun on a head that is still cold gives no warning. Do not run it as it stands; see what would have "
            "to change."
        )
    plan = min(best.standing.plan_for, case.operation.target_run)
    if any(layer.thickness > _THICK_ENOUGH for layer in case.piston.crown_layers):
        return (
            f"Stop rule for {best.material.name}: after {duration(plan)} at the latest, and at once when the gun on the head "
            "shows more than the highest settled reading of the metal piston's baseline run, when the note changes or "
            "the engine loses speed. Shut fuel and air."
        )
    return (
        f"Stop rule for {best.material.name}: by the clock, after {duration(plan)}. The gun is no guide: a polymer crown "
        "fails while the head is still warming. Shut fuel and air, not only the ignition."
    )


def _by(seconds: float) -> str:
    """Return by when something has happened: 'within 3.4 s', or 'at once'."""
    told = duration(seconds)
    return told if seconds < AT_ONCE else f"within {told}"


_THICK_ENOUGH = 1e-3
"""A metal layer at least so thick [m] carries the ring and ties the crown's temperature to the bore's."""


def _names(stories: list[Story]) -> str:
    names = [story.material.name for story in stories[:NEAR_THE_TOP]]
    return listed([*names, "others"] if len(stories) > NEAR_THE_TOP else names)


def cautions_of(case: Case, stories: Mapping[str, Story]) -> tuple[str, ...]:
    """Return the cautions of the work, the fuel and the leading materials, each hazard and each advice once."""
    names = [case.fuel.name, case.fuel.cas or ""]
    for share in case.fuel.components:
        names += [share.component.name, share.component.cas or ""]
    found = [*work_cautions(), *fuel_cautions(*filter(None, names))]
    for story in (leading(stories) or list(stories.values()))[:NEAR_THE_TOP]:
        found += material_cautions(story.material.base or story.material.id)
    return told_once(found)
