"""What a fuel does to a material: `assess_contact` weighs own soak tests, published contacts and theory.

Outcome words: dissolves, swells strongly (15 % by volume or more), swells (5-15 %), slight (1-5 %), none (under 1 %),
stress cracks; "unknown" where neither evidence nor parameters exist.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from screening.judgement.case import Case
from screening.judgement.contact_evidence import (
    Evidence,
    deciding,
    learned_error,
    learned_errors,
    nearest,
    of_the_pair,
    own_soaks,
    published,
)
from screening.judgement.contact_exposures import EXPOSURES, ROOM, ExposureState, exposure_state
from screening.judgement.contact_nature import PolymerNature, polymer_nature
from screening.judgement.contact_prediction import CAUTIOUS, LINES, Spread, predict
from screening.judgement.contact_reasons import (
    depth_reached,
    exposure_notes,
    other_rows,
    prediction_told,
    sources_of,
    why_unknown,
)
from screening.judgement.contact_run import AttackInRun, ContactDraws, RunExposure, attack_over_draws
from screening.records.fuels import Fuel, find_fuel

if TYPE_CHECKING:
    from screening.judgement.conditions import Conditions
    from screening.judgement.gas_side import GasSide
    from screening.judgement.polymer import Polymer
    from screening.physics.crown_heat import CrownHeat

__all__ = ["ATTACKED", "EXPOSURES", "UNKNOWN", "Contact", "Judged", "assess_contact", "attack_in_run", "judged_contact"]

UNKNOWN = "unknown"
ATTACKED = ("swells", "stress cracks", "swells strongly", "dissolves")
_CONFIDENCE_OF_TRUST = {3: "high", 2: "high", 1: "medium", 0: "low"}
_WORD_RANGE = {"none": (0.0, LINES[0]), "slight": LINES[:2], "swells": LINES[1:], "swells strongly": (LINES[2], 20.0)}
_SURE = 0.85


@dataclass(frozen=True)
class Contact:
    """One material, one fuel, one exposure.

    `distance_ratio` RED of the nearest published sphere (NaN: no sphere); `uptake` volume fraction of liquid in what
    takes it up (not in crystals and filler); `volume_swell` of the whole part (inf: dissolves); `softened_transition`
    [K]; `depth` that the liquid reaches in the exposure's time [m] (inf: right through); `evidence` "own soak",
    "published", "predicted" or "none"; `confidence` "high", "medium", "low" or "none"; `ranges` name -> (5th, 95th
    percentile).
    """

    material: str
    material_name: str
    fuel: str
    exposure: str
    temperature: float
    outcome: str
    distance_ratio: float
    uptake: float
    volume_swell: float
    softened_transition: float
    depth: float
    evidence: str
    confidence: str
    reasons: tuple[str, ...]
    sources: tuple[str, ...]
    ranges: Mapping[str, tuple[float, float]] = field(compare=False)

    @property
    def attacked(self) -> bool | None:
        """Whether the outcome is an attack (swells or worse); None where it is not known."""
        return None if self.outcome == UNKNOWN else self.outcome in ATTACKED


def assess_contact(
    material_id: str,
    fuel: Fuel | str,
    temperature: float = ROOM,
    exposure: str = "soak",
    case: Case | None = None,
    use_observations: bool = True,
) -> Contact:
    """Return what a fuel does to a material.

    Parameters
    ----------
    material_id : str
        An id of the table, or of the case's own materials.
    fuel : Fuel or str
        A name, a CAS number, a blend, or a `Fuel`.
    temperature : float
        Of liquid and part; of the crown's surface when running [K]. Left at 296.15 K, the other exposures take their
        own: see `exposure_state`.
    exposure : str
        "soak", "cold start", "running" or "sump".
    case : Case, optional
        Brings its own soak tests, own materials and conditions.
    use_observations : bool
        False leaves soak tests and published contacts out, to judge the prediction.

    Raises
    ------
    UnknownName
        For an unknown material, fuel or exposure.
    """
    liquid = find_fuel(fuel) if isinstance(fuel, str) else fuel
    weighed = _weighed(material_id, liquid, temperature, exposure, case, use_observations)
    if weighed.why_unknown:
        return _bare(material_id, liquid, weighed)
    return _contact(liquid, weighed)


def judged_contact(
    material_id: str, fuel: Fuel, temperature: float = ROOM, exposure: str = "soak", case: Case | None = None
) -> Judged:
    """Return the outcome of `assess_contact` without its sentences, for many pairs at once."""
    weighed = _weighed(material_id, fuel, temperature, exposure, case, True)
    if weighed.why_unknown:
        return Judged(UNKNOWN, "none", "none", math.nan, math.nan)
    return _judged(weighed)


@dataclass(frozen=True)
class Judged:
    """The outcome of a pair, what it rests on, how sure it is, its volume swell [1] and RED [1]."""

    outcome: str
    evidence: str
    confidence: str
    volume_swell: float
    distance_ratio: float


@dataclass(frozen=True, eq=False)
class _Weighed:
    """What was found on a pair before it is put in words."""

    nature: PolymerNature | None
    state: ExposureState
    spread: Spread | None
    seen: Evidence | None
    same: tuple[Evidence, ...]
    evidence: tuple[Evidence, ...]
    own: bool
    why_unknown: str = ""


def _weighed(
    material_id: str, fuel: Fuel, temperature: float, exposure: str, case: Case | None, use_observations: bool
) -> _Weighed:
    nature = polymer_nature(material_id, case)
    state = exposure_state(exposure, fuel, temperature, case)
    if nature is None:
        why = "Metals and ceramics are not covered here: neither swelling nor corrosion is judged."
        return _Weighed(None, state, None, None, (), (), False, why)
    evidence = _evidence(nature, case) if use_observations else ()
    spread = predict(
        nature,
        state.liquids,
        state.temperature,
        state.activity,
        learned_errors(nature, evidence, state.liquids),
        skin=exposure in ("cold start", "running"),
    )
    # vapour and oil are no soak: what was seen in a jar teaches the prediction and does not stand for it
    same = of_the_pair(evidence, fuel, state.temperature) if exposure in ("soak", "cold start") else ()
    seen = deciding([e for e in same if e.kind == same[0].kind], nature.printed)
    why = why_unknown(nature, fuel, state) if spread is None and seen is None else ""
    own = any(e.kind == "own soak" for e in evidence)
    return _Weighed(nature, state, spread, seen, same, evidence, own, why)


def _judged(w: _Weighed) -> Judged:
    assert w.nature is not None
    outcome = w.seen.outcome if w.seen is not None else (w.spread.word if w.spread is not None else UNKNOWN)
    swell, _ = _amounts(w.nature, outcome, w.spread, w.seen)
    kind = "predicted" if w.seen is None else w.seen.kind
    ratio = math.nan if w.spread is None or np.isnan(w.spread.ratio).all() else float(np.nanmin(w.spread.ratio))
    return Judged(outcome, kind, _confidence(w), swell, ratio)


def _evidence(nature: PolymerNature, case: Case | None) -> tuple[Evidence, ...]:
    own = own_soaks(nature, case)
    return (*own, *published(nature)) if own else published(nature)


def _bare(material_id: str, fuel: Fuel, w: _Weighed) -> Contact:
    return Contact(
        material=material_id,
        material_name=material_id if w.nature is None else w.nature.name,
        fuel=fuel.name,
        exposure=w.state.exposure,
        temperature=w.state.temperature,
        outcome=UNKNOWN,
        distance_ratio=math.nan,
        uptake=math.nan,
        volume_swell=math.nan,
        softened_transition=math.nan,
        depth=math.nan,
        evidence="none",
        confidence="none",
        reasons=(w.state.told, w.why_unknown),
        sources=(),
        ranges=MappingProxyType({}),
    )


def _contact(fuel: Fuel, w: _Weighed) -> Contact:
    assert w.nature is not None
    nature, state, spread, seen = w.nature, w.state, w.spread, w.seen
    judged = _judged(w)
    taught = learned_error(nature, w.evidence, fuel)[1]
    reached, depth_told = depth_reached(nature, state)
    reasons = [state.told]
    reasons += [] if seen is None else [seen.told]
    reasons += other_rows(seen, w.same)
    if spread is not None:
        reasons += prediction_told(nature, spread, seen, taught)
    close = nearest(w.evidence, fuel)
    if seen is None and close is not None:
        reasons.append(f"Nearest seen (likeness of the liquids {close[1]:.2f} of 1): {close[0].told}")
    return Contact(
        material=nature.id,
        material_name=nature.name,
        fuel=fuel.name,
        exposure=state.exposure,
        temperature=state.temperature,
        outcome=judged.outcome,
        distance_ratio=judged.distance_ratio,
        uptake=_amounts(nature, judged.outcome, spread, seen)[1],
        volume_swell=judged.volume_swell,
        softened_transition=math.nan if spread is None else spread.quantile(spread.transition, 0.5),
        depth=reached,
        evidence=judged.evidence,
        confidence=judged.confidence,
        reasons=(*reasons, *depth_told, *exposure_notes(nature, state)),
        sources=sources_of(nature, spread, seen, taught),
        ranges=_ranges(spread),
    )


def _amounts(nature: PolymerNature, outcome: str, spread: Spread | None, seen: Evidence | None) -> tuple[float, float]:
    """Return volume swell and uptake that agree with the outcome: measured, else predicted within the word's range."""
    if outcome == "dissolves":
        return math.inf, 1.0
    if seen is not None and math.isfinite(seen.swell):
        swell = seen.swell
    elif spread is None:
        return math.nan, math.nan
    else:
        # what is foretold is told at the same cautious place in the spread as its word
        swell = spread.quantile(spread.swell, CAUTIOUS if seen is None else 0.5)
        low, high = _WORD_RANGE.get(outcome, (0.0, 20.0))
        swell = min(max(swell, low), high * (1 - 1e-9))
    held = max(swell, 0.0) / nature.active_share
    return swell, held / (1 + held)


def _confidence(w: _Weighed) -> str:
    if w.seen is not None:
        sides = {e.outcome in ATTACKED for e in w.same if e.trust == w.seen.trust}
        return "low" if len(sides) > 1 else _CONFIDENCE_OF_TRUST[w.seen.trust]
    sure = w.spread is not None and w.spread.agreement >= _SURE
    assert w.nature is not None
    return "medium" if sure and (w.own or not w.nature.near) else "low"


def _ranges(spread: Spread | None) -> Mapping[str, tuple[float, float]]:
    if spread is None:
        return MappingProxyType({})
    named = {
        "volume_swell": spread.swell,
        "uptake": spread.uptake,
        "distance_ratio": spread.ratio,
        "softened_transition": spread.transition,
    }
    return MappingProxyType(
        {
            name: (spread.quantile(v, 0.05), spread.quantile(v, 0.95))
            for name, v in named.items()
            if not np.isnan(v).any()
        }
    )


def attack_in_run(
    case: Case, draws: Conditions, gas: GasSide, polymer: Polymer, heat: CrownHeat, contact: ContactDraws | None
) -> AttackInRun:
    """Return what the case's fuel does to a crown during the run, from the case's own cycle and crown temperatures.

    A crown under metal or coating meets neither liquid nor vapour on its face; the oil beneath still reaches it.
    """
    nature = polymer_nature(polymer.material.id, case)
    cycle = gas.cycle
    vapour = np.asarray(cycle.pressure * cycle.vapour_present * cycle.charge_vapour_mole_fraction)
    wet = draws["wet_start_time"]
    if case.piston.crown_layers:
        vapour, wet = np.zeros_like(vapour), np.zeros_like(wet)
    run = RunExposure(
        wet_start_time=wet,
        ambient=draws["ambient"],
        times=heat.times,
        surface_temperature=heat.surface_temperature,
        back_temperature=heat.back_temperature,
        vapour_pressure=vapour,
        crown_thickness=draws["crown_thickness"],
        horizon=float(heat.times[-1]),
    )
    return attack_over_draws(nature, case.fuel, run, contact)
