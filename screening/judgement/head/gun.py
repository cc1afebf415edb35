"""How hot is a surface that a gun reads, and what would make the reading surer?"""

from __future__ import annotations

from dataclasses import dataclass

from screening.errors import OutOfRange
from screening.physics.head.thermometry import expected_reading, surface_temperature
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.surfaces import Surface, find_surface
from screening.sentences import Temperature, TemperatureRange, Text, sentence

PAINT = sentence(
    "Paint a spot of matt black high-temperature paint on the part and point the gun at it: its emissivity is high and "
    "nearly known. (Tape gives up near {limit}.)",
    limit=Temperature(373.15),
)
MIRROR = (
    "A bright surface mirrors what is hot around it: near a silencer it reads the silencer. Where it does, say so as its "
    "surroundings; what the gun takes them to be is another number."
)
_PAINTED = "matt_black_paint"
_COLDEST, _HOTTEST = 213.15, 1773.15


@dataclass(frozen=True)
class GunReading:
    """A reading off a surface and the temperatures it stands for.

    Parameters
    ----------
    reading : [K] what the gun shows
    gun_emissivity : [1] what the gun is set to
    surroundings : [K] temperature of what the surface mirrors
    compensated_for : [K] what the gun takes that to be
    surface : row of the table
    low, typical, high : [K] the surface's temperature at its bounding and typical emissivity
    advice : what would make the reading surer; empty where it is sure enough
    """

    reading: float
    gun_emissivity: float
    surroundings: float
    compensated_for: float
    surface: Surface
    low: float
    typical: float
    high: float
    advice: tuple[Text, ...]


def read_gun(
    reading: float, surface: str, gun_emissivity: float, surroundings: float, compensated_for: float
) -> GunReading:
    """Return the temperatures that a reading off a surface of the table stands for, and what would make it surer.

    Holds as `surface_temperature`, for the range of emissivity that the table gives the surface.

    Parameters
    ----------
    reading : [K] what the gun shows
    surface : id or plain name of the surface
    gun_emissivity : [1] what the gun is set to
    surroundings : [K] temperature of what the surface mirrors
    compensated_for : [K] what the gun takes that to be: as set on it, else its own temperature, about the air's

    Returns
    -------
    GunReading

    Raises
    ------
    UnknownName : the surface is not in the table
    OutOfRange : a number out of its range, or a reading that the surface cannot give

    Example
    -------
    >>> gun = read_gun(333.15, "matt_black_paint", 0.95, 293.15, 293.15)
    >>> round(gun.typical - 273.15), gun.advice
    (60, ())
    """
    temperatures = {"reading": reading, "surroundings": surroundings, "what the gun compensates for": compensated_for}
    for name, kelvin in temperatures.items():
        if not _COLDEST <= kelvin <= _HOTTEST:
            raise OutOfRange(f"{name}: got {kelvin - 273.15:g} °C; must be -60 to 1500 °C")
    if not 0 < gun_emissivity <= 1:
        raise OutOfRange(f"gun emissivity: got {gun_emissivity:g}; must be above 0 and at most 1")
    seen = find_surface(surface)
    emissivities = [seen.low, seen.typical, seen.high]
    mirrored = (surroundings, compensated_for)
    at_low, typical, at_high = surface_temperature(reading, gun_emissivity, emissivities, *mirrored)
    low, high = sorted((float(at_low), float(at_high)))
    advice: list[Text] = []
    if high - low > load_assumptions()["gun_spread_worth_paint"].typical:
        painted = expected_reading([low, high], gun_emissivity, find_surface(_PAINTED).typical, *mirrored)
        shows = sentence(
            "It should then read {ends} at the same setting; if not, the surface is not what was named.",
            ends=TemperatureRange(float(painted[0]), float(painted[1])),
        )
        advice = [PAINT, shows, MIRROR]
    if high > seen.highest_temperature:
        advice.append(
            sentence(
                "{surface} stands about {limit}: above that, paint the spot.",
                surface=f"{seen.name[:1].upper()}{seen.name[1:]}",
                limit=Temperature(seen.highest_temperature),
            )
        )
    return GunReading(reading, gun_emissivity, *mirrored, seen, low, float(typical), high, tuple(advice))
