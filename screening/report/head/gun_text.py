"""A temperature gun's reading and the temperature of the surface it is pointed at, as text and as a document."""

from __future__ import annotations

import textwrap
from typing import Any

from screening.judgement.head.gun import GunReading
from screening.quantities import from_si
from screening.sentences import TRADE, Temperature, TemperatureRange, Text, Units, sentence, worded


def gun_document(gun: GunReading) -> dict[str, Any]:
    """Return the reading and the surface's temperature; temperatures in degC."""
    return {
        "reading_C": round(from_si(gun.reading, "degC"), 2),
        "gun_emissivity": gun.gun_emissivity,
        "surroundings_C": round(from_si(gun.surroundings, "degC"), 2),
        "gun_compensates_for_C": round(from_si(gun.compensated_for, "degC"), 2),
        "surface": gun.surface.surface,
        "surface_name": gun.surface.name,
        "surface_emissivity": [gun.surface.low, gun.surface.typical, gun.surface.high],
        "temperature_C": round(from_si(gun.typical, "degC"), 1),
        "temperature_range_C": [round(from_si(value, "degC"), 1) for value in (gun.low, gun.high)],
        "source": gun.surface.source,
        "how": gun.surface.how,
        "advice": [worded(text) for text in gun.advice],
    }


def gun_sheet(gun: GunReading, units: Units = TRADE) -> str:
    """Return the reading and the surface's temperature as text for a terminal."""
    surface = gun.surface
    reading = f"{round(units.degrees(gun.reading), 2):g} {units.temperature}"
    lines: list[Text] = [
        f"Surface: {surface.name} (emissivity about {surface.typical:g} ({surface.low:g} to {surface.high:g}); "
        f"{surface.how}, {surface.source})",
        f"The gun, set to {gun.gun_emissivity:g}, shows {reading}.",
        sentence(
            "The surface mirrors {around}; the gun takes that to be {taken}.",
            around=Temperature(gun.surroundings),
            taken=Temperature(gun.compensated_for),
        ),
        sentence(
            "The surface is at about {typical} ({ends}).",
            typical=Temperature(gun.typical),
            ends=TemperatureRange(gun.low, gun.high),
        ),
        *gun.advice,
    ]
    return "\n".join(part for line in lines for part in textwrap.wrap(worded(line, units), 100))
