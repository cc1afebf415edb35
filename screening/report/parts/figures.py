"""Figures with their units as pages and tables print them."""

from __future__ import annotations

from screening.quantities import from_si
from screening.sentences import TRADE, Units

_SIGNS = {"1": "", "deg": "°", "cc": "cm³", "um": "µm", "1e-6/K": "10⁻⁶/K"}


def in_unit(value: float, unit: str, units: Units = TRADE) -> float:
    """Return an SI value in `unit`; a temperature in the unit chosen.

    >>> round(in_unit(0.056, "mm"), 3), in_unit(373.15, "degC"), round(in_unit(373.15, "degC", Units("°F")), 3)
    (56.0, 100.0, 212.0)
    """
    return units.degrees(value) if unit == "degC" else float(from_si(value, unit))


def unit_sign(unit: str, units: Units = TRADE) -> str:
    """Return a unit as it is printed; nothing for a pure number.

    >>> unit_sign("W/(m2 K)"), unit_sign("degC", Units("°F"))
    ('W/(m² K)', '°F')
    """
    if unit == "degC":
        return units.temperature
    return _SIGNS[unit] if unit in _SIGNS else unit.replace("m2", "m²").replace("m3", "m³")


def digits(number: float) -> str:
    """Return a number to three figures, a large one whole.

    >>> digits(1234.5), digits(0.012345)
    ('1,234', '0.0123')
    """
    return f"{number:,.0f}" if abs(number) >= 1000 else f"{number:.3g}"


def with_unit(number: float, unit: str, units: Units = TRADE) -> str:
    """Return a number of `unit` to three figures with its unit."""
    return f"{digits(number)} {unit_sign(unit, units)}".rstrip()
