"""Reads the tables of `materials_data/` as their package description says, and refuses what does not fit.

The description (`datapackage.json`, a Frictionless data package with a Table Schema for each CSV) is the one
place that says which columns a table has, which of them are numbers, and which values are allowed.
"""

from __future__ import annotations

import csv
import hashlib
import json
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import pandas as pd

from screening.errors import DataError, Fault, UnknownName, nearest_names

_SHOWN_FAULTS = 5


def data_folder() -> Path:
    """Return the folder that holds the open tables."""
    return Path(__file__).resolve().parents[3] / "materials_data"


def read_table(name: str, folder: Path | None = None) -> pd.DataFrame:
    """Return the table `materials_data/<name>.csv`, checked against the package description.

    Text columns hold str (empty text for a gap), number columns float (NaN for a gap). The frame's index is
    the line of the file, so that a later complaint can name it.

    Raises
    ------
    UnknownName
        If the package lists no such table.
    DataError
        If the file does not fit its description; the message names file, row, column and what would be right.
    """
    return _checked_table(name, folder or data_folder()).copy()


def read_rows(name: str, folder: Path | None = None) -> list[tuple[int, dict[str, Any]]]:
    """Return the rows of a table, each with its line in the file; see `read_table`."""
    table = _checked_table(name, folder or data_folder())
    columns = [str(column) for column in table.columns]
    cells = table.itertuples(name=None)
    return [(line, dict(zip(columns, row, strict=True))) for line, *row in cells]


def table_names(folder: Path | None = None) -> tuple[str, ...]:
    """Return the names of all tables of the package."""
    return tuple(_package(folder or data_folder()))


def table_description(name: str, folder: Path | None = None) -> Mapping[str, Any]:
    """Title, description and columns of one table, from the package description."""
    tables = _package(folder or data_folder())
    if name not in tables:
        raise UnknownName("table", name, tables)
    return tables[name]


def data_digest(folder: Path | None = None) -> str:
    """Return the SHA-256 over all tables of the folder: it changes when any value changes."""
    total = hashlib.sha256()
    for path in sorted((folder or data_folder()).glob("*.csv")):
        total.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def table_digests(folder: Path | None = None) -> dict[str, str]:
    """Return the SHA-256 of each table's file by the table's name."""
    paths = sorted((folder or data_folder()).glob("*.csv"))
    return {path.stem: hashlib.sha256(path.read_bytes()).hexdigest() for path in paths}


@lru_cache(maxsize=8)
def _package(folder: Path) -> dict[str, Mapping[str, Any]]:
    path = folder / "datapackage.json"
    try:
        resources = json.loads(path.read_text(encoding="utf-8"))["resources"]
    except (OSError, ValueError, KeyError) as error:
        raise DataError(f"{path}: not a readable data package ({error})") from error
    return {resource["name"]: resource for resource in resources}


@lru_cache(maxsize=64)
def _checked_table(name: str, folder: Path) -> pd.DataFrame:
    schema = table_description(name, folder)["schema"]
    fields: list[dict[str, Any]] = schema["fields"]
    path = folder / f"{name}.csv"
    lines, rows = _rows(path, [field["name"] for field in fields])
    faults: list[Fault] = []
    columns: dict[str, list[Any]] = {}
    for position, field in enumerate(fields):
        texts = [row[position].strip() for row in rows]
        columns[field["name"]], found = _column(field, texts, lines)
        faults += found
    frame = pd.DataFrame(columns, index=pd.Index(lines, name="line"))
    faults += _repeated_keys(frame, schema["primaryKey"])
    for key in schema.get("foreignKeys", ()):
        faults += _dangling(frame, key, name, folder)
    if faults:
        shown = [f"{path.name}, {fault}" for fault in faults[:_SHOWN_FAULTS]]
        rest = len(faults) - len(shown)
        raise DataError("; ".join(shown) + (f"; and {rest} more" if rest else ""))
    return frame


def _rows(path: Path, names: Sequence[str]) -> tuple[list[int], list[list[str]]]:
    """Return line numbers and cells of the body, once the heading fits."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise DataError(f"{path.name}: cannot be read as UTF-8 text ({error})") from error
    reader = csv.reader(text.splitlines(keepends=True))
    heading = next(reader, [])
    missing = [name for name in names if name not in heading]
    extra = [name for name in heading if name not in names]
    if missing or extra or list(heading) != list(names):
        trouble = f"column {missing[0]!r} is missing" if missing else "the columns are not those described"
        if extra:
            trouble += f", column {extra[0]!r} is not described"
        raise DataError(f"{path.name}, row 1: {trouble}; the columns should be: {', '.join(names)}")
    lines: list[int] = []
    rows: list[list[str]] = []
    for row in reader:
        if not row:
            continue
        if len(row) != len(names):
            raise DataError(
                f"{path.name}, row {reader.line_num}: {len(row)} cells, should be {len(names)} "
                "(a text that holds a comma needs quotation marks)"
            )
        lines.append(reader.line_num)
        rows.append(row)
    return lines, rows


def _column(field: Mapping[str, Any], texts: list[str], lines: list[int]) -> tuple[list[Any], list[Fault]]:
    """Return one column in its type, and what is wrong in it."""
    rules = field.get("constraints", {})
    values: list[Any] = []
    faults: list[Fault] = []
    for text, line in zip(texts, lines, strict=True):
        value, trouble = _cell(field["type"], text, rules)
        values.append(value)
        if trouble:
            faults.append(Fault(f"row {line}, column {field['name']}", trouble))
    return values, faults


def _cell(kind: str, text: str, rules: Mapping[str, Any]) -> tuple[Any, str]:
    """Return one cell in its type, and what is wrong with it (empty: nothing)."""
    if not text:
        gap: Any = math.nan if kind in ("number", "integer") else (False if kind == "boolean" else "")
        return gap, "is empty, should be filled" if rules.get("required") else ""
    if kind == "boolean":
        right = text in ("true", "false")
        return text == "true", "" if right else f"is {text!r}, should be true or false"
    if kind == "string":
        return text, _text_trouble(text, rules)
    try:
        number = float(text)
    except ValueError:
        return math.nan, f"is {text!r}, should be a number (decimal point, no unit)"
    return number, _number_trouble(number, rules)


def _text_trouble(text: str, rules: Mapping[str, Any]) -> str:
    allowed = rules.get("enum")
    if allowed is not None and text not in allowed:
        near = nearest_names(text, allowed) or tuple(allowed[:8])
        return f"is {text!r}, should be one of those described, such as: {', '.join(near)}"
    pattern = rules.get("pattern")
    if pattern is not None and not re.fullmatch(pattern, text):
        return f"is {text!r}, should match {pattern}"
    return ""


def _number_trouble(number: float, rules: Mapping[str, Any]) -> str:
    low, high = rules.get("minimum", -math.inf), rules.get("maximum", math.inf)
    if not math.isfinite(number):
        return f"is {number}, should be a finite number"
    if not low <= number <= high:
        return f"is {number:g}, should be between {low:g} and {high:g}"
    return ""


def _repeated_keys(frame: pd.DataFrame, key: str | list[str]) -> Iterator[Fault]:
    names = [key] if isinstance(key, str) else list(key)
    repeated = frame[frame.duplicated(names, keep="first")]
    for line, row in zip(repeated.index, repeated[names].to_numpy(), strict=True):
        shown = ", ".join(f"{name} {value}" for name, value in zip(names, row, strict=True))
        yield Fault(f"row {line}", f"repeats an earlier row ({shown}); each may stand once")


def _dangling(frame: pd.DataFrame, key: Mapping[str, Any], name: str, folder: Path) -> Iterator[Fault]:
    field, other = key["fields"][0], key["reference"]["resource"]
    other_field = key["reference"]["fields"][0]
    table = frame if other in ("", name) else _checked_table(other, folder)
    known = set(table[other_field])
    for line, value in zip(frame.index, frame[field], strict=True):
        if value and value not in known:
            near = ", ".join(nearest_names(value, known)) or "none"
            yield Fault(
                f"row {line}, column {field}",
                f"is {value!r}, should be a {other_field} of {other or name}.csv (nearest: {near})",
            )
