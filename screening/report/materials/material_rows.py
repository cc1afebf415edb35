"""A material's values and gaps in the units of the trade and in words: the same for the terminal and the app."""

from __future__ import annotations

import math
from dataclasses import dataclass

from screening.judgement.draws.polymer import property_units
from screening.records.materials.materials import Material, Materials, Value, known_properties
from screening.report.parts.figures import in_unit, unit_sign
from screening.sentences import TRADE, Temperature, Units

_NAMES = {
    "deflection_temperature_045": "deflection temperature at 0.45 MPa",
    "deflection_temperature_180": "deflection temperature at 1.80 MPa",
    "thermal_expansion_hot": "thermal expansion when soft",
    "glass_transition_wet": "glass transition when wet",
    "diffusion_liquid": "diffusion of a liquid",
    "diffusion_activation": "diffusion, activation energy",
    "gasification_heat": "heat of gasification",
}
_CRYSTALS = ("melting_point", "crystallinity", "heat_of_fusion")
_NOT_OF_RUBBERS = ("deflection_temperature_045", "deflection_temperature_180", "fluorocarbon_deviation")
_PRINTING = ("nozzle_temperature", "bed_temperature", "chamber_temperature", "drying_temperature", "drying_time",
             "abrasive", "layer_adhesion", "annealing_temperature")  # fmt: skip
_POLYMERS = ("amorphous", "semicrystalline", "elastomer")
_OF_METALS = ("density", "thermal_conductivity", "heat_capacity", "thermal_expansion", "tensile_modulus",
              "tensile_strength", "melting_point", "service_temperature")  # fmt: skip


@dataclass(frozen=True)
class ShownValue:
    """A value in the units of the trade.

    Parameters
    ----------
    name : str
        Id of the property.
    numbers : (float, float, float)
        Low, typical and high, in `unit`.
    written : (str, str, str)
        The same in figures.
    unit : str
        The unit as it is printed; empty for a pure number.
    at : str
        The temperature at which it holds, in words; empty where the table names none.
    row : Value
        The row of the table, in SI.
    """

    name: str
    numbers: tuple[float, float, float]
    written: tuple[str, str, str]
    unit: str
    at: str
    row: Value

    @property
    def range(self) -> str:
        """Low to high with the typical value between, and the unit; one figure where they are the same."""
        low, typical, high = self.written
        figures = typical if low == high else f"{typical} ({low} to {high})"
        return f"{figures} {self.unit}".rstrip()


def plain_property(property: str) -> str:
    """Return a property's name in the trade's words.

    >>> plain_property("deflection_temperature_180"), plain_property("heat_capacity")
    ('deflection temperature at 1.80 MPa', 'heat capacity')
    """
    return _NAMES.get(property, property.replace("_", " "))


def shown_value(property: str, row: Value, units: Units = TRADE) -> ShownValue:
    """Return a value in the units of the trade, temperatures in the unit chosen.

    Parameters
    ----------
    property : str
        Id of the property.
    row : Value
        A row of the table, in SI.
    units : Units
        Unit of the temperatures.

    Returns
    -------
    ShownValue

    Raises
    ------
    KeyError
        For a property that the table does not have.
    """
    unit = property_units()[property]
    is_logarithm = unit.startswith("log10")
    low, typical, high = (
        10.0**si if is_logarithm else in_unit(si, unit, units) for si in (row.low, row.typical, row.high)
    )
    written = (_written(property, low), _written(property, typical), _written(property, high))
    at = "" if math.isnan(row.temperature) else Temperature(row.temperature).worded(units)
    return ShownValue(
        property, (low, typical, high), written, "m²/s" if is_logarithm else unit_sign(unit, units), at, row
    )


def shown_values(material: Material, units: Units = TRADE) -> tuple[ShownValue, ...]:
    """Return every value of a material, property by property; the one that the models take stands first."""
    return tuple(
        shown_value(property, row, units)
        for property in known_properties()
        for row in material.values.get(property, ())
    )


def gaps(material: Material) -> tuple[str, ...]:
    """Return the properties that such a material has and of which the table has no value."""
    return tuple(p for p in known_properties() if material.value(p) is None and applies(material, p))


def applies(material: Material, property: str) -> bool:
    """Return whether such a material has such a property: an amorphous polymer does not melt, a seal is not printed."""
    if material.morphology not in _POLYMERS:
        return property in _OF_METALS
    if property in _PRINTING:
        return "printable" in material.roles
    if material.morphology == "elastomer":
        return property not in (*_CRYSTALS, *_NOT_OF_RUBBERS)
    if property in ("crosslink_density", "fluorocarbon_deviation"):
        return False
    return property not in _CRYSTALS or material.morphology == "semicrystalline"


def scale_of(materials: Materials, property: str, role: str, units: Units = TRADE) -> tuple[float, float]:
    """Return the lowest and the highest number of a property over all materials of a role, in the units of the trade."""
    rows = (materials.get(id).value(property) for id in materials.with_role(role))
    ranges = [shown_value(property, row, units).numbers for row in rows if row is not None]
    return min(low for low, _, _ in ranges), max(high for _, _, high in ranges)


def _written(property: str, number: float) -> str:
    if property == "abrasive" and number in (0.0, 1.0):
        return "yes" if number else "no"
    if property == "diffusion_liquid":
        return f"{number:.1e}"
    return f"{number:.4g}" if abs(number) < 1e4 else f"{number:.0f}"
