"""From a finished run to one material's story: verdict, heat, contact, fit and reasons."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.choice.flags import softening_flag, swelling_flag
from screening.judgement.choice.joined_run import JoinedRun
from screening.judgement.choice.printability import judge_printability
from screening.judgement.choice.reasons import baseline_reasons, missing_reasons, polymer_reasons
from screening.judgement.choice.sensitivity import Shapes, Unknowns, shapes_of
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import life_of, standing
from screening.judgement.contact.pair import EXPOSURES, Contact, assess_contact
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.fit_advice import FitAdvice
from screening.judgement.piston.heating import SHOWN
from screening.records.materials.materials import Material


def polymer_story(
    case: Case,
    polymer: Polymer,
    run: JoinedRun,
    fit: FitAdvice,
    shapes: Shapes,
    assumed: frozenset[str],
    effective: float,
) -> Story:
    """Return the story of a material that was run.

    `shapes` are those of the conditions, see `shapes_of`; `assumed` names the assumptions drawn; `effective` is how many draws the draws are worth [1].
    """
    id = polymer.material.id
    story = _run_story(case, polymer.material, run, effective)
    own = {**polymer.values, **polymer.assumed, "brittle": polymer.brittle.astype(float)}
    drawn = shapes.with_more(shapes_of({f"{id}.{name}": value for name, value in own.items()}))
    assert story.history is not None
    assert story.standing is not None
    contacts = contacts_of(case, id)
    story = replace(
        story,
        contacts=contacts,
        softens=softening_flag(polymer.material, story.history, story.standing),
        swells=swelling_flag(contacts),
        fit=fit,
        bursts_at=run.bursts_at,
        unknowns=Unknowns(drawn, story.life, case.operation.target_run, effective, polymer.material, assumed),
    )
    reasons = polymer_reasons(case, story, float(np.mean(polymer.brittle)), run)
    return replace(story, reasons=reasons)


def baseline_story(case: Case, metal: Material, run: JoinedRun, effective: float) -> Story:
    """Return the story of the metal piston; `effective` is how many draws the draws are worth [1]."""
    story = _run_story(case, metal, run, effective)
    return replace(story, reasons=baseline_reasons(case, story))


def missing_story(case: Case, material: Material, missing: tuple[str, ...]) -> Story:
    """Return the story of a material that lacks the values named, without which no run can be computed."""
    return Story(
        material=material,
        standing=None,
        life=np.empty(0),
        times={},
        history=None,
        printability=judge_printability(material, case.printer),
        contacts=contacts_of(case, material.id),
        fit=None,
        reasons=missing_reasons(material, missing),
        unknowns=None,
        missing=missing,
    )


def _run_story(case: Case, material: Material, run: JoinedRun, effective: float) -> Story:
    """Return the story of a run before contact, fit and reasons."""
    times = run.times
    return Story(
        material=material,
        standing=standing(times, case.operation.target_run, run.start, effective),
        life=life_of(times),
        # only of these draws is every mechanism followed, whatever ends the run first
        times={name: values[:SHOWN] for name, values in times.items()},
        history=run.history,
        printability=judge_printability(material, case.printer),
        contacts={},
        fit=None,
        reasons=(),
        unknowns=None,
        missing=(),
    )


@lru_cache(maxsize=512)
def contacts_of(case: Case, material_id: str) -> Mapping[str, Contact]:
    """Return the contact of a material with the case's fuel, by exposure; kept, as no number of draws changes it."""
    return MappingProxyType(
        {exposure: assess_contact(material_id, case.fuel, exposure=exposure, case=case) for exposure in EXPOSURES}
    )
