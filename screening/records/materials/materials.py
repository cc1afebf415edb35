"""Each polymer, elastomer, tank plastic and metal with its values in SI, their spread and their sources."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pandas as pd

from screening.errors import DataError, UnknownName
from screening.quantities import si_unit, to_si
from screening.records.tables.package import read_rows, read_table, table_description


@dataclass(frozen=True)
class Value:
    """One value with its spread, in the SI `unit`; low and high are about the 5th and 95th percentile.

    `temperature` [K] is that at which it holds (NaN: about 296 K, or a value that is itself a temperature); `bars` are those
    that a strength was measured on: printed, moulded, both, or not said.
    """

    low: float
    typical: float
    high: float
    unit: str
    temperature: float
    condition: str
    method: str
    source: str
    how: str
    note: str
    use: str = "main"
    bars: str = ""


@dataclass(frozen=True)
class Material:
    """One material and all its rows; `values` maps a property to every row of it, the main one first."""

    id: str
    name: str
    symbol: str
    family: str
    morphology: str
    chains: str
    state: str
    roles: tuple[str, ...]
    base: str
    filler: str
    filler_mass_fraction: float
    form: str
    note: str
    values: Mapping[str, tuple[Value, ...]]

    def value(self, property: str, use: str = "main") -> Value | None:
        """Return the value that the models take, as stored or `conditioned`, or None where no source gives one."""
        rows = self.values.get(property, ())
        return next((row for row in rows if row.use == use), None)

    def curve(self, property: str) -> tuple[Value, ...]:
        """Return the points measured against temperature, coldest first; empty where nobody measured them."""
        points = [r for r in self.values.get(property, ()) if r.use == "curve" and math.isfinite(r.temperature)]
        return tuple(sorted(points, key=lambda point: point.temperature))

    def others(self, property: str) -> tuple[Value, ...]:
        """Return the rows of second sources and of other states."""
        return tuple(row for row in self.values.get(property, ()) if row.use in ("other", "conditioned"))


class Materials:
    """All materials of the open table."""

    def __init__(self, materials: Mapping[str, Material], table: pd.DataFrame):
        self._materials = MappingProxyType(dict(materials))
        self._table = table

    @property
    def table(self) -> pd.DataFrame:
        """Return every value as a tidy frame in SI: a row a value, with its unit, condition and source."""
        return self._table.copy()

    @property
    def ids(self) -> tuple[str, ...]:
        """Return all ids, in the order of the table."""
        return tuple(self._materials)

    @property
    def printable(self) -> tuple[str, ...]:
        """Return the ids of what can be printed from filament."""
        return self.with_role("printable")

    def with_role(self, role: str) -> tuple[str, ...]:
        """Return the ids of what is used as `role`, such as seal, tank or metal."""
        return tuple(id for id, material in self._materials.items() if role in material.roles)

    def get(self, id: str) -> Material:
        """Return one material; another id raises UnknownName with the nearest ones."""
        try:
            return self._materials[id]
        except KeyError:
            raise UnknownName("material", id, self._materials) from None

    def value(self, id: str, property: str) -> Value | None:
        """Return the value that the models take, or None where no source gives one.

        Raises UnknownName for a material or a property that the table does not have at all.
        """
        if property not in known_properties():
            raise UnknownName("property", property, known_properties())
        return self.get(id).value(property)


@lru_cache(maxsize=1)
def known_properties() -> tuple[str, ...]:
    """Return every property that the table may hold."""
    fields = {field["name"]: field for field in table_description("properties")["schema"]["fields"]}
    return tuple(fields["property"]["constraints"]["enum"])


@lru_cache(maxsize=8)
def load_materials(folder: Path | None = None) -> Materials:
    """Return all materials with their values in SI.

    Polymers, elastomers, tank plastics and metals alike; a value that no source gives is absent, never filled.

    Parameters
    ----------
    folder : Path, optional
        Where the tables lie; `materials_data` if left out.

    Returns
    -------
    Materials

    Raises
    ------
    DataError
        If a table does not fit its description, if low, typical and high are out of order, if a property is given in two
        units, or if a material has two main rows of one property.

    Examples
    --------
    The glass transition of polycarbonate, about 150 degC in any handbook:

    >>> value = load_materials().get("pc").value("glass_transition")
    >>> value.unit, 415 < value.low <= value.typical <= value.high < 430
    ('K', True)
    """
    raw = read_table("properties", folder)
    _refuse_disorder(raw)
    table = _in_si(raw)
    values: dict[str, dict[str, list[Value]]] = {}
    columns = [field.name for field in fields(Value)]
    records = zip(table["material"], table["property"], table[columns].itertuples(index=False, name=None), strict=True)
    for id, property, cells in records:
        values.setdefault(id, {}).setdefault(property, []).append(Value(*cells))
    materials = {row["id"]: _material(row, values.get(row["id"], {})) for _, row in read_rows("materials", folder)}
    names = table["material"].map({id: material.name for id, material in materials.items()})
    table.insert(1, "name", names)
    return Materials(materials, table.reset_index(drop=True))


def _material(row: Mapping[str, Any], values: Mapping[str, list[Value]]) -> Material:
    ordered = {
        property: tuple(sorted(rows, key=lambda value: value.use != "main")) for property, rows in values.items()
    }
    fraction = row["filler_mass_fraction"]
    cells = {
        **row,
        "roles": tuple(row["roles"].split(";")),
        "base": row["base"] or row["id"],
        "filler_mass_fraction": 0.0 if math.isnan(fraction) else fraction,
    }
    return Material(**cells, values=MappingProxyType(ordered))


def _in_si(raw: pd.DataFrame) -> pd.DataFrame:
    """Return the frame with low, typical, high and temperature in SI, and the SI unit."""
    table = raw.rename(columns={"temperature_C": "temperature"})
    offset = table["unit"].map(lambda unit: to_si(0.0, unit))
    factor = table["unit"].map(lambda unit: to_si(1.0, unit) - to_si(0.0, unit))
    for column in ("low", "typical", "high"):
        table[column] = table[column] * factor + offset
    table["temperature"] = table["temperature"] + to_si(0.0, "degC")
    table["unit"] = table["unit"].map(si_unit)
    return table


def _refuse_disorder(raw: pd.DataFrame) -> None:
    """Raise DataError for a row or a set of rows that fits its columns and still makes no sense."""
    wrong = raw[(raw["low"] > raw["typical"]) | (raw["typical"] > raw["high"])]
    for line, row in wrong.iterrows():
        raise DataError(
            f"properties.csv, row {line}, column typical: low {row['low']:g}, typical {row['typical']:g}, "
            f"high {row['high']:g}, should rise from low to high"
        )
    units = raw.groupby("property")["unit"].first().to_dict()
    for line, row in raw[raw["unit"] != raw["property"].map(units)].iterrows():
        raise DataError(
            f"properties.csv, row {line}, column unit: {row['property']} in {row['unit']}, "
            f"should be in {units[row['property']]} as in its other rows"
        )
    taken = raw[raw["use"].isin(("main", "conditioned"))]
    for line, row in taken[taken.duplicated(["material", "property", "use"], keep="first")].iterrows():
        raise DataError(
            f"properties.csv, row {line}, column use: a second {row['use']} row of {row['property']} of "
            f"{row['material']}, should be one {row['use']} row and the rest 'other' or 'curve'"
        )
