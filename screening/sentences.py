"""Sentences whose temperatures stay numbers until a page words them in the unit that its reader chose.

A sentence is a frame with named places, and what stands in them: text, or a quantity in SI. What a person typed stands in a
place, never in the frame. A text without quantities may stay a plain string: `worded` takes both.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Protocol, TypeAlias

from screening.quantities import from_si


@dataclass(frozen=True)
class Units:
    """The units in which a page words its quantities: `temperature` is "°C" or "°F"."""

    temperature: str = "°C"

    @property
    def code(self) -> str:
        """The temperature's unit as tables and conversions name it: degC or degF."""
        return "degF" if self.temperature == "°F" else "degC"

    def degrees(self, kelvin: float) -> float:
        """Return a temperature [K] as degrees of the chosen unit."""
        return float(from_si(kelvin, self.code))


TRADE = Units()
"""The units of documents, of the terminal and of a page on which nobody has chosen."""


class Quantity(Protocol):
    """A number that knows how it is worded."""

    def worded(self, units: Units) -> str:
        """Return the quantity in words."""


@dataclass(frozen=True)
class Temperature:
    """A temperature [K], worded in whole degrees or to so many `digits` behind the point; NaN is unknown.

    >>> Temperature(373.15).worded(TRADE), Temperature(373.15).worded(Units("°F"))
    ('100 °C', '212 °F')
    """

    kelvin: float
    digits: int = 0

    def worded(self, units: Units) -> str:
        """Return the temperature with its unit."""
        if math.isnan(self.kelvin):
            return "unknown"
        return f"{_figure(units.degrees(self.kelvin), self.digits)} {units.temperature}"


@dataclass(frozen=True)
class TemperatureRange:
    """From one temperature to another [K], the unit said once; one temperature where both read alike.

    >>> TemperatureRange(318.15, 338.15).worded(TRADE)
    '45 to 65 °C'
    """

    low: float
    high: float
    digits: int = 0

    def worded(self, units: Units) -> str:
        """Return both ends with their unit."""
        low, high = (_figure(units.degrees(kelvin), self.digits) for kelvin in (self.low, self.high))
        return f"{low} {units.temperature}" if low == high else f"{low} to {high} {units.temperature}"


@dataclass(frozen=True, repr=False)
class Sentence:
    """A frame with places in braces, and what stands in them.

    >>> said = sentence("{name} softens at {at}.", name="PC", at=Temperature(420.15))
    >>> str(said), said.worded(Units("°F"))
    ('PC softens at 147 °C.', 'PC softens at 297 °F.')
    """

    frame: str
    values: Mapping[str, Text | Quantity]

    def worded(self, units: Units) -> str:
        """Return the sentence in words."""
        return self.frame.format_map({name: worded(value, units) for name, value in self.values.items()})

    def __str__(self) -> str:
        return self.worded(TRADE)

    def __repr__(self) -> str:
        return repr(str(self))


Text: TypeAlias = str | Sentence


def sentence(frame: str, /, **values: Text | Quantity) -> Sentence:
    """Return a sentence: a frame such as "After {time} it is at {face}." and what stands in its places."""
    return Sentence(frame, MappingProxyType(values))


def worded(text: Text | Quantity, units: Units = TRADE) -> str:
    """Return a text or a quantity in words, in the units chosen."""
    return text if isinstance(text, str) else text.worded(units)


def joined(texts: Iterable[Text | Quantity], between: str = " ") -> Sentence:
    """Return texts one behind the other as one, without those that are empty.

    >>> str(joined(["It holds.", "", sentence("Until {at}.", at=Temperature(300.15))]))
    'It holds. Until 27 °C.'
    """
    there = {f"text_{number}": text for number, text in enumerate(texts) if text != ""}
    return Sentence(between.replace("{", "{{").replace("}", "}}").join(f"{{{name}}}" for name in there), there)


def _figure(value: float, digits: int) -> str:
    """Return a number without a sign before zero."""
    return f"{round(value, digits) + 0.0:.{digits}f}"
