"""What is known of many pairs of one material: theory, own soak tests and published contacts weighed into an outcome.

The outcome is one of the words of `outcome_words`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.contact.contact_reasons import why_unknown
from screening.judgement.contact.evidence import (
    SAME_PAIR,
    Evidence,
    deciding,
    nearest_first,
    own_soaks,
    published,
)
from screening.judgement.contact.exposures import ExposureState
from screening.judgement.contact.learning import learned_errors
from screening.judgement.contact.liquids import fuel_shares, shared_volumes
from screening.judgement.contact.nature import PolymerNature, polymer_nature
from screening.judgement.contact.outcome_words import ATTACKED, SWELL_OF_WORD, UNKNOWN
from screening.judgement.contact.prediction import CAUTIOUS, Spread, predict_many
from screening.records.liquids.find_fuel import Fuel

_CONFIDENCE_OF_TRUST = {3: "high", 2: "high", 1: "medium", 0: "low"}
_WORD_RANGE = {word: SWELL_OF_WORD[word] for word in ("none", "slight", "swells", "swells strongly")}
_SURE = 0.85


@dataclass(frozen=True)
class Judged:
    """The outcome of a pair, what it rests on, how sure it is, its volume swell [1] and RED [1]."""

    outcome: str
    evidence: str
    confidence: str
    volume_swell: float
    distance_ratio: float


@dataclass(frozen=True, eq=False)
class Weighed:
    """What was found on a pair before it is put in words."""

    nature: PolymerNature | None
    state: ExposureState
    spread: Spread | None
    seen: Evidence | None
    same: tuple[Evidence, ...]
    evidence: tuple[Evidence, ...]
    own: bool
    why_unknown: str = ""


def weigh(
    material_id: str,
    fuels: Sequence[Fuel],
    states: Sequence[ExposureState],
    case: Case | None = None,
    use_observations: bool = True,
) -> list[Weighed]:
    """Evidence and prediction, weighed, of a material with each of some fuels.

    `states` is what it meets in each, all in one exposure at one temperature.
    """
    nature = polymer_nature(material_id, case)
    if nature is None:
        why = "Metals and ceramics are not covered here: neither swelling nor corrosion is judged."
        return [Weighed(None, state, None, None, (), (), False, why) for state in states]
    evidence = all_evidence(nature, case) if use_observations else ()
    exposure, kelvin = states[0].exposure, states[0].temperature
    errors = learned_errors(nature, evidence, [liquid for state in states for liquid in state.liquids])
    spreads = predict_many(
        nature,
        [state.liquids for state in states],
        kelvin,
        [state.activity for state in states],
        errors,
        skin=exposure in ("cold start", "running"),
    )
    own = any(e.kind == "own soak" for e in evidence)
    shared = shared_volumes([e.shares for e in evidence], [fuel_shares(fuel) for fuel in fuels]) >= SAME_PAIR
    found = []
    for number, (fuel, state, spread) in enumerate(zip(fuels, states, spreads, strict=True)):
        # vapour and oil are no soak: what was seen in a jar teaches the prediction and does not stand for it
        jar = exposure in ("soak", "cold start")
        same = nearest_first([e for e, is_it in zip(evidence, shared[:, number], strict=True) if is_it and jar], kelvin)
        seen = deciding([e for e in same if e.kind == same[0].kind], nature.printed)
        why = why_unknown(nature, fuel, state) if spread is None and seen is None else ""
        found.append(Weighed(nature, state, spread, seen, same, evidence, own, why))
    return found


def all_evidence(nature: PolymerNature, case: Case | None) -> tuple[Evidence, ...]:
    """Return the case's soak tests of a material, then what is published of it."""
    own = own_soaks(nature, case)
    return (*own, *published(nature)) if own else published(nature)


def judged(w: Weighed) -> Judged:
    """Return the outcome of what was found."""
    if w.why_unknown or w.nature is None:
        return Judged(UNKNOWN, "none", "none", math.nan, math.nan)
    outcome = w.seen.outcome if w.seen is not None else (w.spread.word if w.spread is not None else UNKNOWN)
    swell, _ = amounts(w, outcome)
    kind = "predicted" if w.seen is None else w.seen.kind
    ratio = math.nan if w.spread is None or np.isnan(w.spread.ratio).all() else float(np.nanmin(w.spread.ratio))
    return Judged(outcome, kind, _confidence(w), swell, ratio)


def amounts(w: Weighed, outcome: str) -> tuple[float, float]:
    """Return volume swell and uptake that agree with the outcome: measured, else predicted within the word's range."""
    if outcome == "dissolves":
        return math.inf, 1.0
    if w.seen is not None and math.isfinite(w.seen.swell):
        swell = w.seen.swell
    elif w.spread is None:
        return math.nan, math.nan
    else:
        # what is foretold is told at the same cautious place in the spread as its word
        swell = w.spread.quantile(w.spread.swell, CAUTIOUS if w.seen is None else 0.5)
        low, high = _WORD_RANGE.get(outcome, (0.0, 20.0))
        swell = min(max(swell, low), high * (1 - 1e-9))
    assert w.nature is not None
    held = max(swell, 0.0) / w.nature.active_share
    return swell, held / (1 + held)


def _confidence(w: Weighed) -> str:
    if w.seen is not None:
        sides = {e.outcome in ATTACKED for e in w.same if e.trust == w.seen.trust}
        return "low" if len(sides) > 1 else _CONFIDENCE_OF_TRUST[w.seen.trust]
    sure = w.spread is not None and w.spread.agreement >= _SURE
    assert w.nature is not None
    return "medium" if sure and (w.own or not w.nature.near) else "low"
