"""The materials as plain text: nothing left out, gaps named, sources written out."""

from __future__ import annotations

import pytest

from screening.errors import UnknownName
from screening.records.materials.materials import load_materials
from screening.report.materials.materials_text import material_sheet, materials_overview


def test_overview_has_a_line_a_material() -> None:
    materials = load_materials()
    text = materials_overview(materials)
    lines = text.splitlines()
    assert [line.split()[0] for line in lines[2 : 2 + len(materials.ids)]] == list(materials.ids)
    assert "unknown" in text, "gaps are shown"
    assert "Tg [°C]" in lines[0]


def test_sheet_shows_ranges_sources_and_gaps() -> None:
    materials = load_materials()
    glass = materials.value("pc", "glass_transition")
    assert glass is not None
    text = material_sheet(materials, "pc")
    line = next(line for line in text.splitlines() if line.startswith("glass transition") and " main " in line)
    assert f"{glass.typical - 273.15:.4g}" in line
    assert glass.how in line
    assert glass.source in line
    assert "unknown: " in text
    assert "melting point" not in text.split("unknown: ")[1].splitlines()[0]
    assert "carbon monoxide from about" in text


@pytest.mark.parametrize("id", load_materials().ids)
def test_every_material_has_a_sheet(id: str) -> None:
    assert "Sources" in material_sheet(load_materials(), id)


def test_unknown_material() -> None:
    with pytest.raises(UnknownName, match="peek"):
        material_sheet(load_materials(), "peeek")
