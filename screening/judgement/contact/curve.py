"""How much of a liquid a material holds against the liquid's activity, and where the exposures stand on that curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.contact.evidence import Evidence
from screening.judgement.contact.exposures import EXPOSURES, OIL, ExposureState, exposure_state
from screening.judgement.contact.learning import learned_errors
from screening.judgement.contact.liquids import WettingLiquid, wetting_liquids
from screening.judgement.contact.nature import PolymerNature, polymer_nature
from screening.judgement.contact.prediction import Spread, predict_many
from screening.judgement.contact.weighing import all_evidence
from screening.records.liquids.find_fuel import Fuel

ACTIVITIES = np.geomspace(1e-3, 1.0, 61)
"""Three decades: below a thousandth nothing is taken up that could be told from nothing."""


@dataclass(frozen=True)
class UptakePoint:
    """Where an exposure stands: activity [1], temperature [K], uptake (5th, 50th, 95th percentile) [1]."""

    exposure: str
    activity: float
    temperature: float
    uptake: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class UptakeCurve:
    """Uptake of a liquid as a whole at equilibrium, volume fraction of what takes it up; arrays (n_activity,) [1].

    `low`, `typical` and `high` are the 5th, 50th and 95th percentile over the published spheres and the error of the
    interaction parameter; `temperature` [K]. Each point is at its own temperature, so that it may lie off the curve.
    """

    temperature: float
    activity: FloatArray
    low: FloatArray
    typical: FloatArray
    high: FloatArray
    points: tuple[UptakePoint, ...]


def uptake_curve(
    material_id: str, fuel: Fuel, case: Case | None = None, use_observations: bool = True
) -> UptakeCurve | None:
    """Return the uptake of a fuel by a material against its activity; None where theory says nothing.

    Flory-Huggins or Flory-Rehner at each activity, with what was seen of the pair and of liquids like it in the error
    of chi. A blend is taken as one liquid; its components alone, which `assess_contact` weighs too, are left out. A
    glass holds more than this at low activity (frozen-in free volume) and takes long to fill.
    """
    nature = polymer_nature(material_id, case)
    soak = exposure_state("soak", fuel, None, case)
    if nature is None or not nature.places or not soak.liquids:
        return None
    evidence = all_evidence(nature, case) if use_observations else ()
    low, typical, high = _uptakes(nature, evidence, soak.liquids[0], soak.temperature, ACTIVITIES)
    points = []
    for exposure in EXPOSURES:
        state = exposure_state(exposure, fuel, None, case)
        activity = fuel_activity(state)
        if np.isfinite(activity):
            liquid = wetting_liquids(fuel, state.temperature)[0]
            at = _uptakes(nature, evidence, liquid, state.temperature, np.array([activity]))[:, 0]
            points.append(
                UptakePoint(exposure, activity, state.temperature, (float(at[0]), float(at[1]), float(at[2])))
            )
    return UptakeCurve(soak.temperature, ACTIVITIES, low, typical, high, tuple(points))


def fuel_activity(state: ExposureState) -> float:
    """Return the activity of the fuel as a whole [1] in an exposure, NaN where it is not known.

    In the sump it is the sum over what the oil holds beside itself: 1 for the ideal fuel on its own.
    """
    if state.exposure != "sump":
        return state.activity if state.liquids else np.nan
    return min(1.0, sum(q.activity for q in state.liquids[1:] if q.name != OIL)) if state.liquids[1:] else np.nan


def _uptakes(
    nature: PolymerNature,
    evidence: tuple[Evidence, ...],
    liquid: WettingLiquid,
    temperature: float,
    activities: FloatArray,
) -> FloatArray:
    """Return the 5th, 50th and 95th percentile of the uptake, (3, n_activity)."""
    many = [(liquid,)] * activities.size
    errors = learned_errors(nature, evidence, [liquid] * activities.size)
    spreads = predict_many(nature, many, temperature, list(activities), errors, skin=True)
    return np.array([_percentiles(spread) for spread in spreads if spread is not None]).T


def _percentiles(spread: Spread) -> tuple[float, ...]:
    return tuple(spread.quantile(spread.uptake, share) for share in (0.05, 0.5, 0.95))
