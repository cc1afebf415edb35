"""Why a contact comes out as it does, in sentences with numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from screening.judgement.contact.evidence import Evidence
from screening.judgement.contact.exposures import ExposureState
from screening.judgement.contact.nature import PolymerNature
from screening.judgement.contact.prediction import SOAK_THICKNESS, Spread
from screening.physics.contact.diffusion import diffusion_at, half_time, penetration_depth
from screening.records.liquids.find_fuel import Fuel
from screening.sentences import Temperature, Text, joined, sentence
from screening.words import share_of, share_range

_DAY = 86400.0
_FEW = 2
_TELLABLE = 0.5
"""Fall of a glass transition [K] from which it is told: less is lost in rounding."""


def why_unknown(nature: PolymerNature, fuel: Fuel, state: ExposureState) -> str:
    """Return why nothing can be said of a pair."""
    if not nature.places:
        return (
            f"No solubility sphere of {nature.name} or of a near polymer is published, and no contact with {fuel.name}."
        )
    if state.exposure == "running":
        return f"Without a vapour pressure of {fuel.name} nothing can be said of its vapour."
    return f"The Hansen parameters or the molar volume of {fuel.name} are not known, and no contact is published."


def depth_reached(nature: PolymerNature, state: ExposureState) -> tuple[float, list[str]]:
    """Depth that the liquid reaches in the exposure's time [m] (inf: right through), and a sentence on it."""
    if not np.isfinite(nature.diffusion).all():
        return math.nan, []
    coefficients = diffusion_at(10.0 ** np.array(nature.diffusion), nature.activation[1], state.temperature)
    if math.isinf(state.time):
        slow, usual, fast = (_days(float(seconds) / _DAY) for seconds in half_time(coefficients, SOAK_THICKNESS))
        told = f"A 3 mm wall is half full after about {usual} ({fast} to {slow}) by diffusion alone."
        return math.inf, [told] if state.exposure == "soak" else []
    low, typical, high = (float(metres) for metres in penetration_depth(coefficients, state.time))
    told = (
        f"In {state.time:.0f} s the liquid reaches about {1e6 * typical:.2g} µm deep "
        f"({1e6 * low:.2g} to {1e6 * high:.2g} µm): a skin, unless the part was soaked before."
    )
    return typical, [told]


def _days(days: float) -> str:
    for unit, length, most in (("hour", 1 / 24, 48), ("day", 1.0, 90), ("month", 365 / 12, 24)):
        if days < most * length:
            number = max(days / length, 0.1)
            told = f"{number:.1f}" if number < 0.95 else f"{number:.0f}"
            return f"{told} {unit}" if told == "1" else f"{told} {unit}s"
    return f"{days / 365:.0f} years"


def exposure_notes(nature: PolymerNature, state: ExposureState) -> list[str]:
    """Sentences on an exposure beside the computed numbers."""
    notes = []
    if state.exposure in ("cold start", "running") and nature.printed:
        notes.append("Liquid that wicks into print voids stays there longer and is not counted.")
    if state.exposure == "running" and nature.amide:
        notes.append(
            "Burned gas carries about 13 % water vapour, which a polyamide takes up too; a hot crown holds little."
        )
    if state.exposure == "sump":
        notes.append("What oil and fuel become together with heat, acids and time is not covered.")
    return notes


def other_rows(seen: Evidence | None, same: Sequence[Evidence]) -> list[Text]:
    """Observations of the pair that contradict the row that decides."""
    if seen is None:
        return []
    return [e.told for e in same if e is not seen and e.outcome != seen.outcome][: _FEW + 1]


def prediction_told(
    nature: PolymerNature, spread: Spread, seen: Evidence | None, taught: Sequence[Evidence]
) -> list[Text]:
    """Prediction for a pair in words, its basis, and its correction by evidence."""
    swell = f"volume swell {share_range(spread.quantile(spread.swell, 0.05), spread.quantile(spread.swell, 0.95))}"
    near = ""
    if not np.isnan(spread.ratio).all():
        near = f" (RED {np.nanmin(spread.ratio):.2f} of the nearest of {len(nature.places)} published spheres)"
    verb = "would say" if seen is not None else "says"
    said: list[Text] = [
        f"Theory {verb} {spread.word}{near}: {swell}; {share_of(spread.agreement)} of the "
        "range lies on the same side of 5 %, where swelling begins to matter."
    ]
    if nature.near:
        said.append(f"It rests on {nature.near}.")
    if taught and seen is None:
        said.append(joined(["The prediction was corrected by what was seen:", *(e.told for e in taught[:_FEW])]))
    if nature.deviation > 0:
        said.append(
            f"A fluorocarbon attracts other molecules about {100 * nature.deviation:.0f} % less than its distance says, "
            "which is counted."
        )
    if nature.filler > 0:
        said.append(f"{100 * nature.filler:.0f} % of its volume is filler, which takes up nothing.")
    soft = spread.quantile(spread.transition, 0.5)
    if np.isfinite(nature.transition) and np.isfinite(soft):
        said.append(_softening(nature.transition, soft, spread.quantile(spread.transition, 0.05)))
    if spread.word == "stress cracks":
        said.append("It stays a glass, and a print carries stress of its own: annealing lowers that, load adds to it.")
    return said


def _softening(dry: float, wet: float, lowest: float) -> Text:
    """Sentence on the fall of the glass transition [K], typical and at worst."""
    before, after, worst = (Temperature(kelvin) for kelvin in (dry, wet, lowest))
    if abs(dry - wet) >= _TELLABLE:
        return sentence(
            "What it takes up lowers its glass transition from {before} to about {after}, at worst to {worst}.",
            before=before,
            after=after,
            worst=worst,
        )
    kept = sentence("What it takes up hardly moves its glass transition, {before} dry", before=before)
    if abs(dry - lowest) < _TELLABLE:
        return joined([kept, "."], "")
    return sentence("{kept}; at worst to {worst}.", kept=kept, worst=worst)


def sources_of(
    nature: PolymerNature, spread: Spread | None, seen: Evidence | None, taught: Sequence[Evidence]
) -> tuple[str, ...]:
    """Return the sources of what was seen, of what corrected the prediction, and of the spheres."""
    found = [] if seen is None else [seen.source]
    found += [e.source for e in taught]
    if spread is not None:
        found += [place.told for place in nature.places]
    return tuple(dict.fromkeys(found))
