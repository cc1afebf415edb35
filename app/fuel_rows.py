"""A fuel beside its reference, as rows of a table."""

from __future__ import annotations

import math

from app import shown_units
from screening.quantities import from_si
from screening.records.fuel import Fuel
from screening.report.fuel_text import ROOM, SHOWN

Rows = list[dict[str, str]]
_PRINTED = {"degC": "°C", "kg/m3": "kg/m³", "cm3/mol": "cm³/mol"}


def compared(fuel: Fuel, reference: Fuel) -> Rows:
    """Return a row a property, the fuel's and the reference's value side by side; what is unknown says so."""
    sides = [_values(fuel)] if fuel.name == reference.name else [_values(fuel), _values(reference)]
    names = [fuel.name, reference.name][: len(sides)]
    return [
        {"": label} | {name: side[label] for name, side in zip(names, sides, strict=True)} for label in _values(fuel)
    ]


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


def _values(fuel: Fuel) -> dict[str, str]:
    """Return what is known of a fuel by label."""
    pressure = float(fuel.vapour_pressure(ROOM))
    room = shown_units.told(f"{ROOM - 273.15:.0f} °C")
    found = {
        "air by mass, for complete burning": f"{fuel.air_fuel_ratio:.2f} kg/kg{_range(fuel, 'air_fuel_ratio', '1', 2)}",
        "oxygen by moles": f"{fuel.oxygen_need:.2f} mol/mol",
    }
    for name, label, unit, digits in SHOWN:
        value = getattr(fuel, name)
        told = "unknown" if value is None else f"{from_si(value, unit):.{digits}f} {_PRINTED.get(unit, unit)}"
        found[shown_units.told(label)] = shown_units.told(told + _range(fuel, name, unit, digits))
    for label, value, scale, unit in (
        ("energy of a litre of liquid", fuel.energy_per_volume, 1e-9, "MJ/L"),
        ("energy of a kg of the right mixture", fuel.energy_per_mixture, 1e-6, "MJ/kg"),
    ):
        found[label] = "unknown" if value is None else f"{value * scale:.2f} {unit}"
    found[f"vapour pressure at {room}"] = "unknown" if math.isnan(pressure) else f"{pressure / 1e3:.2g} kPa"
    found["Hansen parameters dD, dP, dH"] = (
        "unknown" if fuel.hansen is None else ", ".join(f"{part:.1f}" for part in fuel.hansen) + " MPa^0.5"
    )
    return found


def _range(fuel: Fuel, name: str, unit: str, digits: int) -> str:
    ends = fuel.ranges.get(name)
    if ends is None:
        return ""
    low, high = (f"{from_si(end, unit):.{digits}f}" for end in ends)
    return "" if low == high else f" ({low} to {high}{' °C' if unit == 'degC' else ''})"
