"""The one place where a person chooses units; the case itself stays in the units its keys name."""

from __future__ import annotations

import streamlit as st

from screening.quantities import from_si, to_si
from screening.sentences import Temperature, Units

CELSIUS, FAHRENHEIT = "°C", "°F"


def chosen() -> str:
    """Return the temperature unit that is shown."""
    unit: str = st.session_state.get("temperature_unit", CELSIUS)
    return unit


def units() -> Units:
    """Return the units in which texts are worded."""
    return Units(chosen())


def code() -> str:
    """Return the chosen temperature unit as tables and conversions name it: degC or degF."""
    return units().code


def shown_temperature(celsius: float) -> float:
    """Return degrees Celsius in the chosen unit."""
    return celsius if chosen() == CELSIUS else float(from_si(to_si(celsius, "degC"), "degF"))


def stored_temperature(shown: float) -> float:
    """Return a temperature in the chosen unit as degrees Celsius, to a hundredth."""
    return shown if chosen() == CELSIUS else round(float(from_si(to_si(shown, "degF"), "degC")), 2)


def temperature(kelvin: float) -> str:
    """Return a temperature [K] in words."""
    return Temperature(kelvin).worded(units())
