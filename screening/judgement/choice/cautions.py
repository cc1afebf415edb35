"""What can hurt: the cautions of the work, of the fuel and of the leading materials."""

from __future__ import annotations

from collections.abc import Mapping

from screening.judgement.case.case import Case
from screening.judgement.choice.headline import NEAR_THE_TOP
from screening.judgement.choice.order import leading
from screening.judgement.choice.story import Story
from screening.records.hazards.cautions import fuel_cautions, material_cautions, told_once, work_cautions


def cautions_of(case: Case, stories: Mapping[str, Story]) -> tuple[str, ...]:
    """Return the cautions of the work, the fuel and the leading materials, each hazard and each advice once."""
    names = [case.fuel.name, case.fuel.cas or ""]
    for share in case.fuel.components:
        names += [share.component.name, share.component.cas or ""]
    cautions = [*work_cautions(), *fuel_cautions(*filter(None, names))]
    for story in (leading(stories) or list(stories.values()))[:NEAR_THE_TOP]:
        cautions += material_cautions(story.material.base or story.material.id)
    return told_once(cautions)
