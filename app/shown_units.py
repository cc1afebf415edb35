"""The one place where a person chooses units; the case itself stays in the units its keys name."""

from __future__ import annotations

import math

import streamlit as st

CELSIUS, FAHRENHEIT = "°C", "°F"


def chosen() -> str:
    """Return the temperature unit that is shown."""
    unit: str = st.session_state.get("temperature_unit", CELSIUS)
    return unit


def shown_temperature(celsius: float) -> float:
    """Return degrees Celsius in the chosen unit."""
    return celsius if chosen() == CELSIUS else celsius * 9 / 5 + 32


def stored_temperature(shown: float) -> float:
    """Return a temperature in the chosen unit as degrees Celsius, to a hundredth."""
    return shown if chosen() == CELSIUS else round((shown - 32) * 5 / 9, 2)


def temperature(kelvin: float) -> str:
    """Return a temperature in words."""
    if math.isnan(kelvin):
        return "unknown"
    return f"{shown_temperature(kelvin - 273.15):.0f} {chosen()}"
