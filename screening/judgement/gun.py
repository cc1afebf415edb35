"""What a gun's reading off a named surface means, with the surface's emissivity as it is known."""

from __future__ import annotations

from dataclasses import dataclass

from screening.errors import OutOfRange
from screening.physics.thermometry import surface_temperature
from screening.records.surfaces import Surface, find_surface

PAINT = (
    "Paint a spot of matt black high-temperature paint on the part and point the gun at it: its emissivity is high and "
    "nearly known. (Tape gives up near 100 °C.)"
)
MIRROR = "A bright surface mirrors what is hot around it: near a silencer it reads the silencer."
_COLDEST, _HOTTEST = 213.15, 1773.15
_WELL_KNOWN = 0.1
"""Spread of emissivity [1] under which paint gains little (the project's own choice)."""


@dataclass(frozen=True)
class GunReading:
    """A reading and the temperatures [K] it stands for at the surface's high, typical and low emissivity."""

    reading: float
    gun_emissivity: float
    surroundings: float
    surface: Surface
    low: float
    typical: float
    high: float
    advice: tuple[str, ...]


def read_gun(reading: float, surface: str, gun_emissivity: float, surroundings: float) -> GunReading:
    """Return what a `reading` [K] off a surface of the table says, in `surroundings` [K].

    Raises UnknownName for a surface that is not in the table, OutOfRange for a reading it cannot give.
    """
    for name, kelvin in (("reading", reading), ("surroundings", surroundings)):
        if not _COLDEST <= kelvin <= _HOTTEST:
            raise OutOfRange(f"{name}: got {kelvin - 273.15:g} °C; must be -60 to 1500 °C")
    found = find_surface(surface)
    emissivities = [found.low, found.typical, found.high]
    at_low, typical, at_high = surface_temperature(reading, gun_emissivity, emissivities, surroundings)
    advice = (PAINT, MIRROR) if found.high - found.low > _WELL_KNOWN else ()
    low, high = sorted((float(at_low), float(at_high)))
    return GunReading(reading, gun_emissivity, surroundings, found, low, float(typical), high, advice)
