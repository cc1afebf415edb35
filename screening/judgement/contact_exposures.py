"""How a fuel reaches a part: soaking it, wetting it cold, as vapour in the running engine, from the sump.

`attack_over_draws` carries the last three through a run, draw by draw.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from screening.errors import CaseError, UnknownName
from screening.judgement.case import Case
from screening.judgement.contact_liquids import WettingLiquid, wetting_liquids
from screening.physics.vapour_exposure import compressed_vapour_pressure, mean_and_peak_activity
from screening.records.assumptions import load_assumptions
from screening.records.blends import mix
from screening.records.fuels import Fuel, find_fuel

FloatArray = np.ndarray

EXPOSURES = ("soak", "cold start", "running", "sump")
ROOM = 296.15
"""Temperature of a soak [K] where none is stated."""
RUNNING_SURFACE = 423.15
"""Crown surface [K] of the running exposure where none is stated: cool, reached within seconds (common practice)."""
RESIDUAL_SHARE = 0.1
"""Burned gas left in the charge (Heywood 1988, ch. 6: 5 to 20 %, from memory)."""
ALCOHOL_IN_OIL = 4.0
"""Activity over mole fraction of an alcohol in oil, which hardly dissolves it (common practice; higher when dilute)."""


@dataclass(frozen=True)
class ExposureState:
    """What a part meets: temperature [K], activity of the fuel [1], its liquids, wet time [s] (inf: without end)."""

    exposure: str
    temperature: float
    activity: float
    peak_activity: float
    liquids: tuple[WettingLiquid, ...]
    time: float
    told: str


def exposure_state(
    exposure: str, fuel: Fuel, temperature: float | None = None, case: Case | None = None
) -> ExposureState:
    """Return what a part meets in one of `EXPOSURES`.

    Where no `temperature` [K] is stated, a soak takes 296.15 K, a cold start the case's ambient (or 296.15 K), the
    running engine a crown surface of 150 degC, and the sump the case's (or a usual) crankcase.

    Raises
    ------
    UnknownName
        For another exposure.
    """
    if exposure not in EXPOSURES:
        raise UnknownName("exposure", exposure, EXPOSURES)
    kelvin = _own_temperature(exposure, case) if temperature is None else temperature
    if exposure == "soak":
        told = f"Soak: a 3 mm part in the liquid at {kelvin - 273.15:.0f} °C for six weeks."
        return ExposureState(exposure, kelvin, 1.0, 1.0, wetting_liquids(fuel, kelvin), np.inf, told)
    assumed = load_assumptions()
    if exposure == "cold start":
        wet = assumed["wet_start_time"].typical
        told = f"Cold start: liquid on the crown at {kelvin - 273.15:.0f} °C for about {wet:.0f} s."
        return ExposureState(exposure, kelvin, 1.0, 1.0, wetting_liquids(fuel, kelvin), wet, told)
    if exposure == "running":
        return _running(fuel, kelvin, case)
    share = assumed["fuel_in_oil"].typical
    told = f"Sump: oil with {100 * share:.0f} % of fuel by volume at {kelvin - 273.15:.0f} °C."
    return ExposureState(exposure, kelvin, 1.0, 1.0, sump_liquids(fuel, share), np.inf, told)


def _own_temperature(exposure: str, case: Case | None) -> float:
    if exposure == "running":
        return RUNNING_SURFACE
    if exposure == "sump":
        return load_assumptions()["crankcase"].typical if case is None else case.operation.crankcase
    return ROOM if exposure == "soak" or case is None else case.operation.ambient


def _running(fuel: Fuel, kelvin: float, case: Case | None) -> ExposureState:
    peak = default_vapour_peak(fuel, case)
    ratio = load_assumptions()["compression_ratio"].typical if case is None else case.engine.compression_ratio
    saturation = float(fuel.vapour_pressure(kelvin))
    if not np.isfinite(saturation):
        told = f"Running: the vapour pressure of {fuel.name} is not known, so neither is what its vapour does."
        return ExposureState("running", kelvin, np.nan, np.nan, (), np.inf, told)
    mean, top = (float(v) for v in mean_and_peak_activity(compressed_vapour_pressure(peak, ratio), saturation))
    whose = "a usual part-load charge" if case is None else "the case's compression ratio and mixture at part load"
    told = (
        f"Running: vapour of up to {peak / 1e3:.0f} kPa ({whose}) over a surface at {kelvin - 273.15:.0f} °C, "
        f"where the liquid's own pressure is {saturation / 1e3:.0f} kPa: activity {mean:.3f} on average over the "
        f"cycle, {top:.2f} at most."
    )
    if top >= 1:
        told += " The wall is wet from the vapour alone for part of each cycle."
    liquids = wetting_liquids(fuel, kelvin)
    return ExposureState("running", kelvin, mean, top, liquids, np.inf, told)


def default_vapour_peak(fuel: Fuel, case: Case | None = None) -> float:
    """Return the highest partial pressure of unburned fuel [Pa] in a usual part-load charge, from p V^1.3 constant.

    The mixture, the charge and the compression ratio are the table's typical values or the case's.
    """
    assumed = load_assumptions()
    richness = assumed["equivalence_ratio"].typical if case is None else case.operation.equivalence_ratio
    ratio = assumed["compression_ratio"].typical if case is None else case.engine.compression_ratio
    filling = assumed["throttled_charge"].typical
    if case is not None and case.operation.throttle is not None:
        filling = case.operation.throttle * assumed["full_charge"].typical
    share = (1 - RESIDUAL_SHARE) / (1 + fuel.air_need / richness) if fuel.air_need > 0 else 0.0
    start = assumed["ambient_pressure"].typical * filling * (1 + RESIDUAL_SHARE)
    return float(share * start * ratio**1.3)


@lru_cache(maxsize=256)
def sump_liquids(fuel: Fuel, share: float) -> tuple[WettingLiquid, ...]:
    """Return oil with a volume share of fuel as liquids: the mixture, the oil alone, the fuel's components alone.

    Activities are mole fractions in the oil (ideal), four times that for alcohols; empty where the fuel is not known
    well enough to mix.
    """
    try:
        diluted = mix(
            [(find_fuel("mineral oil"), 1 - share), (fuel, share)], f"oil with {100 * share:.0f} % {fuel.name}"
        )
    except CaseError:
        return ()
    found = wetting_liquids(diluted)
    if not found:
        return ()
    amounts = {s.component.name: s.mole_fraction for s in diluted.components}
    parts = [
        replace(q, activity=min(1.0, amounts[q.name] * (ALCOHOL_IN_OIL if q.associated else 1.0)))
        for q in found[1:]
        if q.name in amounts
    ]
    return (found[0], *parts)
