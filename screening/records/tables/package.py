"""Reads the tables of `materials_data/` as their package description says, and refuses what does not fit.

The description (`datapackage.json`, a Frictionless data package with a Table Schema for each CSV) is the one
place that says which columns a table has, which of them are numbers, which values are allowed, how many `rows` it has
and the digest (`hash`) of the file that was checked. A table of that digest is read straight away; one that was edited
since is checked row by row first (`table_faults`).
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import pandas as pd

from screening.errors import DataError, UnknownName

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
        If the file does not fit its description or has fewer rows; the message names file, row, column and what would
        be right.
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
    described = table_description(name, folder)
    if not all(_is_as_described(part, folder) for part in (name, *_tables_referred_to(described))):
        _refuse_damage(name, folder)
    return _read(folder / f"{name}.csv", described["schema"]["fields"])


def _tables_referred_to(described: Mapping[str, Any]) -> set[str]:
    keys = described["schema"].get("foreignKeys", ())
    return {key["reference"]["resource"] for key in keys} - {"", described["name"]}


@lru_cache(maxsize=64)
def _is_as_described(name: str, folder: Path) -> bool:
    """Return whether the file is, byte by byte, the one that was checked when its description was written."""
    path = folder / f"{name}.csv"
    digest = hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
    return bool(table_description(name, folder).get("hash") == f"sha256:{digest}")


def _refuse_damage(name: str, folder: Path) -> None:
    """Raise DataError with what is wrong with an edited table, or with a table that it refers to."""
    from screening.records.tables.table_faults import table_faults  # its validator takes a while to load

    described = table_description(name, folder)
    for other in sorted(_tables_referred_to(described)):
        _checked_table(other, folder)
    faults = table_faults(described, folder)
    if faults:
        worded = [f"{name}.csv{', ' if fault.where else ': '}{fault}" for fault in faults[:_SHOWN_FAULTS]]
        rest = len(faults) - len(worded)
        raise DataError("; ".join(worded) + (f"; and {rest} more" if rest else ""))


def _read(path: Path, fields: list[dict[str, Any]]) -> pd.DataFrame:
    """Return a table without faults: texts as they stand, numbers to their last digit, an empty number as NaN."""
    texts = pd.read_csv(path, encoding="utf-8-sig", dtype=str, keep_default_na=False)
    frame = texts.assign(
        **{
            field["name"]: texts[field["name"]].replace("", "nan").astype(float)
            for field in fields
            if field["type"] == "number"
        },
        **{field["name"]: texts[field["name"]] == "true" for field in fields if field["type"] == "boolean"},
    )
    frame.index = pd.RangeIndex(2, 2 + len(frame), name="line")
    return frame
