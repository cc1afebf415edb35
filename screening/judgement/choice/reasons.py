"""Why a material stands where it does, in sentences with numbers."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import CHOKED, CONDITIONED, GOVERNED, HELD, NOT_KNOWN, Case
from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.joined_run import JoinedRun
from screening.judgement.choice.printability import CANNOT
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import Standing
from screening.judgement.contact.outcome_words import ATTACKED
from screening.judgement.contact.pair import Contact
from screening.judgement.piston import ends
from screening.quantities import ROOM_TEMPERATURE
from screening.records.materials.materials import Material
from screening.sentences import Temperature, TemperatureRange, Text, joined, sentence
from screening.words import AT_ONCE, chance, duration, percent, with_and

_MOMENTS = (3.0, 10.0, 30.0, 60.0, 300.0)
"""Times [s] of which one is taken to say how hot the crown is: the last that half of the draws get to."""
_USUAL_ALUMINIUM_CROWN = TemperatureRange(473.15, 573.15)
_WORTH_SAYING = 0.05
"""Share of the draws [1] from which a builder hears of something (the project's choice)."""

_MOSTLY = 0.5
_STARTS = {
    GOVERNED: "started with the throttle open, as a governor does",
    HELD: "started with the throttle held nearly shut",
    CHOKED: "started on the choke",
    NOT_KNOWN: "started as a governor does, with the throttle open",
}
_GUESSED = "How high the first peaks go is guesswork until a spare crown has been burst cold: no burst of a printed piston is published."

_WHAT_HAPPENS = {
    ends.COLLAPSE: "the crown, softened from the gas side down, no longer carries the cylinder pressure",
    ends.CRACKING: "the brittle crown cracks at its underside, cold at the start or as its hot face pulls on the cold depth",
    ends.RING_LAND: "the top ring sinks into its softened land",
    ends.SEIZURE: "the skirt outgrows the bore and grips",
    ends.PIN_BOSS: "the warm pin bosses yield",
    ends.SEAT: "the end of the skirt yields under the metal crown that stands on it",
    ends.FUEL_ATTACK: "the fuel has softened too much of the crown",
    ends.FLOODING: "the crown gives off so much gas that the mixture is too rich to run",
    ends.BURNED_THROUGH: "the crown burns through",
    ends.DECOMPOSITION: "the polymer beneath the cap or coating decomposes and lets go of it",
    ends.IGNITION: "glowing char lights the charge before the spark",
}


def polymer_reasons(case: Case, story: Story, brittle: float, run: JoinedRun) -> tuple[Text, ...]:
    """Return the reasons of a material that was run, the most telling first.

    Parameters
    ----------
    story : everything but the reasons
    brittle : share of the draws in which it breaks before it yields [1]
    run : its run, for the start's load and for when a copy at the metal part's clearance would seize
    """
    standing, history = story.standing, story.history
    assert standing is not None
    assert history is not None
    reasons: list[Text] = [
        _time_sentence(case, standing, story.life.size),
        _end_sentence(case, standing),
        _heat_sentence(story.material, history, standing.median),
        _load_sentence(story, history, run.start_load),
    ]
    if brittle >= _MOSTLY:
        reasons.append(
            "It breaks before it yields, so cracks start without warning, on the crown's underside; once hot its skin cracks on "
            "cooling: do not use it again."
        )
    reasons += _start_sentences(case, standing) + _moist_sentences(case, story.material)
    reasons += _fit_sentences(run.copy_seizes_at)
    reasons += _contact_sentences(story.contacts)
    if story.printability.outcome == CANNOT:
        reasons.append(sentence("This printer cannot print it: {why}", why=joined(story.printability.reasons)))
    return tuple(reasons)


def _time_sentence(case: Case, standing: Standing, draws: int) -> str:
    target, plan = duration(case.operation.target_run), duration(standing.plan_for)
    planned = (
        "one draw of twenty fails at once" if standing.plan_for < AT_ONCE else f"plan for {plan} (19 in 20 last longer)"
    )
    return (
        f"Chance of lasting the wanted {target}: {chance(standing.chance_of_lasting, draws)}; {planned}, median "
        f"{duration(standing.median)}."
    )


def _end_sentence(case: Case, standing: Standing) -> str:
    if standing.ends_by not in _WHAT_HAPPENS:
        return (
            f"In {percent(standing.ends_by_share)} of the draws nothing modelled ends the run within the horizon; creep and "
            "fatigue, which end longer runs, are not modelled."
        )
    happens = _WHAT_HAPPENS[standing.ends_by]
    others = [
        f"{name} in {percent(share)}"
        for name, share in standing.shares
        if name != standing.ends_by and share >= _WORTH_SAYING
    ]
    text = f"In {percent(standing.ends_by_share)} of the draws {happens} first"
    return text + (f"; {with_and(others)}." if others else ".")


def _heat_sentence(material: Material, history: CrownHistory, median: float) -> Text:
    moment = _moment(median)
    i = int(np.argmin(np.abs(history.times - moment)))
    low, face, high = (float(kelvin) for kelvin in history.surface[:, i])
    under = float(history.back[1, i])
    after = f"After {duration(float(history.times[i]))}"
    if np.isnan(face):
        return f"{after} the crown has burned through in half of the draws: it is gone."
    return sentence(
        "{after} the gas-side face is at about {face} ({low} to {hottest}), the underside {beneath}; the material {softens} "
        "{softening}, and {soft} mm of {whole} mm are hotter than {softening}.",
        after=after,
        face=Temperature(face),
        low=Temperature(low),
        hottest="gone where it burned through" if np.isnan(high) else Temperature(high),
        beneath="gone" if np.isnan(under) else sentence("at {under}", under=Temperature(under)),
        softens=_softens(material),
        softening=Temperature(float(history.softening[1])),
        soft=f"{1e3 * history.softened_depth[1, i]:.1f}",
        whole=f"{1e3 * history.thickness:.1f}",
    )


def _softens(material: Material) -> Text:
    """Return how it softens; of one that melts, from where on it is limp."""
    glass = material.value("glass_transition")
    if material.morphology != "semicrystalline":
        return "has its glass transition at"
    if glass is None or glass.typical < ROOM_TEMPERATURE:
        return "melts at"
    return sentence("loses part of its stiffness above {glass} and melts at", glass=Temperature(glass.typical))


def _moment(median: float) -> float:
    return next((t for t in reversed(_MOMENTS) if t <= median), _MOMENTS[0])


def _load_sentence(story: Story, history: CrownHistory, start_load: FloatArray) -> str:
    """Return what the cold crown carries, slowly pressed, and what it must carry, running and at the start."""
    usual, high = (float(np.quantile(start_load, share)) / 1e5 for share in (0.5, 0.95))
    if story.bursts_at is None:
        carries = f"Cold, the crown would carry about {history.limit_pressure[1, 0] / 1e5:.0f} bar"
    else:
        low, middle, far = (pressure / 1e5 for pressure in story.bursts_at)
        carries = f"Cold and slowly pressed, the crown bursts at about {middle:.0f} bar ({low:.0f} to {far:.0f})"
    return (
        f"{carries}. Running it must carry {history.load[1] / 1e5:.0f} bar, the hardest stroke in 100 s; the start strikes it with "
        f"up to {usual:.0f} bar ({high:.0f} in one draw of twenty)."
    )


def _start_sentences(case: Case, standing: Standing) -> list[str]:
    """Return the chance that the start breaks it, how long it lasts if it holds, and what a held throttle would do."""
    breaks, held = standing.start_breaks, standing.held_start_breaks
    if max(breaks, held) < _WORTH_SAYING / 5:
        return []
    text = f"{_STARTS[case.operation.start].capitalize()}, it breaks within the start in {percent(breaks)} of the draws"
    if case.operation.start != HELD:
        text += f"; with the throttle held nearly shut its crown does in {percent(held)}"
    if np.isfinite(standing.holding_median):
        text += (
            f". If it holds, plan for {duration(standing.holding_plan_for)}, median {duration(standing.holding_median)}"
        )
    return [f"{text}. {_GUESSED}" if breaks >= _WORTH_SAYING else f"{text}."]


def _moist_sentences(case: Case, material: Material) -> list[str]:
    """Return what a moist polyamide's run is reckoned with, where the case says that it is moist."""
    if case.piston.polyamide_state != CONDITIONED or material.family != "polyamide":
        return []
    grown = "It grows as it takes up water from the air: measure the print once it is moist, before it goes in."
    if material.value("tensile_strength", "conditioned") is None:
        return [f"No strength of its moist state was found: it is reckoned dry, which flatters it. {grown}"]
    return [grown]


def _fit_sentences(copied: FloatArray) -> list[str]:
    share = float(np.mean(np.isfinite(copied)))
    if share < _WORTH_SAYING:
        return []
    soonest = float(np.quantile(copied, 0.5, method="inverted_cdf"))
    when = f", half of the time within {duration(soonest)}" if np.isfinite(soonest) else ""
    return [
        f"A copy at the metal part's clearance would seize in {percent(share)} of the draws{when}: print it smaller."
    ]


def _contact_sentences(contacts: Mapping[str, Contact]) -> list[str]:
    return [
        f"{exposure.capitalize()}: {contact.outcome} ({contact.evidence})."
        for exposure, contact in contacts.items()
        if contact.outcome in ATTACKED
    ]


def missing_reasons(material: Material, missing: tuple[str, ...]) -> tuple[Text, ...]:
    """Sentence that names the published values that are missing."""
    words = with_and([name.replace("_", " ") for name in missing])
    return (f"Nothing can be said of a run: no published {words} was found for {material.name}.",)


def baseline_reasons(case: Case, story: Story) -> tuple[Text, ...]:
    """Return the metal piston's times and temperatures; `story` is everything but the reasons."""
    standing, history = story.standing, story.history
    assert standing is not None
    assert history is not None
    assert history.centre is not None
    i = int(np.argmin(np.abs(history.times - min(case.operation.target_run, history.times[-1]))))
    low, middle, high = (Temperature(float(kelvin)) for kelvin in history.surface[:, i])
    coolest, centre, hottest = (Temperature(float(kelvin)) for kelvin in history.centre[:, i])
    heat = sentence(
        "Its crown is at about {middle} ({low} to {high}) after {time}, the mean over its face; the centre at {centre} "
        "({coolest} to {hottest}). Aluminium crowns at full load are reported at {usual} (Heywood, ch. 12, from memory); "
        "the head's reading sets the bore that the rings cool to, so it must be of the same load.",
        middle=middle,
        low=low,
        high=high,
        time=duration(float(history.times[i])),
        centre=centre,
        coolest=coolest,
        hottest=hottest,
        usual=_USUAL_ALUMINIUM_CROWN,
    )
    return _time_sentence(case, standing, story.life.size), heat
