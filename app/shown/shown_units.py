"""The one place where a person chooses units; the case itself stays in the units its keys name."""

from __future__ import annotations

import math
import re

import streamlit as st

CELSIUS, FAHRENHEIT = "°C", "°F"
_NUMBER = r"(?<![\w.])-?\d+(?:\.\d+)?"
_SIGN = re.compile(rf"({_NUMBER})(?:\s?-\s?(\d+(?:\.\d+)?))? ?(?:deg ?)?C(?![\w/°])")
"""A temperature as the tables' notes write it: '23 C', '45-65 C', '200 degC'."""
_TOLD = re.compile(rf"(?:({_NUMBER})( to (?:about )?| and | or ))?({_NUMBER})( ?)°C(?![\w/])")


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


def told(text: str) -> str:
    """Return a text with its temperatures in the chosen unit. Only what stands before °C is a temperature: the texts give
    differences in K, which stay."""
    signed = with_signs(text)
    return signed if chosen() == CELSIUS else in_fahrenheit(signed)


def with_signs(text: str) -> str:
    """Return a text with the degree sign where the tables' notes leave it out: '45-65 C' becomes '45 to 65 °C'."""
    return _SIGN.sub(lambda found: f"{found[1]} to {found[2]} °C" if found[2] else f"{found[1]} °C", text)


def in_fahrenheit(text: str) -> str:
    """Return a text with each temperature in °C, and the other end of its range, turned into °F."""

    def turned(match: re.Match[str]) -> str:
        first, joint, last, gap = match.groups()
        start = "" if first is None else _fahrenheit(first) + joint
        return f"{start}{_fahrenheit(last)}{gap}{FAHRENHEIT}"

    return _TOLD.sub(turned, text)


def _fahrenheit(celsius: str) -> str:
    digits = len(celsius.partition(".")[2])
    return f"{float(celsius) * 9 / 5 + 32:.{digits}f}"
