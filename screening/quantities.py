"""Units are converted here, once, at the edge; everything inside is SI."""

from __future__ import annotations

import math
from typing import TypeVar

import numpy as np
from scipy import constants

Quantity = TypeVar("Quantity", float, np.ndarray)
"""A number or an array of numbers; conversion gives back the same kind."""

ZERO_CELSIUS = constants.zero_Celsius
"""0 degC in kelvin."""
ROOM_TEMPERATURE = 296.15
"""23 degC [K], at which data sheets give strength and modulus, and most published soaks were made (ISO 291)."""

# unit as written in tables and case keys -> (SI unit, factor, offset): SI = factor * value + offset
_UNITS: dict[str, tuple[str, float, float]] = {
    "1": ("1", 1.0, 0.0),
    "%": ("1", 0.01, 0.0),
    "degC": ("K", 1.0, ZERO_CELSIUS),
    "degF": ("K", 5 / 9, ZERO_CELSIUS - 32 * 5 / 9),
    "K": ("K", 1.0, 0.0),
    "mm": ("m", 1e-3, 0.0),
    "um": ("m", 1e-6, 0.0),
    "nm": ("m", 1e-9, 0.0),
    "m": ("m", 1.0, 0.0),
    "cc": ("m3", 1e-6, 0.0),
    "mL": ("m3", 1e-6, 0.0),
    "L": ("m3", 1e-3, 0.0),
    "cm3/mol": ("m3/mol", 1e-6, 0.0),
    "kg": ("kg", 1.0, 0.0),
    "g": ("kg", 1e-3, 0.0),
    "g/mol": ("kg/mol", 1e-3, 0.0),
    "s": ("s", 1.0, 0.0),
    "min": ("s", 60.0, 0.0),
    "h": ("s", 3600.0, 0.0),
    "deg": ("rad", math.pi / 180, 0.0),
    "rpm": ("1/s", 1 / 60, 0.0),
    "Pa": ("Pa", 1.0, 0.0),
    "kPa": ("Pa", 1e3, 0.0),
    "bar": ("Pa", 1e5, 0.0),
    "MPa": ("Pa", 1e6, 0.0),
    "GPa": ("Pa", 1e9, 0.0),
    "MPa^0.5": ("MPa^0.5", 1.0, 0.0),  # the unit of the trade for solubility parameters, kept as it is
    "kg/m3": ("kg/m3", 1.0, 0.0),
    "W/(m K)": ("W/(m K)", 1.0, 0.0),
    "J/(kg K)": ("J/(kg K)", 1.0, 0.0),
    "W/(m2 K)": ("W/(m2 K)", 1.0, 0.0),
    "kW/(m2 K)": ("W/(m2 K)", 1e3, 0.0),
    "J/g": ("J/kg", 1e3, 0.0),
    "kJ/kg": ("J/kg", 1e3, 0.0),
    "MJ/kg": ("J/kg", 1e6, 0.0),
    "kJ/mol": ("J/mol", 1e3, 0.0),
    "1e-6/K": ("1/K", 1e-6, 0.0),
    "K/s": ("K/s", 1.0, 0.0),
    "K/min": ("K/s", 1 / 60, 0.0),
    "m2/s": ("m2/s", 1.0, 0.0),
    "m/s": ("m/s", 1.0, 0.0),
    "J/cm3": ("J/m3", 1e6, 0.0),
    "m2 K/W": ("m2 K/W", 1.0, 0.0),
    "mol/m3": ("mol/m3", 1.0, 0.0),
    "log10(m2/s)": ("log10(m2/s)", 1.0, 0.0),
}


def to_si(value: Quantity, unit: str) -> Quantity:
    """Return a number of the trade in the SI unit of its kind.

    Parameters
    ----------
    value : float or array
        In `unit`; degC and degF are points of a scale, not differences.
    unit : str
        One of `known_units`.

    Returns
    -------
    float or array
        As `value`, in `si_unit(unit)`.

    Raises
    ------
    KeyError
        For a unit that no table or case key uses.

    Examples
    --------
    >>> round(to_si(23.0, "degC"), 2), to_si(3000, "rpm")
    (296.15, 50.0)
    """
    _, factor, offset = _UNITS[unit]
    return factor * value + offset


def from_si(value: Quantity, unit: str) -> Quantity:
    """Return an SI number in a unit of the trade; the inverse of `to_si`.

    Parameters
    ----------
    value : float or array
        In `si_unit(unit)`.
    unit : str
        One of `known_units`.

    Returns
    -------
    float or array
        As `value`, in `unit`.

    Raises
    ------
    KeyError
        For a unit that no table or case key uses.

    Examples
    --------
    >>> round(from_si(0.056, "mm"), 6)
    56.0
    """
    _, factor, offset = _UNITS[unit]
    return (value - offset) / factor


def si_unit(unit: str) -> str:
    """Return the SI unit that `to_si` gives for `unit`."""
    return _UNITS[unit][0]


def known_units() -> tuple[str, ...]:
    """Return every unit that tables and case keys may use."""
    return tuple(_UNITS)
