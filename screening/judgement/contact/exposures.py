"""How a fuel reaches a part: soaking it, wetting it cold, as vapour in the running engine, from the sump.

`attack_over_draws` carries the last three through a run, draw by draw.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from screening.errors import CaseError, OutOfRange, UnknownName
from screening.judgement.case.case import Case
from screening.judgement.case.case_file import case_schema
from screening.judgement.contact.liquids import WettingLiquid, wetting_liquids
from screening.physics.contact.vapour import compressed_vapour_pressure, mean_and_peak_activity
from screening.quantities import ROOM_TEMPERATURE, from_si, to_si
from screening.records.liquids.blends import mix
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.records.tables.assumptions import load_assumptions
from screening.sentences import Temperature, Text, joined, sentence
from screening.words import share_of

EXPOSURES = ("soak", "cold start", "running", "sump")


@dataclass(frozen=True)
class ExposureState:
    """What a part meets: temperature [K], activity of the fuel [1], its liquids, wet time [s] (inf: without end)."""

    exposure: str
    temperature: float
    activity: float
    liquids: tuple[WettingLiquid, ...]
    time: float
    told: Text


def exposure_state(
    exposure: str, fuel: Fuel, temperature: float | None = None, case: Case | None = None
) -> ExposureState:
    """Activity, temperature and time that a part meets in one of `EXPOSURES`.

    Where no `temperature` [K] is stated, a soak takes 296.15 K, a cold start the case's ambient (or 296.15 K), the
    running engine a crown surface of 150 degC, and the sump the case's (or a usual) crankcase.

    Raises
    ------
    UnknownName
        For another exposure.
    OutOfRange
        For a soak outside the temperatures that a soak test of a case may have.
    """
    if exposure not in EXPOSURES:
        raise UnknownName("exposure", exposure, EXPOSURES)
    kelvin = _own_temperature(exposure, case) if temperature is None else temperature
    if exposure == "soak":
        _check_soak(kelvin)
        told = sentence("Soak: a 3 mm part in the liquid at {at} for six weeks.", at=Temperature(kelvin))
        return ExposureState(exposure, kelvin, 1.0, wetting_liquids(fuel, kelvin), np.inf, told)
    assumed = load_assumptions()
    if exposure == "cold start":
        wet = assumed["wet_start_time"].typical
        told = sentence(
            "Cold start: liquid on the crown at {at} for about {wet} s.", at=Temperature(kelvin), wet=f"{wet:.0f}"
        )
        return ExposureState(exposure, kelvin, 1.0, wetting_liquids(fuel, kelvin), wet, told)
    if exposure == "running":
        return _running(fuel, kelvin, case)
    share = assumed["fuel_in_oil"].typical
    blow_by = charge_vapour_share(fuel, case) * assumed["ambient_pressure"].typical
    liquids, held = sump_liquids(fuel, share, kelvin, blow_by)
    told = sentence(
        "Sump: oil with {share} % of fuel by volume at {at}.", share=f"{100 * share:.0f}", at=Temperature(kelvin)
    )
    if held < 0.95:
        left = f"{100 * held * share:.1g}"
        told = joined(
            [
                told,
                f"Hot oil gives so volatile a fuel back to the blow-by gas: about {left} % of the oil is fuel in the end.",
            ]
        )
    return ExposureState(exposure, kelvin, 1.0, liquids, np.inf, told)


def _check_soak(kelvin: float) -> None:
    field = case_schema()["properties"]["soak_tests"]["items"]["properties"]["temperature_C"]
    low, high = field["minimum"], field["maximum"]
    if not to_si(low, "degC") <= kelvin <= to_si(high, "degC"):
        raise OutOfRange(f"temperature of the soak: got {from_si(kelvin, 'degC'):g} °C; must be {low:g} to {high:g} °C")


def _own_temperature(exposure: str, case: Case | None) -> float:
    if exposure == "running":
        return load_assumptions()["running_surface"].typical
    if exposure == "sump":
        return load_assumptions()["crankcase"].typical if case is None else case.operation.crankcase
    return ROOM_TEMPERATURE if exposure == "soak" or case is None else case.operation.ambient


def _running(fuel: Fuel, kelvin: float, case: Case | None) -> ExposureState:
    peak = default_vapour_peak(fuel, case)
    ratio = load_assumptions()["compression_ratio"].typical if case is None else case.engine.compression_ratio
    saturation = float(fuel.vapour_pressure(kelvin))
    if not np.isfinite(saturation):
        unknown = f"Running: the vapour pressure of {fuel.name} is not known, so neither is what its vapour does."
        return ExposureState("running", kelvin, np.nan, (), np.inf, unknown)
    mean, top = (float(v) for v in mean_and_peak_activity(compressed_vapour_pressure(peak, ratio), saturation))
    whose = "a usual part-load charge" if case is None else "the case's compression ratio and mixture at part load"
    said = sentence(
        "Running: vapour of up to {peak} kPa ({whose}) over a surface at {at}, which turns wet at {saturation} kPa: over the "
        "cycle the vapour is at {mean} of that on average and {top} at most.",
        peak=f"{peak / 1e3:.0f}",
        whose=whose,
        at=Temperature(kelvin),
        saturation=f"{saturation / 1e3:.0f}",
        mean=share_of(mean),
        top=share_of(top),
    )
    wet = "The wall is wet from the vapour alone for part of each cycle." if top >= 1 else ""
    told = joined([said, wet])
    liquids = wetting_liquids(fuel, kelvin)
    return ExposureState("running", kelvin, mean, liquids, np.inf, told)


def default_vapour_peak(fuel: Fuel, case: Case | None = None) -> float:
    """Return the highest partial pressure of unburned fuel [Pa] in a usual part-load charge, from p V^1.3 constant.

    The mixture, the charge and the compression ratio are the table's typical values or the case's.
    """
    assumed = load_assumptions()
    ratio = assumed["compression_ratio"].typical if case is None else case.engine.compression_ratio
    filling = assumed["throttled_charge"].typical
    if case is not None and case.operation.throttle is not None:
        filling = case.operation.throttle * assumed["full_charge"].typical
    start = assumed["ambient_pressure"].typical * filling * (1 + assumed["residual_share"].typical)
    return float(charge_vapour_share(fuel, case) * start * ratio**1.3)


def charge_vapour_share(fuel: Fuel, case: Case | None = None) -> float:
    """Return the mole fraction of unburned fuel in the charge [1], wholly evaporated, at the case's or usual mixture."""
    assumed = load_assumptions()
    richness = assumed["equivalence_ratio"].typical if case is None else case.operation.equivalence_ratio
    fresh = 1 - assumed["residual_share"].typical
    return fresh / (1 + fuel.air_need / richness) if fuel.air_need > 0 else 0.0


@lru_cache(maxsize=256)
def sump_liquids(
    fuel: Fuel, share: float, temperature: float, blow_by: float
) -> tuple[tuple[WettingLiquid, ...], float]:
    """Return oil that holds fuel as liquids (the mixture, the oil alone, the fuel's components alone), and how much of
    the fuel stays in it [1].

    Activities in the oil are mole fraction times UNIFAC coefficient (the oil as a paraffin). Hot oil and blow-by gas
    soon come to balance in a splashed crankcase: of a component no more stays than makes its own partial pressure in
    that gas, `blow_by` [Pa] times its share of the fuel, over its vapour pressure. No liquids where the fuel is not
    known well enough to mix.
    """
    try:
        full = _diluted(fuel, share)
        bounds = {
            s.component.name: s.mole_fraction * blow_by / float(s.component.vapour.pressure(temperature))
            for s in fuel.components
            if s.component.vapour is not None
        }
        parts = _in_oil(full, temperature)
        wanted = sum(q.activity for q in parts if q.name != OIL)
        kept = [min(q.activity, bounds.get(q.name, np.inf)) for q in parts if q.name != OIL]
        held = float(np.nan_to_num(sum(kept), nan=wanted)) / wanted if wanted > 0 else 1.0
        mixed = _diluted(fuel, max(held, 1e-3) * share)
    except CaseError:
        return (), 1.0
    whole = wetting_liquids(mixed, temperature)
    if not whole:
        return (), 1.0
    bounded = [replace(q, activity=float(np.fmin(q.activity, bounds.get(q.name, 1.0)))) for q in parts]
    return (whole[0], *bounded), held


OIL = "mineral oil"


def _diluted(fuel: Fuel, share: float) -> Fuel:
    return mix([(find_fuel(OIL), 1 - share), (fuel, share)], f"oil with {100 * share:.2g} % {fuel.name}")


def _in_oil(diluted: Fuel, temperature: float) -> list[WettingLiquid]:
    """Return each component of diluted oil at its activity."""
    amounts = {s.component.name: s.mole_fraction for s in diluted.components}
    alcohol = load_assumptions()["alcohol_in_oil"].typical
    known = all(s.component.groups for s in diluted.components)
    return [
        q if known else replace(q, activity=min(1.0, amounts[q.name] * (alcohol if q.associated else 1.0)))
        for q in wetting_liquids(diluted, temperature)[1:]
        if q.name in amounts
    ]
