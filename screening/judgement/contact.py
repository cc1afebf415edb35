"""What a fuel does to a material: `assess_contact` weighs own soak tests, published contacts and theory.

Outcome words: dissolves, swells strongly (15 % by volume or more), swells (5-15 %), slight (1-5 %), none (under 1 %),
stress cracks; "unknown" where neither evidence nor parameters exist.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from screening.judgement.case import Case
from screening.judgement.conditions import Conditions
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
from screening.judgement.contact_prediction import LINES, Spread, predict
from screening.judgement.contact_run import AttackInRun, RunExposure, attack_over_draws, run_error
from screening.judgement.gas_side import GasSide
from screening.judgement.polymer import Polymer
from screening.physics.crown import CrownHeat
from screening.physics.uptake_in_time import diffusion_at, half_time, penetration_depth
from screening.records.fuels import Fuel, find_fuel

__all__ = ["ATTACKED", "EXPOSURES", "UNKNOWN", "Contact", "assess_contact", "attack_in_run"]

UNKNOWN = "unknown"
ATTACKED = ("swells", "stress cracks", "swells strongly", "dissolves")
_CONFIDENCE_OF_TRUST = {3: "high", 2: "high", 1: "medium", 0: "low"}
_WORD_RANGE = {"none": (0.0, LINES[0]), "slight": LINES[:2], "swells": LINES[1:], "swells strongly": (LINES[2], 20.0)}
_SURE = 0.85


@dataclass(frozen=True)
class Contact:
    """One material, one fuel, one exposure.

    `distance_ratio` RED of the nearest published sphere (NaN: no sphere); `uptake` volume fraction of liquid in the part
    that takes it up; `volume_swell` of the whole part (inf: dissolves); `softened_transition` [K]; `depth` that the
    liquid reaches in the exposure's time [m] (inf: right through); `evidence` "own soak", "published", "predicted" or
    "none"; `confidence` "high", "medium", "low" or "none"; `ranges` name -> (5th, 95th percentile).
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
    nature = polymer_nature(material_id, case)
    state = exposure_state(exposure, liquid, temperature, case)
    if nature is None:
        return _bare(material_id, liquid, state, "Metals and ceramics are not covered here: neither swelling nor corrosion is judged.")
    evidence = _evidence(nature, case) if use_observations else ()
    taught = learned_error(nature, evidence, liquid)[1]
    spread = predict(
        nature,
        state.liquids,
        state.temperature,
        state.activity,
        learned_errors(nature, evidence, state.liquids),
        skin=exposure in ("cold start", "running"),
    )
    # vapour and oil are no soak: what was seen in a jar teaches the prediction and does not stand for it
    same = of_the_pair(evidence, liquid, state.temperature) if exposure in ("soak", "cold start") else ()
    seen = deciding([e for e in same if e.kind == same[0].kind], nature.printed)
    if spread is None and seen is None:
        return _bare(material_id, liquid, state, _why_unknown(nature, liquid, state), nature)
    return _contact(nature, liquid, state, spread, seen, same, taught, evidence)


def _evidence(nature: PolymerNature, case: Case | None) -> tuple[Evidence, ...]:
    own = own_soaks(nature, case)
    return (*own, *published(nature)) if own else published(nature)


def _bare(
    material_id: str, fuel: Fuel, state: ExposureState, why: str, nature: PolymerNature | None = None
) -> Contact:
    return Contact(
        material=material_id,
        material_name=material_id if nature is None else nature.name,
        fuel=fuel.name,
        exposure=state.exposure,
        temperature=state.temperature,
        outcome=UNKNOWN,
        distance_ratio=math.nan,
        uptake=math.nan,
        volume_swell=math.nan,
        softened_transition=math.nan,
        depth=math.nan,
        evidence="none",
        confidence="none",
        reasons=(state.told, why),
        sources=(),
        ranges=MappingProxyType({}),
    )


def _why_unknown(nature: PolymerNature, fuel: Fuel, state: ExposureState) -> str:
    if not nature.places:
        return f"No solubility sphere of {nature.name} or of a near polymer is published, and no contact with {fuel.name}."
    if state.exposure == "running":
        return f"Without a vapour pressure of {fuel.name} nothing can be said of its vapour."
    return f"The Hansen parameters or the molar volume of {fuel.name} are not known, and no contact is published."


def _contact(
    nature: PolymerNature,
    fuel: Fuel,
    state: ExposureState,
    spread: Spread | None,
    seen: Evidence | None,
    same: Sequence[Evidence],
    taught: Sequence[Evidence],
    evidence: Sequence[Evidence],
) -> Contact:
    outcome = seen.outcome if seen is not None else (spread.word if spread is not None else UNKNOWN)
    swell, uptake = _amounts(nature, outcome, spread, seen)
    depth, depth_told = _depth(nature, state)
    reasons = [state.told]
    reasons += [e.told for e in ([seen] if seen is not None else [])]
    reasons += _other_rows(seen, same)
    if spread is not None:
        reasons += _prediction_told(nature, spread, seen, taught)
    close = nearest(evidence, fuel)
    if seen is None and close is not None:
        reasons.append(f"Nearest seen (likeness of the liquids {close[1]:.2f} of 1): {close[0].told}")
    reasons += depth_told
    kind = "predicted" if seen is None else seen.kind
    return Contact(
        material=nature.id,
        material_name=nature.name,
        fuel=fuel.name,
        exposure=state.exposure,
        temperature=state.temperature,
        outcome=outcome,
        distance_ratio=math.nan if spread is None or np.isnan(spread.ratio).all() else float(np.nanmin(spread.ratio)),
        uptake=uptake,
        volume_swell=swell,
        softened_transition=math.nan if spread is None else spread.quantile(spread.transition, 0.5),
        depth=depth,
        evidence=kind,
        confidence=_confidence(nature, spread, seen, same, taught),
        reasons=tuple(reasons),
        sources=_sources(nature, spread, seen, taught),
        ranges=_ranges(spread),
    )


def _amounts(
    nature: PolymerNature, outcome: str, spread: Spread | None, seen: Evidence | None
) -> tuple[float, float]:
    """Return volume swell and uptake that agree with the outcome: measured, else predicted within the word's range."""
    if outcome == "dissolves":
        return math.inf, 1.0
    if seen is not None and math.isfinite(seen.swell):
        swell = seen.swell
    elif spread is None:
        return math.nan, math.nan
    else:
        swell = spread.quantile(spread.swell, 0.5)
        low, high = _WORD_RANGE.get(outcome, (0.0, 20.0))
        swell = min(max(swell, low), high * (1 - 1e-9))
    held = max(swell, 0.0) / nature.active_share
    return swell, held / (1 + held)


def _depth(nature: PolymerNature, state: ExposureState) -> tuple[float, list[str]]:
    """Return how deep the liquid gets in the exposure's time, and a sentence."""
    if not np.isfinite(nature.diffusion).all():
        return math.nan, []
    low, typical, high = (
        float(diffusion_at(10.0**d, nature.activation[1], state.temperature)) for d in nature.diffusion
    )
    if math.isinf(state.time):
        halves = [half_time(d, 3e-3) / 86400 for d in (high, typical, low)]
        told = f"A 3 mm wall is half full after about {_days(halves[1])} ({_days(halves[0])} to {_days(halves[2])}) by diffusion alone."
        return math.inf, [told] if state.exposure == "soak" else []
    reached = [1e6 * float(penetration_depth(d, state.time)) for d in (low, typical, high)]
    told = (
        f"In {state.time:.0f} s the liquid reaches about {reached[1]:.2g} um deep ({reached[0]:.2g} to {reached[2]:.2g} um): "
        "a skin, unless the part was soaked before."
    )
    return reached[1] * 1e-6, [told]


def _days(days: float) -> str:
    if days < 1:
        return f"{max(24 * days, 0.1):.2g} hours"
    return f"{days:.2g} days" if days < 700 else f"{days / 365:.2g} years"


def _other_rows(seen: Evidence | None, same: Sequence[Evidence]) -> list[str]:
    if seen is None:
        return []
    others = [e for e in same if e is not seen]
    return [e.told for e in others if e.outcome != seen.outcome][:3]


def _prediction_told(
    nature: PolymerNature, spread: Spread, seen: Evidence | None, taught: Sequence[Evidence]
) -> list[str]:
    low, high = (100 * spread.quantile(spread.swell, share) for share in (0.05, 0.95))
    top = "dissolution" if math.isinf(high) else f"{high:.2g} %"
    near = "" if np.isnan(spread.ratio).all() else f" (RED {np.nanmin(spread.ratio):.2f} of the nearest of {len(nature.places)} published spheres)"
    verb = "would say" if seen is not None else "says"
    said = [
        f"Theory {verb} {spread.word}{near}: volume swell {low:.2g} % to {top}, {100 * spread.agreement:.0f} % of the "
        "spread on the same side of 5 %."
    ]
    if nature.near:
        said.append(f"It rests on {nature.near}.")
    if taught and seen is None:
        said.append(f"The prediction was corrected by what was seen: {'; '.join(e.told for e in taught[:2])}")
    if nature.filler > 0:
        said.append(f"{100 * nature.filler:.0f} % of its volume is filler, which takes up nothing.")
    glass = nature.transition
    soft = spread.quantile(spread.transition, 0.5)
    if np.isfinite(glass) and np.isfinite(soft):
        said.append(f"What it takes up would lower its glass transition from {glass - 273.15:.0f} to about {soft - 273.15:.0f} °C.")
    return said


def _confidence(
    nature: PolymerNature, spread: Spread | None, seen: Evidence | None, same: Sequence[Evidence], taught: Sequence[Evidence]
) -> str:
    if seen is not None:
        sides = {e.outcome in ATTACKED for e in same if e.trust == seen.trust}
        return "low" if len(sides) > 1 else _CONFIDENCE_OF_TRUST[seen.trust]
    sure = spread is not None and spread.agreement >= _SURE
    own = any(e.kind == "own soak" for e in taught)
    if sure and (own or not nature.near):
        return "medium"
    return "low"


def _sources(
    nature: PolymerNature, spread: Spread | None, seen: Evidence | None, taught: Sequence[Evidence]
) -> tuple[str, ...]:
    found = [] if seen is None else [seen.source]
    found += [e.source for e in taught]
    if spread is not None:
        found += [place.told for place in nature.places]
    return tuple(dict.fromkeys(found))


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
        {name: (spread.quantile(v, 0.05), spread.quantile(v, 0.95)) for name, v in named.items() if not np.isnan(v).any()}
    )


def attack_in_run(case: Case, draws: Conditions, gas: GasSide, polymer: Polymer, heat: CrownHeat) -> AttackInRun:
    """Return what the case's fuel does to a crown during the run, from the case's own cycle and crown temperatures.

    A crown under metal or coating meets neither liquid nor vapour on its face; the oil beneath still reaches it.
    """
    nature = polymer_nature(polymer.material.id, case)
    cycle = gas.cycle
    vapour = np.asarray(cycle.pressure * cycle.vapour_present * cycle.charge_vapour_mole_fraction)
    surface, wet = heat.surface_temperature, draws["wet_start_time"]
    if case.piston.crown_layers:
        vapour, wet = np.zeros_like(vapour), np.zeros_like(wet)
    run = RunExposure(
        wet_start_time=wet,
        ambient=draws["ambient"],
        times=heat.times,
        surface_temperature=surface,
        back_temperature=heat.back_temperature,
        vapour_pressure=vapour,
        crown_thickness=draws["crown_thickness"],
        horizon=float(heat.times[-1]),
    )
    error = None if nature is None else run_error(nature, case.fuel, case)
    seed = int(1e6 * float(draws["ambient"][0]) * draws["wet_start_time"][0]) % (2**31)
    return attack_over_draws(nature, case.fuel, run, seed, error)
