"""Can this printer print that material: prints, prints with care, or cannot, each with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from screening.judgement.case.case import Printer
from screening.quantities import from_si
from screening.records.materials.materials import Material, Value

PRINTS, CARE, CANNOT, UNKNOWN = "prints", "prints with care", "cannot", "unknown"

_DRY_ABOVE = 0.005
"""Moisture uptake at saturation above which filament is dried before printing [1] (common practice, no source)."""


@dataclass(frozen=True)
class Printability:
    """The outcome word and the sentences that give its reasons."""

    outcome: str
    reasons: tuple[str, ...]


def judge_printability(material: Material, printer: Printer) -> Printability:
    """Return whether a printer prints a material.

    A need that the printer does not reach even at its low end means "cannot"; one reached at the low end but not at
    the typical value, missing equipment or a careful step means "prints with care". Nozzle and bed decide; a chamber
    colder than the low end is "cannot" only for parts that would split, which a piston is.

    Parameters
    ----------
    material : Material
        With its needs in kelvin.
    printer : Printer
        What the printer reaches [K] and has.

    Returns
    -------
    Printability
        "prints", "prints with care", "cannot", or "unknown" where no nozzle temperature is known.
    """
    if "filament" not in material.form:
        return Printability(CANNOT, (f"{material.name} is not to be had as filament ({material.form}).",))
    hard, soft = [], []
    reaches = (("nozzle", "nozzle_temperature", printer.nozzle), ("bed", "bed_temperature", printer.bed),
               ("chamber", "chamber_temperature", printer.chamber))  # fmt: skip
    for part, name, reached in reaches:
        need = material.value(name)
        if need is None:
            if part == "nozzle":
                return Printability(UNKNOWN, ("No printing temperature is known.",))
            continue
        said = (
            f"The {part} should reach {_c(need.typical)} ({_c(need.low)} to {_c(need.high)}) and reaches {_c(reached)}"
        )
        if reached < need.low:
            hard.append(f"{said}: too cold.")
        elif reached < need.typical:
            soft.append(f"{said}: at the low end.")
    soft += _care(material, printer)
    if hard:
        return Printability(CANNOT, (*hard, *soft))
    return Printability(CARE, tuple(soft)) if soft else Printability(PRINTS, ("The printer reaches all it needs.",))


def _care(material: Material, printer: Printer) -> list[str]:
    care = []
    abrasive = material.value("abrasive")
    if abrasive is not None and abrasive.typical > 0.5 and not printer.hardened_nozzle:
        care.append("Its filler wears a brass nozzle out; fit a hardened one.")
    moisture = material.value("moisture_uptake")
    drying = material.value("drying_temperature")
    if moisture is not None and moisture.typical > _DRY_ABOVE and not printer.dryer:
        how = f" at {_c(drying.typical)}{_hours(material.value('drying_time'))}" if drying is not None else ""
        care.append(f"It takes up water: dry the filament{how} before printing.")
    annealing = material.value("annealing_temperature")
    if annealing is not None and "anneal" in f"{material.name} {material.note}".lower():
        oven = printer.annealing_oven
        if oven is None:
            care.append(f"Its values hold annealed, at {_c(annealing.typical)}; no oven is named.")
        elif oven < annealing.low:
            care.append(f"Its values hold annealed, at {_c(annealing.typical)}; the oven reaches {_c(oven)}.")
    return care


def _hours(time: Value | None) -> str:
    return f" for {from_si(time.typical, 'h'):.0f} h" if time is not None else ""


def _c(kelvin: float) -> str:
    return f"{from_si(kelvin, 'degC'):.0f} °C"
