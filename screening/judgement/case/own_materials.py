"""The materials that a case adds: each value checked against what any material of the table has."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from screening.errors import Fault, UnknownName
from screening.judgement.case.case import OwnMaterial
from screening.records.materials.materials import load_materials
from screening.records.tables.package import read_table

BEYOND_FACTOR, BEYOND_DEGREES, BEYOND_DECADES = 10.0, 200.0, 2.0
"""How far beyond the table's values a value may lie: it is to catch a wrong unit, not to judge a material."""


@lru_cache(maxsize=1)
def own_value_limits() -> Mapping[str, tuple[float, float, str]]:
    """Return the lowest and highest value that a case may give each property, and its unit, as the table writes it."""
    limits = {}
    for (name, unit), rows in read_table("properties").groupby(["property", "unit"]):
        low, high = float(rows["low"].min()), float(rows["high"].max())
        if unit == "degC":
            low, high = max(low - BEYOND_DEGREES, -273.0), high + BEYOND_DEGREES
        elif unit.startswith("log10"):
            low, high = low - BEYOND_DECADES, high + BEYOND_DECADES
        else:
            low, high = low / BEYOND_FACTOR if low > 0 else low, high * BEYOND_FACTOR
            largest_share = {"1": 1.0, "%": 100.0}.get(unit)
            if largest_share is not None and rows["high"].max() <= largest_share:
                high = min(high, largest_share)
        limits[str(name)] = (low, high, str(unit))
    return MappingProxyType(limits)


def own_materials(rows: list[Mapping[str, Any]], faults: list[Fault]) -> tuple[OwnMaterial, ...]:
    """Return the materials that a case adds, once it fits the schema; what is wrong with them is added to `faults`."""
    taken = set(load_materials().ids)
    for i, row in enumerate(rows):
        if row["id"] in taken:
            faults.append(Fault(f"own_materials[{i}].id", f"got {row['id']!r}, which is taken; choose another"))
        taken.add(row["id"])
    return tuple(_own_material(row, f"own_materials[{i}]", faults) for i, row in enumerate(rows))


def _own_material(row: Mapping[str, Any], where: str, faults: list[Fault]) -> OwnMaterial:
    known = load_materials().ids
    if row["based_on"] not in known:
        faults.append(Fault(f"{where}.based_on", str(UnknownName("material", row["based_on"], known))))
    values = []
    for name, value in row["values"].items():
        triple = (value,) * 3 if isinstance(value, int | float) else (value["low"], value["typical"], value["high"])
        message = _value_fault(name, triple)
        if message:
            faults.append(Fault(f"{where}.values.{name}", message))
        values.append((name, triple))
    return OwnMaterial(row["id"], row["name"], row["based_on"], tuple(sorted(values)))


def _value_fault(name: str, triple: tuple[float, float, float]) -> str:
    limits = own_value_limits()
    if name not in limits:
        return str(UnknownName("property", name, limits))
    if not triple[0] <= triple[1] <= triple[2]:
        return f"got {triple[0]:g}, {triple[1]:g}, {triple[2]:g}; low, typical, high must rise"
    low, high, unit = limits[name]
    if triple[0] < low or triple[2] > high:
        got = f"{triple[0]:g}" if triple[0] == triple[2] else f"{triple[0]:g} to {triple[2]:g}"
        return f"got {got}; allowed {low:g} to {high:g}" + (f" {unit}" if unit != "1" else "")
    return ""
