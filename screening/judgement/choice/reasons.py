"""Why a material stands where it does, in sentences with numbers."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.choice.printability import CANNOT, Printability
from screening.judgement.choice.ranking import Standing, life_of
from screening.judgement.choice.story import CrownHistory
from screening.judgement.contact.pair import Contact
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston import ends
from screening.records.materials.materials import Material
from screening.words import AT_ONCE, celsius, chance, duration, listed, percent

FloatArray = np.ndarray
_MOMENTS = (3.0, 10.0, 30.0, 60.0, 300.0)

_WHAT_HAPPENS = {
    ends.COLLAPSE: "the crown, softened from the gas side down, no longer carries the cylinder pressure",
    ends.CRACKING: "the brittle crown cracks, cold on the first full charges or when its soft face leaves the load to the cold depth",
    ends.RING_LAND: "the top ring sinks into its softened land",
    ends.SEIZURE: "the skirt outgrows the bore and grips",
    ends.PIN_BOSS: "the warm pin bosses yield",
    ends.SEAT: "the end of the skirt yields under the metal crown that stands on it",
    ends.FUEL_ATTACK: "the fuel has softened too much of the crown",
    ends.DECOMPOSITION: "the crown gives off so much gas that the mixture is out of control, or burns through",
    ends.IGNITION: "glowing char lights the charge before the spark",
}

_BENEATH_LAYERS = "the polymer beneath the cap or coating decomposes and lets go of it"


def polymer_reasons(
    case: Case,
    polymer: Polymer,
    place: Standing,
    times: Mapping[str, FloatArray],
    history: CrownHistory,
    copy_seizes_at: FloatArray,
    contacts: Mapping[str, Contact],
    printability: Printability,
    start_lasts: FloatArray,
) -> tuple[str, ...]:
    """Return the reasons, the most telling first; `start_lasts` (n_draw,) [s] is how long the throttle is open at first."""
    said = [
        _time_sentence(case, place, life_of(times).size),
        _end_sentence(case, place),
        _heat_sentence(polymer.material, history, place.median),
    ]
    said += _strength_sentences(polymer, history, times, start_lasts)
    said += _fit_sentences(copy_seizes_at)
    said += _contact_sentences(contacts)
    if printability.outcome == CANNOT:
        said.append(f"This printer cannot print it: {' '.join(printability.reasons)}")
    return tuple(filter(None, said))


def _time_sentence(case: Case, place: Standing, draws: int) -> str:
    target, plan = duration(case.operation.target_run), duration(place.plan_for)
    planned = (
        "one draw of twenty fails at once" if place.plan_for < AT_ONCE else f"plan for {plan} (19 in 20 last longer)"
    )
    return (
        f"Chance of lasting the wanted {target}: {chance(place.chance_of_lasting, draws)}; {planned}, median "
        f"{duration(place.median)}."
    )


def _end_sentence(case: Case, place: Standing) -> str:
    if place.ends_by not in _WHAT_HAPPENS:
        return (
            f"In {percent(place.ends_by_share)} of the draws nothing modelled ends the run within the horizon; creep and "
            "fatigue, which end longer runs, are not modelled."
        )
    covered = place.ends_by == ends.DECOMPOSITION and case.piston.crown_layers
    happens = _BENEATH_LAYERS if covered else _WHAT_HAPPENS[place.ends_by]
    others = [f"{name} in {percent(share)}" for name, share in place.shares if name != place.ends_by and share >= 0.05]
    text = f"In {percent(place.ends_by_share)} of the draws {happens} first"
    return text + (f"; {listed(others)}." if others else ".")


def _heat_sentence(material: Material, history: CrownHistory, median: float) -> str:
    moment = _moment(median)
    i = int(np.argmin(np.abs(history.times - moment)))
    (low, face, high), under = history.surface[:, i], float(history.back[1, i])
    after = f"After {duration(float(history.times[i]))}"
    if np.isnan(face):
        return f"{after} the crown has burned through in half of the draws: it is gone."
    what = "melts at" if material.morphology == "semicrystalline" else "has its glass transition at"
    beneath = "gone" if np.isnan(under) else f"at {celsius(under)}"
    hottest = "gone where it burned through" if np.isnan(high) else celsius(high)
    return (
        f"{after} the gas-side face is at about {celsius(face)} ({celsius(low)} to {hottest}), the underside {beneath}; "
        f"the material {what} {celsius(history.softening[1])}, and {1e3 * history.softened_depth[1, i]:.1f} mm of "
        f"{1e3 * history.thickness:.1f} mm are hotter than that."
    )


def _moment(median: float) -> float:
    return next((t for t in reversed(_MOMENTS) if t <= median), _MOMENTS[0])


def _strength_sentences(
    polymer: Polymer, history: CrownHistory, times: Mapping[str, FloatArray], start_lasts: FloatArray
) -> list[str]:
    cold, load = history.limit_pressure[1, 0] / 1e5, history.load[1] / 1e5
    said = [
        f"Cold, the crown would carry about {cold:.0f} bar; it must carry {load:.0f} bar (mean peak and three standard "
        f"deviations of its variation)."
    ]
    if polymer.brittle:
        said.append(
            "It breaks before it yields, so cracks start without warning: at the crown's edge, or on its underside."
        )
    at_start = float(np.mean(life_of(times) < start_lasts))
    if at_start >= 0.05:
        said.append(
            f"In {percent(at_start)} of the draws it fails within the first {duration(float(np.median(start_lasts)))} or so, on "
            "the full charges with which a governed engine starts: hold the throttle nearly shut for the start."
        )
    return said


def _fit_sentences(copied: FloatArray) -> list[str]:
    share = float(np.mean(np.isfinite(copied)))
    if share < 0.05:
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
        if contact.outcome in ("dissolves", "swells strongly", "swells", "stress cracks")
    ]


def unknown_reasons(material: Material, missing: tuple[str, ...]) -> tuple[str, ...]:
    """Return what is missing."""
    words = listed([name.replace("_", " ") for name in missing])
    return (f"Nothing can be said of a run: no published {words} was found for {material.name}.",)


def baseline_reasons(case: Case, place: Standing, history: CrownHistory, draws: int) -> tuple[str, ...]:
    """Return what the metal piston shows."""
    i = int(np.argmin(np.abs(history.times - min(case.operation.target_run, history.times[-1]))))
    assert history.centre is not None
    (low, middle, high), (coolest, centre, hottest) = history.surface[:, i], history.centre[:, i]
    return (
        _time_sentence(case, place, draws),
        f"Its crown is at about {celsius(middle)} ({celsius(low)} to {celsius(high)}) after "
        f"{duration(float(history.times[i]))}, the mean over its face; the centre at {celsius(centre)} ({celsius(coolest)} to "
        f"{celsius(hottest)}). Aluminium crowns at full load are reported at 200 to 300 °C (Heywood, ch. 12, from memory); "
        "the head's reading sets the bore that the rings cool to, so it must be of the same load.",
    )
