"""Values in the units of the trade: the same figures for the terminal, the app and the CSV; gaps are told, not filled."""

from __future__ import annotations

import csv
import io

import pytest

from screening.judgement.draws.polymer import property_units
from screening.quantities import from_si
from screening.records.materials.materials import known_properties, load_materials
from screening.report.materials.material_rows import (
    applies,
    gaps,
    plain_property,
    scale_of,
    shown_value,
    shown_values,
)
from screening.report.materials.materials_csv import materials_csv
from screening.report.materials.materials_text import material_sheet
from screening.sentences import Units

MATERIALS = load_materials()


def test_figures_are_the_tables_own() -> None:
    """Every value shown in its table's own unit is the SI value turned back."""
    for id in MATERIALS.ids:
        for shown in shown_values(MATERIALS.get(id)):
            unit = property_units()[shown.name]
            if not unit.startswith("log10"):
                assert shown.numbers == pytest.approx(
                    [from_si(n, unit) for n in (shown.row.low, shown.row.typical, shown.row.high)]
                )


def test_fahrenheit_changes_temperatures_and_nothing_else() -> None:
    """Water's two fixed points set the scale: 0 °C is 32 °F, and 100 K more are 180 °F more."""
    pla = MATERIALS.get("pla")
    for celsius, fahrenheit in zip(shown_values(pla), shown_values(pla, Units("°F")), strict=True):
        if celsius.unit == "°C":
            assert fahrenheit.unit == "°F"
            assert fahrenheit.numbers == pytest.approx([32 + 1.8 * n for n in celsius.numbers])
        else:
            assert (fahrenheit.numbers, fahrenheit.unit) == (celsius.numbers, celsius.unit)


@pytest.mark.parametrize("id", ["abs", "peek", "nbr", "aluminium"])
def test_the_terminal_says_the_same(id: str) -> None:
    material = MATERIALS.get(id)
    sheet = material_sheet(MATERIALS, id)
    for shown in shown_values(material):
        line = [plain_property(shown.name), *shown.written, shown.unit]
        assert "".join("".join(line).split()) in "".join(sheet.split())
    for name in gaps(material):
        assert plain_property(name) in sheet.split("unknown: ")[1].splitlines()[0]


def test_a_value_is_known_a_gap_or_does_not_apply() -> None:
    """No property of a material is passed over in silence."""
    for id in MATERIALS.ids:
        material = MATERIALS.get(id)
        missing = [p for p in known_properties() if material.value(p) is None]
        assert [p for p in missing if applies(material, p)] == list(gaps(material))


@pytest.mark.parametrize(
    ("id", "property", "does"),
    [
        ("abs", "melting_point", False),
        ("peek", "melting_point", True),
        ("nbr", "nozzle_temperature", False),
        ("nbr", "crosslink_density", True),
        ("abs", "crosslink_density", False),
        ("aluminium", "glass_transition", False),
        ("aluminium", "density", True),
    ],
)
def test_what_applies(id: str, property: str, does: bool) -> None:
    assert applies(MATERIALS.get(id), property) is does


def test_ranges_in_words() -> None:
    glass = MATERIALS.value("abs", "glass_transition")
    assert glass is not None
    low, typical, high = (f"{k - 273.15:.4g}" for k in (glass.low, glass.typical, glass.high))
    assert shown_value("glass_transition", glass).range == f"{typical} ({low} to {high}) °C"
    abrasive = MATERIALS.value("abs", "abrasive")
    assert abrasive is not None
    assert shown_value("abrasive", abrasive).range == "no"


@pytest.mark.parametrize("property", ["density", "glass_transition", "diffusion_liquid"])
def test_the_scale_holds_every_material_of_its_kind(property: str) -> None:
    low, high = scale_of(MATERIALS, property, "printable")
    ends = []
    for id in MATERIALS.printable:
        value = MATERIALS.value(id, property)
        if value is not None:
            ends += shown_value(property, value).numbers
    assert (min(ends), max(ends)) == (low, high)


def test_csv_holds_every_value_and_no_formula() -> None:
    rows = list(csv.DictReader(io.StringIO(materials_csv())))
    assert len(rows) == len(MATERIALS.table)
    assert {row["unit"] for row in rows if row["property"] == "glass_transition"} == {"degC"}
    for row in rows:
        for name in ("name", "condition", "method", "note", "citation"):
            assert not row[name].startswith(("=", "+", "-", "@"))
        assert row["citation"]
        float(row["typical"])
