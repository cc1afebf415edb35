"""What is known of a material, in the units of the trade and in words: the same for the terminal and the app."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from screening.quantities import from_si
from screening.records.materials.materials import Material, Materials, Value, known_properties
from screening.records.tables.package import read_table

MEMORY = "handbook, from memory"
"""How a value was read whose published source was not at hand."""

_NAMES = {
    "deflection_temperature_045": "deflection temperature at 0.45 MPa",
    "deflection_temperature_180": "deflection temperature at 1.80 MPa",
    "thermal_expansion_hot": "thermal expansion when soft",
    "glass_transition_wet": "glass transition when wet",
    "diffusion_liquid": "diffusion of a liquid",
    "diffusion_activation": "diffusion, activation energy",
    "gasification_heat": "heat of gasification",
}
_UNITS = {"1": "", "kg/m3": "kg/m³", "1e-6/K": "10⁻⁶/K", "mol/m3": "mol/m³", "log10(m2/s)": "m²/s"}
_CRYSTALS = ("melting_point", "crystallinity", "heat_of_fusion")
_NOT_OF_RUBBERS = ("deflection_temperature_045", "deflection_temperature_180", "fluorocarbon_deviation")
_PRINTING = ("nozzle_temperature", "bed_temperature", "chamber_temperature", "drying_temperature", "drying_time",
             "abrasive", "layer_adhesion", "annealing_temperature")  # fmt: skip
_POLYMERS = ("amorphous", "semicrystalline", "elastomer")
_OF_METALS = ("density", "thermal_conductivity", "heat_capacity", "thermal_expansion", "tensile_modulus",
              "tensile_strength", "melting_point", "service_temperature")  # fmt: skip


@dataclass(frozen=True)
class ShownValue:
    """One value in the unit it is shown in; `name` is the property's, `numbers` are low, typical and high, `written` the
    same in figures, `at` the temperature it holds at."""

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
    """Return a property's name as it is said."""
    return _NAMES.get(property, property.replace("_", " "))


@lru_cache(maxsize=1)
def property_units() -> Mapping[str, str]:
    """Return the unit of each property as the table has it."""
    raw = read_table("properties").drop_duplicates("property")
    return MappingProxyType(dict(zip(raw["property"], raw["unit"], strict=True)))


def shown_value(property: str, row: Value, degrees: str = "degC") -> ShownValue:
    """Return a value in the units of the trade, temperatures in `degrees` (degC or degF)."""
    unit = property_units()[property]
    si = (row.low, row.typical, row.high)
    named = {"degC": "°C", "degF": "°F"}
    if unit == "degC":
        numbers, unit = [from_si(number, degrees) for number in si], named[degrees]
    elif unit.startswith("log10"):
        numbers, unit = [10.0**number for number in si], _UNITS[unit]
    else:
        numbers, unit = [from_si(number, unit) for number in si], _UNITS.get(unit, unit)
    low, typical, high = (float(number) for number in numbers)
    at = "" if math.isnan(row.temperature) else f"{from_si(row.temperature, degrees):.0f} {named[degrees]}"
    words = (_written(property, low), _written(property, typical), _written(property, high))
    return ShownValue(property, (low, typical, high), words, unit, at, row)


def shown_values(material: Material, degrees: str = "degC") -> tuple[ShownValue, ...]:
    """Return every value of a material, property by property, the one that the models take first."""
    return tuple(
        shown_value(property, row, degrees)
        for property in known_properties()
        for row in material.values.get(property, ())
    )


def gaps(material: Material) -> tuple[str, ...]:
    """Return the properties that such a material has and that no value is known of."""
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


def scale_of(materials: Materials, property: str, role: str, degrees: str = "degC") -> tuple[float, float]:
    """Return the lowest and the highest number of a property over all materials of a role, as shown."""
    rows = (materials.get(id).value(property) for id in materials.with_role(role))
    shown = [shown_value(property, row, degrees).numbers for row in rows if row is not None]
    return min(low for low, _, _ in shown), max(high for _, _, high in shown)


def _written(property: str, number: float) -> str:
    if property == "abrasive" and number in (0.0, 1.0):
        return "yes" if number else "no"
    if property == "diffusion_liquid":
        return f"{number:.1e}"
    return f"{number:.4g}" if abs(number) < 1e4 else f"{number:.0f}"
