"""Which column of a run log is which, and in what unit, by the words of its header."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from screening.errors import LogError

_TIME_WORDS = frozenset({"time", "t", "elapsed", "clock", "zeit", "temps"})
_FUEL_WORDS = frozenset({"fuel", "burned", "used", "volume", "tank"})
_TEMPERATURE_WORDS = frozenset({"temp", "temperature", "reading", "head", "gun", "cht", "temperatur"})
_AIR_WORDS = frozenset({"ambient", "air", "room", "outside"})
_TIME_UNITS = MappingProxyType(
    {
        **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), "s"),
        **dict.fromkeys(("min", "mins", "minute", "minutes"), "min"),
        **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), "h"),
    }
)
_TEMPERATURE_UNITS = MappingProxyType(
    {
        **dict.fromkeys(("c", "degc", "celsius"), "degC"),
        **dict.fromkeys(("f", "degf", "fahrenheit"), "degF"),
        **dict.fromkeys(("k", "kelvin"), "K"),
    }
)
_FUEL_UNITS = MappingProxyType({"ml": "mL", "cc": "cc", "cm3": "mL", "l": "L", "litre": "L", "litres": "L"})
_OTHER_FUEL_UNITS = frozenset({"g", "kg", "mg", "oz", "floz", "gal", "lb", "percent"})
_LATEST_START = 5  # minutes: a stopwatch log starts at or near zero, a time of day seldom does


@dataclass(frozen=True)
class LogColumns:
    """Where time, temperature and fuel stand in a row of `count` cells, and their units (None: not said).

    `guessed` tells which of time and temperature the header does not name.
    """

    time: int
    temperature: int
    fuel: int | None
    count: int
    time_unit: str | None
    temperature_unit: str | None
    fuel_unit: str | None
    time_words: tuple[str, ...] = ()
    guessed: tuple[str, ...] = ()

    @property
    def needed(self) -> int:
        """How many cells a row must have."""
        return max(self.time, self.temperature) + 1

    @classmethod
    def of(cls, header: str | None, count: int) -> LogColumns:
        """Return the columns that `header` names for rows of `count` cells; without a header: time, temperature, fuel.

        Raises LogError where there are too few columns, too few names, or a unit of fuel that is no volume.
        """
        if count < 2:
            raise LogError(
                "each row needs two values, time and temperature, parted by a comma, semicolon, tab or blank"
            )
        if header is None:
            return cls(0, 1, 2 if count > 2 else None, count, None, None, None)
        names = [_words(cell) for cell in _header_cells(header, count)]
        fuel = next((i for i, words in enumerate(names) if _FUEL_WORDS & set(words)), None)
        free = [i for i in range(len(names)) if i != fuel]
        time = next((i for i in free if _TIME_WORDS & set(names[i])), free[0])
        temperature = _temperature_column(names, [i for i in free if i != time])
        fuel_unit = None if fuel is None else _unit_in(names[fuel], _FUEL_UNITS)
        if fuel is not None and fuel_unit is None and _OTHER_FUEL_UNITS & set(names[fuel]):
            raise LogError(f"the fuel column is headed {' '.join(names[fuel])!r}; must be a volume: mL, cc, cm3 or L")
        guessed = [
            f"the column headed {' '.join(names[i]) or 'with nothing'!r} is taken for the {what}: its name does not say"
            for i, what, words, units in (
                (time, "time", _TIME_WORDS, _TIME_UNITS),
                (temperature, "temperature", _TEMPERATURE_WORDS | _TIME_WORDS, _TEMPERATURE_UNITS),
            )
            if not words & set(names[i]) and _unit_in(names[i], units) is None
        ]
        return cls(
            time,
            temperature,
            fuel,
            len(names),
            _unit_in(names[time], _TIME_UNITS),
            _unit_in(names[temperature], _TEMPERATURE_UNITS),
            fuel_unit,
            tuple(names[time]),
            tuple(guessed),
        )


def unit_of_clock(columns: LogColumns, parts: int, first: str, notes: list[str]) -> float:
    """Return the seconds that the last part of a clock time stands for: 1, or 60 where it is hh:mm.

    Raises LogError where a time of two parts may be either.
    """
    if parts != 2:
        return 1.0
    words = columns.time_words
    if {"hh", "h", "hour", "hours"} & set(words):
        return 60.0
    if not {"mm", "m", "min", "ss", "s"} & set(words):
        if not first.split(":")[0].isdigit() or int(first.split(":")[0]) >= _LATEST_START:
            raise LogError(
                f"the time {first[:60]!r} may be hours and minutes or minutes and seconds; "
                "write hh:mm:ss, or head the column 'time mm:ss' or 'time hh:mm'"
            )
        notes.append("time read as minutes and seconds")
    return 1.0


def _temperature_column(names: Sequence[Sequence[str]], free: Sequence[int]) -> int:
    """Return the column named as the head's temperature; else one with a unit of temperature; else the first."""
    if not free:
        raise LogError("the log has no column of temperature beside time and fuel")
    of_head = [i for i in free if not _AIR_WORDS & set(names[i])] or list(free)
    named = [i for i in of_head if _TEMPERATURE_WORDS & set(names[i])]
    with_unit = [i for i in of_head if _unit_in(names[i], _TEMPERATURE_UNITS)]
    return (named or with_unit or of_head)[0]


def _header_cells(header: str, count: int) -> list[str]:
    """Split the header; it must name as many columns as the rows have, or more (the last may stay empty)."""
    for delimiter in (";", "\t", ","):
        cells = header.split(delimiter)
        if len(cells) >= count:
            return cells
    cells = re.sub(r"\s+(?=[(\[°])", "_", header).split()  # a unit in brackets belongs to the word before it
    if len(cells) < count:
        raise LogError(
            f"the header {header[:80]!r} names fewer columns than the rows have ({count}); "
            "where decimals are written with a comma, part the values with semicolons"
        )
    return cells


def _words(cell: str) -> list[str]:
    return re.findall(r"[a-z]+3?", cell.lower().replace("°", " ").replace("º", " ").replace("%", " percent "))


def _unit_in(words: Sequence[str], units: Mapping[str, str]) -> str | None:
    return next((units[word] for word in reversed(words) if word in units), None)
