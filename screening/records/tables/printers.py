"""Generic classes of filament printers: how hot nozzle, bed and chamber get."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from screening.errors import UnknownName
from screening.quantities import to_si
from screening.records.tables.package import read_rows


@dataclass(frozen=True)
class PrinterClass:
    """One class of printers: hottest `nozzle`, `bed` and `chamber` [K], and whether the chamber is heated."""

    id: str
    name: str
    nozzle: float
    bed: float
    chamber: float
    chamber_heated: bool
    description: str
    source: str
    how: str
    note: str


@lru_cache(maxsize=8)
def load_printer_classes(folder: Path | None = None) -> Mapping[str, PrinterClass]:
    """Return every printer class by id, coolest first."""
    classes: dict[str, PrinterClass] = {}
    for _, row in read_rows("printer_classes", folder):
        envelope = {part: to_si(row.pop(f"{part}_C"), "degC") for part in ("nozzle", "bed", "chamber")}
        classes[row["id"]] = PrinterClass(**{**row, **envelope})
    return MappingProxyType(classes)


def printer_class(id: str) -> PrinterClass:
    """Return one printer class; another id raises UnknownName with the nearest ones."""
    classes = load_printer_classes()
    if id not in classes:
        raise UnknownName("printer class", id, classes)
    return classes[id]
