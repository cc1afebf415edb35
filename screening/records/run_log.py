"""A run log as it was written down: times, readings of the gun and fuel used, from text in the usual forms.

Delimiters may be semicolons, tabs, commas or blanks; decimals may be written with a comma; units stand in the header
(`time_s`, `Time [min]`, `temp (F)`, `fuel mL` ...). A log whose units cannot be told is refused, not guessed.
"""

from __future__ import annotations

import hashlib
import io
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from screening.errors import LogError
from screening.quantities import to_si

FloatArray = np.ndarray

_TIME_WORDS = {"time", "t", "elapsed", "clock", "zeit", "temps"}
_FUEL_WORDS = {"fuel", "burned", "used", "volume", "tank"}
_TIME_UNITS = {"s": "s", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "min": "min", "mins": "min",
               "minute": "min", "minutes": "min", "h": "h", "hr": "h", "hour": "h", "hours": "h"}  # fmt: skip
_TEMPERATURE_UNITS = {"c": "degC", "degc": "degC", "celsius": "degC", "f": "degF", "degf": "degF",
                      "fahrenheit": "degF", "k": "K", "kelvin": "K"}  # fmt: skip
_FUEL_UNITS = {"ml": "mL", "cc": "cc", "cm3": "mL", "l": "L"}
_WARMEST_START = 45.0  # a first reading above this, without a unit, may as well be Fahrenheit
_PLAUSIBLE = (230.0, 900.0)  # kelvin: what a gun reads off an engine


@dataclass(frozen=True)
class LogRows:
    """A log in SI: `time` [s] from the first row, `reading` [K], `fuel_used` [m3] or None; `notes` on what was assumed."""

    time: FloatArray
    reading: FloatArray
    fuel_used: FloatArray | None
    notes: tuple[str, ...]
    digest: str


def read_rows(source: str | os.PathLike[str] | io.TextIOBase) -> LogRows:
    """Return the rows of a log given as text, as a path or as an open text file.

    Raises
    ------
    LogError
        Names the line, what stands there and what would be right.
    """
    text = _text_of(source)
    lines = [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1)]
    lines = [(n, line) for n, line in lines if line and not line.startswith("#")]
    if not lines:
        raise LogError("the log is empty; it needs lines of time and temperature, such as 'time_s,temperature_C'")
    header = lines.pop(0)[1] if _is_header(lines[0][1]) else None
    table = [(n, _cells(line)) for n, line in lines]
    if len(table) < 3:
        raise LogError(f"the log has {len(table)} rows of numbers; at least 3 are needed, better 10 or more")
    columns = _Columns.of(header, len(table[0][1]))
    for n, cells in table:
        if len(cells) < columns.needed:
            raise LogError(f"line {n}: has {len(cells)} values; {columns.needed} are needed: time, temperature")
    clock, seconds_known = _times(table, columns)
    notes: list[str] = []
    time = clock if seconds_known else _in_seconds(clock, columns.time_unit, notes)
    reading = _in_kelvin(np.array([_number(c[columns.temperature], n) for n, c in table]), columns, notes)
    fuel: FloatArray | None = None
    if columns.fuel is not None:
        volumes = np.array([_number(c[columns.fuel], n) if len(c) > columns.fuel else np.nan for n, c in table])
        fuel = np.asarray(to_si(volumes, columns.fuel_unit))  # type: ignore[arg-type]
    steps = np.diff(time)
    if np.any(steps <= 0):
        n = table[int(np.argmax(steps <= 0)) + 1][0]
        raise LogError(f"line {n}: time does not rise; each row must be later than the one before")
    return LogRows(time - time[0], reading, fuel, tuple(notes), hashlib.sha256(text.encode()).hexdigest())


@dataclass(frozen=True)
class _Columns:
    time: int
    temperature: int
    fuel: int | None
    time_unit: str | None
    temperature_unit: str | None
    fuel_unit: str

    @property
    def needed(self) -> int:
        return max(self.time, self.temperature) + 1

    @classmethod
    def of(cls, header: str | None, count: int) -> _Columns:
        if count < 2:
            raise LogError(
                "each row needs two values, time and temperature, parted by a comma, semicolon, tab or blank"
            )
        if header is None:
            return cls(0, 1, 2 if count > 2 else None, None, None, "mL")
        names = [_words(cell) for cell in _header_cells(header, count)]
        fuel = next((i for i, words in enumerate(names) if _FUEL_WORDS & set(words)), None)
        time = next((i for i, words in enumerate(names) if i != fuel and _TIME_WORDS & set(words)), 0)
        temperature = next((i for i in range(count) if i not in (time, fuel)), 1)
        return cls(
            time, temperature, fuel,
            _unit_in(names[time], _TIME_UNITS),
            _unit_in(names[temperature], _TEMPERATURE_UNITS) or ("degF" if "°f" in header.lower() else None),
            (_unit_in(names[fuel], _FUEL_UNITS) or "mL") if fuel is not None else "mL",
        )  # fmt: skip


def _text_of(source: str | os.PathLike[str] | io.TextIOBase) -> str:
    if isinstance(source, io.TextIOBase):
        return source.read()
    if isinstance(source, str) and ("\n" in source or not source.strip()):
        return source
    try:
        return Path(source).read_text("utf-8-sig")
    except FileNotFoundError:
        raise LogError(f"{os.fspath(source)}: no such file") from None
    except (OSError, UnicodeDecodeError) as error:
        raise LogError(f"{os.fspath(source)}: cannot be read as UTF-8 text: {error}") from None


def _is_header(line: str) -> bool:
    first = _cells(line)[0]
    return not re.match(r"^[+-]?\d", first)


def _header_cells(header: str, count: int) -> list[str]:
    for delimiter in (";", "\t", ","):
        cells = header.split(delimiter)
        if len(cells) >= count:
            return cells[:count]
    cells = header.split()
    if len(cells) < count:
        raise LogError(f"the header {header!r} names fewer columns than the rows have ({count})")
    return cells[:count]


def _words(cell: str) -> list[str]:
    return re.findall(r"[a-z]+3?", cell.lower().replace("°", " "))


def _unit_in(words: Sequence[str], units: dict[str, str]) -> str | None:
    return next((units[word] for word in reversed(words) if word in units), None)


def _cells(line: str) -> list[str]:
    """Split a row; where blanks or semicolons part the cells, a comma within one is a decimal comma."""
    for delimiter in (";", "\t"):
        if delimiter in line:
            return [cell.strip().replace(",", ".") for cell in line.split(delimiter)]
    blanks = line.split()
    if len(blanks) > 1 and not any(cell.endswith(",") for cell in blanks):
        return [cell.replace(",", ".") for cell in blanks]
    return [cell.strip() for cell in line.split(",")]


def _number(cell: str, line: int) -> float:
    try:
        value = float(cell)
    except ValueError:
        raise LogError(f"line {line}: got {cell!r}; must be a number") from None
    if not np.isfinite(value):
        raise LogError(f"line {line}: got {cell!r}; must be a finite number")
    return value


def _times(table: Sequence[tuple[int, list[str]]], columns: _Columns) -> tuple[FloatArray, bool]:
    """Return times and whether they are in seconds already (they are when written as mm:ss or hh:mm:ss)."""
    cells = [(n, c[columns.time]) for n, c in table]
    if not any(":" in cell for _, cell in cells):
        return np.array([_number(cell, n) for n, cell in cells]), False
    seconds = []
    for n, cell in cells:
        parts = cell.split(":")
        if not 2 <= len(parts) <= 3:
            raise LogError(f"line {n}: got time {cell!r}; must be mm:ss or hh:mm:ss like the others")
        seconds.append(sum(_number(part, n) * 60**i for i, part in enumerate(reversed(parts))))
    return np.array(seconds), True


def _in_seconds(time: FloatArray, unit: str | None, notes: list[str]) -> FloatArray:
    if unit is None:
        if np.ptp(time) < 120:
            raise LogError(
                "the time has no unit and could be minutes or seconds; head its column 'time_s' or 'time_min'"
            )
        notes.append("time has no unit in the header; read as seconds")
        unit = "s"
    return np.asarray(to_si(time, unit))  # type: ignore[arg-type]


def _in_kelvin(values: FloatArray, columns: _Columns, notes: list[str]) -> FloatArray:
    unit = columns.temperature_unit
    if unit is None:
        if values[0] > _WARMEST_START:
            raise LogError(
                f"the temperature has no unit and starts at {values[0]:g}: Celsius or Fahrenheit? "
                "head its column 'temperature_C' or 'temperature_F'"
            )
        notes.append("temperature has no unit in the header; read as degrees Celsius")
        unit = "degC"
    kelvin = np.asarray(to_si(values, unit))  # type: ignore[arg-type]
    outside = (kelvin < _PLAUSIBLE[0]) | (kelvin > _PLAUSIBLE[1])
    if outside.mean() > 0.5:
        raise LogError(f"most temperatures, read as {unit}, lie outside -43 to 627 C; check the unit in the header")
    return kelvin
