"""Can this printer print that material: prints, prints with care, or cannot, each with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from screening.judgement.case.case import Printer
from screening.quantities import from_si
from screening.records.materials.materials import Material, Value
from screening.sentences import Sentence, Temperature, Text, sentence

PRINTS, CARE, CANNOT, UNKNOWN = "prints", "prints with care", "cannot", "unknown"

ANNEALED = "annealed"
"""The state of a material in `materials.csv` whose values hold only once it was annealed."""
_DRY_ABOVE = 0.005
"""Moisture uptake at saturation above which filament is dried before printing [1] (common practice, no source)."""


@dataclass(frozen=True)
class Printability:
    """Whether a printer prints a material: the `outcome` word, and the `reasons` in sentences."""

    outcome: str
    reasons: tuple[Text, ...]


def judge_printability(material: Material, printer: Printer) -> Printability:
    """Return the outcome of printing a material on a printer, with its reasons.

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
    if "printable" not in material.roles:
        return Printability(CANNOT, (f"{material.name} is not to be had as filament ({material.form}).",))
    if material.value("nozzle_temperature") is None:
        return Printability(UNKNOWN, ("No printing temperature is known.",))
    cannot, care = _needs_unmet(material, printer)
    care += _care(material, printer)
    if cannot:
        return Printability(CANNOT, (*cannot, *care))
    return Printability(CARE, tuple(care)) if care else Printability(PRINTS, ("The printer reaches all it needs.",))


def _needs_unmet(material: Material, printer: Printer) -> tuple[list[Text], list[Text]]:
    """Parts of the printer too cold for the material, and parts that only reach the low end of its need."""
    too_cold: list[Text] = []
    low_end: list[Text] = []
    for part, reached in (("nozzle", printer.nozzle), ("bed", printer.bed), ("chamber", printer.chamber)):
        need = material.value(f"{part}_temperature")
        if need is None:
            continue
        if reached < need.low:
            too_cold.append(_need_sentence(part, need, reached, "too cold"))
        elif reached < need.typical:
            low_end.append(_need_sentence(part, need, reached, "at the low end"))
    return too_cold, low_end


def _need_sentence(part: str, need: Value, reached: float, how: str) -> Sentence:
    return sentence(
        "The {part} should reach {typical} ({low} to {high}) and reaches {reached}: {how}.",
        part=part,
        typical=Temperature(need.typical),
        low=Temperature(need.low),
        high=Temperature(need.high),
        reached=Temperature(reached),
        how=how,
    )


def _care(material: Material, printer: Printer) -> list[Text]:
    """Care the material asks of whoever prints it: a hard nozzle, drying, annealing."""
    care: list[Text] = []
    abrasive = material.value("abrasive")
    if abrasive is not None and abrasive.typical > 0.5 and not printer.hardened_nozzle:
        care.append("Its filler wears a brass nozzle out; fit a hardened one.")
    moisture = material.value("moisture_uptake")
    if moisture is not None and moisture.typical > _DRY_ABOVE and not printer.dryer:
        care.append(_drying_sentence(material.value("drying_temperature"), material.value("drying_time")))
    annealing = material.value("annealing_temperature")
    if annealing is not None and material.state == ANNEALED:
        at, oven = Temperature(annealing.typical), printer.annealing_oven
        if oven is None:
            care.append(sentence("Its values hold annealed, at {at}; no oven is named.", at=at))
        elif oven < annealing.low:
            reached = Temperature(oven)
            care.append(
                sentence("Its values hold annealed, at {at}; the oven reaches {reached}.", at=at, reached=reached)
            )
    return care


def _drying_sentence(temperature: Value | None, time: Value | None) -> Text:
    if temperature is None:
        return "It takes up water: dry the filament before printing."
    long = "" if time is None else f" for {from_si(time.typical, 'h'):.0f} h"
    return sentence(
        "It takes up water: dry the filament at {at}{long} before printing.",
        at=Temperature(temperature.typical),
        long=long,
    )
