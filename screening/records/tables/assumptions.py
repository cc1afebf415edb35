"""Ranges of what is not measured: how a small engine is built and run, and how sure the models are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from screening.errors import DataError
from screening.quantities import known_units, si_unit, to_si
from screening.records.tables.package import read_rows


@dataclass(frozen=True)
class Assumption:
    """One range in the SI `unit`; low, high: 5th and 95th percentile (uniform, triangular: the ends).

    `drawn` says when it is drawn, `used_by` what rests on it: their words stand in `datapackage.json`.
    """

    name: str
    low: float
    typical: float
    high: float
    unit: str
    distribution: str
    drawn: str
    used_by: str
    meaning: str
    source: str
    how: str
    note: str


@lru_cache(maxsize=8)
def load_assumptions(folder: Path | None = None) -> Mapping[str, Assumption]:
    """Return every assumption by name, in SI.

    Parameters
    ----------
    folder : Path, optional
        Where the tables lie; `materials_data` if left out.

    Returns
    -------
    mapping of str to Assumption
        In the order of the table.

    Raises
    ------
    DataError
        For an unknown unit, values out of order, or a lognormal range that reaches zero.

    Examples
    --------
    >>> load_assumptions()["speed"].typical  # 3000 rpm
    50.0
    """
    rows = read_rows("assumptions", folder)
    return MappingProxyType({row["name"]: _assumption(line, row) for line, row in rows})


def _assumption(line: int, row: Mapping[str, Any]) -> Assumption:
    unit = row["unit"]
    if unit not in known_units():
        raise DataError(
            f"assumptions.csv, row {line}, column unit: is {unit!r}, should be one of {', '.join(known_units())}"
        )
    low, typical, high = (row[column] for column in ("low", "typical", "high"))
    if not low <= typical <= high:
        raise DataError(
            f"assumptions.csv, row {line}, column typical: low {low:g}, typical {typical:g}, high {high:g}, "
            "should rise from low to high"
        )
    if row["distribution"] == "lognormal" and low <= 0:
        raise DataError(f"assumptions.csv, row {line}, column low: is {low:g}, should be above zero for a lognormal")
    converted = {"low": to_si(low, unit), "typical": to_si(typical, unit), "high": to_si(high, unit)}
    return Assumption(**{**row, **converted, "unit": si_unit(unit)})
