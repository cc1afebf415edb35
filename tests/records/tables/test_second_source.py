"""Transitions, densities and conductivities against a second source than the table's own row."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from screening.quantities import to_si
from screening.records.materials.materials import load_materials

PUBLISHED = Path(__file__).parents[2] / "published" / "materials_second_source.csv"
ROWS = list(csv.DictReader(PUBLISHED.read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['material']} {row['property']}" for row in ROWS])
def test_typical_value_lies_in_the_second_sources_range(row: dict[str, str]) -> None:
    """The published range is the source's own spread, so no tolerance is added."""
    value = load_materials().value(row["material"], row["property"])
    assert value is not None
    low, high = (to_si(float(row[end]), row["unit"]) for end in ("low", "high"))
    assert low <= value.typical <= high, row["citation"]
