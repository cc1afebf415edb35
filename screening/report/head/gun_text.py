"""A temperature gun's reading and the surface's temperature, as text and as a document."""

from __future__ import annotations

import textwrap
from typing import Any

from screening.judgement.head.gun import GunReading
from screening.quantities import from_si


def gun_document(gun: GunReading) -> dict[str, Any]:
    """Return the reading and the surface's temperature; temperatures in degC."""
    return {
        "reading_C": round(from_si(gun.reading, "degC"), 2),
        "gun_emissivity": gun.gun_emissivity,
        "surroundings_C": round(from_si(gun.surroundings, "degC"), 2),
        "surface": gun.surface.surface,
        "surface_name": gun.surface.name,
        "surface_emissivity": [gun.surface.low, gun.surface.typical, gun.surface.high],
        "temperature_C": round(from_si(gun.typical, "degC"), 1),
        "temperature_range_C": [round(from_si(value, "degC"), 1) for value in (gun.low, gun.high)],
        "source": gun.surface.source,
        "how": gun.surface.how,
        "advice": list(gun.advice),
    }


def gun_sheet(gun: GunReading) -> str:
    """Return the reading and the surface's temperature as text for a terminal."""
    d = gun_document(gun)
    low, high = d["temperature_range_C"]
    least, usual, most = (f"{value:g}" for value in d["surface_emissivity"])
    lines = [
        f"Surface: {d['surface_name']} (emissivity about {usual} ({least} to {most}); {d['how']}, {d['source']})",
        f"The gun, set to {d['gun_emissivity']:g}, shows {d['reading_C']:g} °C.",
        f"The surface is at about {d['temperature_C']:.0f} °C ({low:.0f} to {high:.0f} °C).",
    ]
    return "\n".join(part for line in [*lines, *d["advice"]] for part in textwrap.wrap(line, 100))
