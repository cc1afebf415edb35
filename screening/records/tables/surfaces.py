"""How well the surfaces that a temperature gun is pointed at radiate between 8 and 14 micrometres."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from screening.errors import DataError, UnknownName
from screening.quantities import to_si
from screening.records.tables.package import read_rows


@dataclass(frozen=True)
class Surface:
    """One kind of surface: emissivity [1], and the temperature [K] that it withstands (NaN: no limit)."""

    surface: str
    name: str
    low: float
    typical: float
    high: float
    highest_temperature: float
    source: str
    how: str
    note: str


@lru_cache(maxsize=8)
def load_surfaces(folder: Path | None = None) -> Mapping[str, Surface]:
    """Return every surface by id; raises DataError where the emissivities do not rise from low to high."""
    by_id: dict[str, Surface] = {}
    for line, row in read_rows("surfaces", folder):
        if not row["low"] <= row["typical"] <= row["high"]:
            raise DataError(
                f"surfaces.csv, row {line}, column typical: {row['low']:g}, {row['typical']:g}, {row['high']:g}, "
                "should rise from low to high"
            )
        limit = to_si(row.pop("highest_C"), "degC")
        by_id[row["surface"]] = Surface(**row, highest_temperature=limit)
    return MappingProxyType(by_id)


def find_surface(name: str) -> Surface:
    """Return one surface by its id or plain name; another raises UnknownName with the nearest ones.

    >>> find_surface("bare_cast_aluminium").typical < 0.4
    True
    """
    surfaces = load_surfaces()
    folded = name.strip().casefold()
    for surface in surfaces.values():
        if folded in (surface.surface, surface.name.casefold(), surface.surface.replace("_", " ")):
            return surface
    raise UnknownName("surface", name, surfaces)
