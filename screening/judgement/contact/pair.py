"""What a fuel does to a material: `assess_contact` weighs own soak tests, published contacts and theory.

The outcome is one of the words of `outcome_words`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.contact.contact_reasons import (
    depth_reached,
    exposure_notes,
    other_rows,
    prediction_told,
    sources_of,
)
from screening.judgement.contact.during_run import AttackInRun, ContactDraws, RunExposure, attack_over_draws
from screening.judgement.contact.exposures import EXPOSURES, exposure_state
from screening.judgement.contact.learning import nearest, taught_by
from screening.judgement.contact.nature import polymer_nature
from screening.judgement.contact.outcome_words import ATTACKED, UNKNOWN
from screening.judgement.contact.prediction import Spread
from screening.judgement.contact.weighing import Judged, Weighed, amounts, judged, weigh
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.physics.crown.crown_heat import CrownHeat
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.sentences import Text, joined

__all__ = [
    "EXPOSURES",
    "Contact",
    "Judged",
    "assess_contact",
    "attack_in_run",
    "judged_contact",
    "judged_contacts",
]


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
    reasons: tuple[Text, ...]
    sources: tuple[str, ...]
    ranges: Mapping[str, tuple[float, float]] = field(compare=False)

    @property
    def attacked(self) -> bool | None:
        """Whether the outcome is an attack (swells or worse); None where it is not known."""
        return None if self.outcome == UNKNOWN else self.outcome in ATTACKED


def assess_contact(
    material_id: str,
    fuel: Fuel | str,
    temperature: float | None = None,
    exposure: str = "soak",
    case: Case | None = None,
    use_observations: bool = True,
) -> Contact:
    """Contact of a fuel with a material.

    Parameters
    ----------
    material_id : str
        An id of the table, or of the case's own materials.
    fuel : Fuel or str
        A name, a CAS number, a blend, or a `Fuel`.
    temperature : float, optional
        Of liquid and part; of the crown's surface when running [K]. Left out, a soak is at 296.15 K and the other
        exposures take their own: see `exposure_state`.
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

    Returns
    -------
    Contact

    Notes
    -----
    Own soak tests come before published contacts, those before the prediction; `evidence` says which it rests on.

    References
    ----------
    Hansen (2007), Hansen Solubility Parameters: A User's Handbook; Flory (1953), Principles of Polymer Chemistry; the parts'
    own docstrings say how each was read.

    Examples
    --------
    An ester dissolves ABS (well known in any workshop), and leaves polypropylene whole:

    >>> assess_contact("abs", "ethyl acetate").outcome
    'dissolves'
    >>> assess_contact("pp", "ethyl acetate").outcome in ("none", "slight", "swells")
    True
    """
    liquid = find_fuel(fuel) if isinstance(fuel, str) else fuel
    state = exposure_state(exposure, liquid, temperature, case)
    (weighed,) = weigh(material_id, [liquid], [state], case, use_observations)
    if weighed.why_unknown:
        return _bare(material_id, liquid, weighed)
    return _contact(liquid, weighed)


def judged_contact(
    material_id: str, fuel: Fuel, temperature: float | None = None, exposure: str = "soak", case: Case | None = None
) -> Judged:
    """Return the outcome of `assess_contact` without its sentences."""
    return judged_contacts([material_id], [fuel], temperature, exposure, case)[0][0]


def judged_contacts(
    material_ids: Sequence[str],
    fuels: Sequence[Fuel],
    temperature: float | None = None,
    exposure: str = "soak",
    case: Case | None = None,
) -> list[list[Judged]]:
    """Return the outcomes of every material with every fuel: a row a material, in it a column a fuel."""
    states = [exposure_state(exposure, fuel, temperature, case) for fuel in fuels]
    return [[judged(w) for w in weigh(material, fuels, states, case)] if states else [] for material in material_ids]


def _bare(material_id: str, fuel: Fuel, w: Weighed) -> Contact:
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


def _contact(fuel: Fuel, w: Weighed) -> Contact:
    assert w.nature is not None
    nature, state, spread, seen = w.nature, w.state, w.spread, w.seen
    found = judged(w)
    taught = taught_by(nature, w.evidence, state.liquids[0]) if state.liquids else ()
    reached, depth_told = depth_reached(nature, state)
    reasons: list[Text] = [state.told]
    reasons += [] if seen is None else [seen.told]
    reasons += other_rows(seen, w.same)
    if spread is not None:
        reasons += prediction_told(nature, spread, seen, taught)
    close = nearest(w.evidence, fuel)
    if seen is None and close is not None:
        likeness = f"Nearest seen (likeness of the liquids {close[1]:.2f} of 1):"
        reasons.append(joined([likeness, close[0].told]))
    return Contact(
        material=nature.id,
        material_name=nature.name,
        fuel=fuel.name,
        exposure=state.exposure,
        temperature=state.temperature,
        outcome=found.outcome,
        distance_ratio=found.distance_ratio,
        uptake=amounts(w, found.outcome)[1],
        volume_swell=found.volume_swell,
        softened_transition=math.nan if spread is None else spread.quantile(spread.transition, 0.5),
        depth=reached,
        evidence=found.evidence,
        confidence=found.confidence,
        reasons=(*reasons, *depth_told, *exposure_notes(nature, state)),
        sources=sources_of(nature, spread, seen, taught),
        ranges=_ranges(spread),
    )


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
    """Contact of the case's fuel with a crown during the run, from the case's cycle and crown temperatures.

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
        surface_temperature=heat.held(heat.surface_temperature),
        back_temperature=heat.held(heat.back_temperature),
        vapour_pressure=vapour,
        blow_by_pressure=np.asarray(cycle.charge_vapour_mole_fraction * draws["ambient_pressure"]),
        crown_thickness=draws["crown_thickness"],
        horizon=float(heat.times[-1]),
    )
    return attack_over_draws(nature, case.fuel, run, contact)
