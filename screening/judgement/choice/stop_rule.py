"""When to stop the engine with the best material."""

from __future__ import annotations

from collections.abc import Mapping

from screening.judgement.case.case import HELD, Case
from screening.judgement.choice.order import leading
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import FAILS, GAMBLE
from screening.words import duration, within

SHORTEST_CLOCK = 3.0
"""Nobody stops an engine by the clock sooner than this [s] (the project's choice)."""
CARRIES_THE_RING = 1e-3
"""A metal layer thicker than this [m] carries the ring and ties the crown's temperature to the bore's, so that the gun on
the head says something of it (the project's own choice)."""


def stop_rule_of(case: Case, stories: Mapping[str, Story]) -> str:
    """Return the rule by which to stop the engine: by the clock for a bare polymer crown, which fails long before the head warms."""
    best = next(iter(leading(stories)), None)
    if best is None or best.standing is None:
        return "There is nothing to run."
    if best.standing.verdict in (FAILS, GAMBLE):
        return (
            f"No stop rule makes this safe: one draw of twenty fails {within(best.standing.plan_for)}, "
            "and the gun on a head that is still cold gives no warning. Do not run it as it stands; see what would have "
            "to change."
        )
    plan = min(best.standing.plan_for, case.operation.target_run)
    if best.standing.plan_for < SHORTEST_CLOCK:
        return (
            f"No clock makes {best.material.name} safe: one in twenty breaks within {duration(SHORTEST_CLOCK)}; of those that the start does "
            f"not break one in twenty is gone by {duration(best.standing.holding_plan_for)}. {_start_advice(case)}Have plate and fuel tap in hand from the first stroke."
        )
    if any(layer.thickness > CARRIES_THE_RING for layer in case.piston.crown_layers):
        return (
            f"{_start_advice(case)}Stop rule for {best.material.name}: after {duration(plan)} at the latest, and at once when the gun on the head "
            "shows more than the highest settled reading of the metal piston's baseline run, when the note changes or "
            "the engine loses speed. Shut fuel and air."
        )
    return (
        f"{_start_advice(case)}Stop rule for {best.material.name}: by the clock, after {duration(plan)} from the first firing; one in "
        "twenty has failed by then. The gun on the head is no guide: a polymer crown fails while the head is still warming. Plate over "
        "the intake first, then the fuel tap, not only the ignition; stay behind the shield until it stands still and is cool."
    )


def _start_advice(case: Case) -> str:
    """Return how to start it, where the case does not say that it is started so."""
    if case.operation.start == HELD:
        return ""
    return "Start it with the throttle held nearly shut: the first full charges load the crown far more than the run. "
