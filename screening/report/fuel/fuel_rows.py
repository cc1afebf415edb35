"""A fuel's numbers as rows, in the units and words that the sheet and the app share; what is unknown says so."""

from __future__ import annotations

import math

from screening.quantities import ROOM_TEMPERATURE, from_si
from screening.records.liquids.fuel import Fuel
from screening.sentences import Quantity, Temperature, TemperatureRange, Text, joined, sentence

SHOWN: tuple[tuple[str, Text, str, int], ...] = (
    ("density", sentence("density at {at}", at=Temperature(293.15)), "kg/m3", 0),
    ("lower_heating_value", "lower heating value", "MJ/kg", 2),
    ("latent_heat", sentence("heat of vaporisation at {at}", at=Temperature(298.15)), "kJ/kg", 0),
    ("boiling_point", "boiling point", "degC", 1),
    ("flash_point", "flash point", "degC", 0),
    ("autoignition", "lowest self-ignition", "degC", 0),
    ("lower_flammability_limit", "lower flammable limit in air", "%", 1),
    ("upper_flammability_limit", "upper flammable limit in air", "%", 1),
    ("molar_volume", sentence("molar volume at {at}", at=Temperature(298.15)), "cm3/mol", 1),
)
"""What is shown of a fuel: attribute, label, unit, digits."""
_PRINTED_UNIT = {"kg/m3": "kg/m³", "cm3/mol": "cm³/mol"}
_UNKNOWN = "unknown"
NO_FUEL = "does not burn"
_OF_BURNING = frozenset(
    ("lower_heating_value", "flash_point", "autoignition", "lower_flammability_limit", "upper_flammability_limit",
     "air_fuel_ratio", "oxygen_need")
)  # fmt: skip
"""What means nothing of a liquid that does not burn."""
Rows = list[dict[str, Text | Quantity]]
Labelled = list[tuple[Text, Text]]


def property_cells(fuel: Fuel) -> Labelled:
    """Return a fuel's properties behind their labels, each with unit and range; of what only a fuel has others say `NO_FUEL`."""
    cells: Labelled = []
    for name, label, unit, digits in SHOWN:
        cells.append((label, _figure(fuel, name, unit, digits) if means(fuel, name) else NO_FUEL))
    for label, value, scale, unit in (
        ("energy of a litre of liquid", fuel.energy_per_volume, 1e-9, "MJ/L"),
        ("energy of a kg of stoichiometric mixture", fuel.energy_per_mixture, 1e-6, "MJ/kg"),
        ("energy per kg of stoichiometric air", fuel.energy_per_air, 1e-6, "MJ/kg"),
    ):
        figure = _UNKNOWN if value is None else f"{value * scale:.2f} {unit}"
        cells.append((label, figure if burns(fuel) else NO_FUEL))
    pressure = float(fuel.vapour_pressure(ROOM_TEMPERATURE))
    evaporates = _UNKNOWN if math.isnan(pressure) else f"{pressure / 1e3:.2g} kPa"
    cells.append((sentence("vapour pressure at {at}", at=Temperature(ROOM_TEMPERATURE)), evaporates))
    place = _UNKNOWN if fuel.hansen is None else ", ".join(f"{part:.1f}" for part in fuel.hansen) + " MPa^0.5"
    cells.append(("Hansen parameters dD, dP, dH", place))
    return cells


def _figure(fuel: Fuel, name: str, unit: str, digits: int) -> Text:
    """Return a property with its unit, what it means of a blend, and its range."""
    value = getattr(fuel, name)
    if value is None:
        return _UNKNOWN
    if unit == "degC":
        figure: Text | Quantity = Temperature(value, digits)
    else:
        figure = f"{from_si(value, unit):.{digits}f} {_PRINTED_UNIT.get(unit, unit)}"
    return joined([figure, remark(fuel, name), range_text(fuel, name, unit, digits)], "")


def burns(fuel: Fuel) -> bool:
    """Return whether the liquid takes air to burn."""
    return fuel.air_fuel_ratio > 0.0


def means(fuel: Fuel, name: str) -> bool:
    """Return whether a property means anything of the liquid."""
    return burns(fuel) or name not in _OF_BURNING


def remark(fuel: Fuel, name: str) -> str:
    """Meaning of a blend's value, to stand behind it; empty for a pure liquid."""
    if len(fuel.components) < 2 or getattr(fuel, name) is None:
        return ""
    if name == "flash_point":
        return " or lower" if fuel.kind == "blend" else ""
    return " (first bubble)" if name == "boiling_point" else ""


def range_text(fuel: Fuel, name: str, unit: str, digits: int) -> Text:
    """Return a property's range in brackets, nothing where it has none; degrees keep their sign."""
    ends = fuel.ranges.get(name)
    if ends is None:
        return ""
    low, high = (f"{from_si(end, unit):.{digits}f}" for end in ends)
    if low == high:
        return ""
    if unit == "degC":
        return sentence(" ({ends})", ends=TemperatureRange(*ends, digits))
    return f" ({low} to {high})"


def compared(fuel: Fuel, reference: Fuel) -> Rows:
    """Return a row a property, the fuel's and the reference's value side by side."""
    sides = {side.name: [*_air_cells(side), *property_cells(side)] for side in (fuel, reference)}
    labels = [label for label, _ in sides[fuel.name]]
    rows: Rows = []
    for number, label in enumerate(labels):
        rows.append({"": label, **{name: cells[number][1] for name, cells in sides.items()}})
    return rows


def _air_cells(fuel: Fuel) -> Labelled:
    by_mass: Text = f"{fuel.air_fuel_ratio:.2f} kg/kg{range_text(fuel, 'air_fuel_ratio', '1', 2)}"
    by_moles = f"{fuel.oxygen_need:.2f} mol/mol"
    if not burns(fuel):
        by_mass = by_moles = NO_FUEL
    return [("air by mass, for complete burning", by_mass), ("oxygen by moles", by_moles)]


def composition(fuel: Fuel) -> Rows:
    """Return a row a component, with its share by volume, mass and moles."""
    return [
        {
            "component": share.component.name,
            "by volume": f"{100 * share.volume_fraction:.1f} %",
            "by mass": f"{100 * share.mass_fraction:.1f} %",
            "by moles": f"{100 * share.mole_fraction:.1f} %",
        }
        for share in fuel.components
    ]
