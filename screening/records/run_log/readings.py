"""A run log as it was written down: times, readings of the gun and fuel used, from text in the usual forms.

Delimiters may be semicolons, tabs, commas or blanks; decimals may be written with a comma; units stand in the header
(`time_s`, `Time [min]`, `temp (F)`, `fuel mL` ...). A log whose units are not said is refused, not guessed.
"""

from __future__ import annotations

import csv
import hashlib
import io
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from screening.arrays import FloatArray
from screening.errors import LogError
from screening.quantities import to_si
from screening.records.run_log.columns import LogColumns, unit_of_clock

Row = tuple[int, list[str]]

FEWEST_ROWS = 4
_RIGHT = "must be a text file with lines of time and temperature under a header such as 'time_s,temperature_C'"
_LARGEST_FILE = 5_000_000  # letters: days of a reading a second
_SHORTEST_IN_SECONDS = 120.0  # a shorter span without a unit may as well be minutes
_WARMEST_START = 35.0  # a first reading above this, without a unit, may as well be Fahrenheit
_PLAUSIBLE = (230.0, 900.0)  # kelvin: what a gun reads off an engine
_HOTTEST = 3000.0  # kelvin: above every reading, a slip of the gun too
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?", re.IGNORECASE)


@dataclass(frozen=True)
class LogRows:
    """A run log in SI.

    Parameters
    ----------
    time : array (n_row,)
        From the first row [s], rising.
    reading : array (n_row,)
        What the gun showed, not corrected for emissivity [K].
    fuel_used : array (n_row,) or None
        [m3], NaN where a row gives none.
    notes : tuple of str
        What was assumed in reading the text.
    digest : str
        SHA-256 of the text.
    """

    time: FloatArray
    reading: FloatArray
    fuel_used: FloatArray | None
    notes: tuple[str, ...]
    digest: str


def read_rows(source: str | os.PathLike[str] | io.TextIOBase) -> LogRows:
    """Return the rows of a log given as text, as a path or as an open text file.

    Empty lines and lines that start with # are skipped. A string of one line is a path.

    Raises
    ------
    LogError
        Names the line, what stands there and what would be right.

    Examples
    --------
    >>> read_rows("time_min,temp_F\\n0,68\\n1,77\\n2,86\\n3,95").time.tolist()
    [0.0, 60.0, 120.0, 180.0]
    """
    name, text = _text_of(source)
    try:
        return _rows_in(text)
    except LogError as error:
        raise LogError(f"{name}: {error}" if name else str(error)) from None


def _rows_in(text: str) -> LogRows:
    numbered = ((n, line.strip()) for n, line in enumerate(text.splitlines(), 1))
    lines = [(n, line) for n, line in numbered if line and not line.startswith("#")]
    if not lines:
        raise LogError(f"the log is empty; {_RIGHT}")
    header = lines.pop(0)[1] if _is_header(lines[0][1]) else None
    rows = [(n, _cells(line)) for n, line in lines]
    if len(rows) < FEWEST_ROWS:
        raise LogError(
            f"the log has {len(rows)} {'row' if len(rows) == 1 else 'rows'} of numbers; at least {FEWEST_ROWS} are needed, better 10 or more"
        )
    if header is None and len(rows[0][1]) > 2 and "," in lines[0][1] and not re.search(r"[;\t\s]", lines[0][1]):
        raise LogError(
            f"line {rows[0][0]}: {lines[0][1]!r} has commas that may part values or mark decimals; "
            "head the columns, such as 'time_s,temperature_C,fuel_mL', or part them with semicolons"
        )
    columns = LogColumns.of(header, len(rows[0][1]))
    _check_widths(rows, columns)
    notes = [*columns.guessed]
    time = _times(rows, columns, notes)
    reading = _in_kelvin(
        np.array([_number(c[columns.temperature], n) for n, c in rows]), columns, notes, [n for n, _ in rows]
    )
    return LogRows(
        time - time[0],
        reading,
        _fuel_used(rows, columns, notes),
        tuple(notes),
        hashlib.sha256(text.encode()).hexdigest(),
    )


def _text_of(source: str | os.PathLike[str] | io.TextIOBase) -> tuple[str, str]:
    """Return the file's name, empty where there is none, and the text."""
    if isinstance(source, io.TextIOBase):
        return "", source.read().removeprefix("\ufeff")
    if isinstance(source, str) and (len(source.splitlines()) != 1 or not source.strip()):
        return "", source.removeprefix("\ufeff")
    name = os.fspath(source)
    shown = name if len(name) <= 200 else name[:197] + "..."
    try:
        if Path(name).is_dir():
            raise LogError(f"{shown}: is a folder; {_RIGHT}")
        with Path(name).open(encoding="utf-8-sig") as stream:
            text = stream.read(_LARGEST_FILE + 1)
        if len(text) > _LARGEST_FILE:
            raise LogError(f"{shown}: is longer than {_LARGEST_FILE / 1e6:g} million letters; {_RIGHT}")
        return shown, text
    except LogError:
        raise
    except FileNotFoundError:
        raise LogError(f"{shown}: no such file; {_RIGHT}") from None
    except UnicodeDecodeError as error:
        got = f"byte {error.object[error.start]:#04x} at {error.start}"
        raise LogError(f"{shown}: not UTF-8 text: {got}; {_RIGHT}") from None
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else error
        raise LogError(f"{shown}: cannot be read: {why}; {_RIGHT}") from None


def _is_header(line: str) -> bool:
    return not re.match(r"[+-]?\.?\d", _cells(line)[0])


def _cells(line: str) -> list[str]:
    """Split a row; where blanks or semicolons part the cells, a comma within one is a decimal comma."""
    for delimiter in (";", "\t"):
        if delimiter in line:
            return [cell.strip().strip('"').replace(",", ".") for cell in line.split(delimiter)]
    if '"' in line:
        return [cell.strip().replace(",", ".") for cell in next(csv.reader([line], skipinitialspace=True))]
    blanks = line.split()
    if len(blanks) > 1 and not any(cell.endswith(",") for cell in blanks):
        return [cell.replace(",", ".") for cell in blanks]
    return [cell.strip() for cell in line.split(",")]


def _check_widths(rows: Sequence[Row], columns: LogColumns) -> None:
    for n, cells in rows:
        if len(cells) < columns.needed:
            raise LogError(
                f"line {n}: got {_counted(len(cells))}, {_cut(', '.join(cells))}; must be {columns.needed} or more, time and "
                "temperature among them, parted by commas, semicolons, tabs or blanks"
            )
        if len(cells) > columns.count:
            raise LogError(
                f"line {n}: got {_counted(len(cells))}; must be {columns.count}, like the others; "
                "where decimals are written with a comma, part the values with semicolons"
            )


def _counted(count: int) -> str:
    return "1 value" if count == 1 else f"{count} values"


def _cut(text: str) -> str:
    return repr(text if len(text) <= 60 else text[:57] + "...")


def _number(cell: str, line: int) -> float:
    if not _NUMBER.fullmatch(cell):
        raise LogError(f"line {line}: got {cell[:60]!r}; must be a number")
    value = float(cell)
    if not np.isfinite(value):
        raise LogError(f"line {line}: got {cell[:60]!r}; must be a finite number")
    return value


def _times(rows: Sequence[Row], columns: LogColumns, notes: list[str]) -> FloatArray:
    """Return times [s] that rise."""
    cells = [(n, c[columns.time]) for n, c in rows]
    if any(":" in cell for _, cell in cells):
        time = _clock_times(cells, columns, notes)
    else:
        time = _in_seconds(np.array([_number(cell, n) for n, cell in cells]), columns.time_unit, notes)
    steps = np.diff(time)
    if np.any(steps <= 0):
        n = rows[int(np.argmax(steps <= 0)) + 1][0]
        raise LogError(f"line {n}: time does not rise; each row must be later than the one before")
    return time


def _clock_times(cells: Sequence[tuple[int, str]], columns: LogColumns, notes: list[str]) -> FloatArray:
    """Return times [s] written as mm:ss, hh:mm or hh:mm:ss."""
    parted = [(n, cell, cell.split(":")) for n, cell in cells]
    count = len(parted[0][2])
    unit = unit_of_clock(columns, count, parted[0][1], notes)
    seconds = []
    for n, cell, parts in parted:
        numbers = [_number(part, n) if part else -1.0 for part in parts]
        if len(parts) != count or min(numbers) < 0 or any(number >= 60 for number in numbers[1:]):
            raise LogError(f"line {n}: got time {cell[:60]!r}; must be mm:ss or hh:mm:ss like the others")
        seconds.append(sum(number * 60**i for i, number in enumerate(reversed(numbers))) * unit)
    return np.array(seconds)


def _in_seconds(time: FloatArray, unit: str | None, notes: list[str]) -> FloatArray:
    if unit is None:
        if np.ptp(time) < _SHORTEST_IN_SECONDS:
            raise LogError(
                "the time has no unit and could be minutes or seconds; head its column 'time_s' or 'time_min'"
            )
        notes.append("time has no unit in the header; read as seconds")
        unit = "s"
    return to_si(time, unit)


def _in_kelvin(values: FloatArray, columns: LogColumns, notes: list[str], lines: Sequence[int]) -> FloatArray:
    unit = columns.temperature_unit
    if unit is None:
        if values[0] > _WARMEST_START:
            raise LogError(
                f"the temperature has no unit and starts at {values[0]:g}: Celsius or Fahrenheit? "
                "head its column 'temperature_C' or 'temperature_F'"
            )
        notes.append("temperature has no unit in the header; read as degrees Celsius")
        unit = "degC"
    kelvin = to_si(values, unit)
    outside = (kelvin < _PLAUSIBLE[0]) | (kelvin > _PLAUSIBLE[1])
    if np.mean(outside) > 0.5:
        raise LogError(f"most temperatures, read as {unit}, lie outside -43 to 627 °C; check the unit in the header")
    for wrong, why in (
        (kelvin <= 0, "lies below absolute zero"),
        (kelvin > _HOTTEST, "is hotter than any engine part"),
    ):
        if np.any(wrong):
            first = int(np.argmax(wrong))
            raise LogError(f"line {lines[first]}: a temperature of {values[first]:g} {unit} {why}")
    return kelvin


def _fuel_used(rows: Sequence[Row], columns: LogColumns, notes: list[str]) -> FloatArray | None:
    if columns.fuel is None:
        return None
    if columns.fuel_unit is None:
        notes.append("fuel has no unit in the header; read as millilitres")
    cells = [(n, c[columns.fuel] if len(c) > columns.fuel else "") for n, c in rows]
    volumes = np.array([_number(cell, n) if cell else np.nan for n, cell in cells])
    return to_si(volumes, columns.fuel_unit or "mL")
