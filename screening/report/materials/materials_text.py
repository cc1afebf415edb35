"""The materials as plain text for a terminal: an overview, and one sheet a material with every value's source."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from screening.judgement.draws.polymer import property_units
from screening.records.hazards.cautions import material_cautions
from screening.records.materials.materials import Material, Materials
from screening.records.tables.sources import load_sources
from screening.report.materials.material_rows import (
    applies,
    gaps,
    plain_property,
    shown_value,
    shown_values,
)
from screening.report.parts.figures import unit_sign
from screening.report.parts.terminal import text_table
from screening.sentences import TRADE, Temperature, Units

UNKNOWN = "unknown"
_OVERVIEW = (
    ("density", "density"),
    ("glass_transition", "Tg"),
    ("melting_point", "Tm"),
    ("deflection_temperature_180", "HDT 1.80"),
    ("thermal_conductivity", "conductivity"),
    ("tensile_strength", "strength"),
    ("nozzle_temperature", "nozzle"),
)


def materials_overview(materials: Materials, units: Units = TRADE) -> str:
    """Return a table with a row a material and its main values; a gap of the table is said to be unknown."""
    head = ["id", "name", "roles", *_overview_titles(units)]
    rows = []
    for id in materials.ids:
        material = materials.get(id)
        values = (_typical(material, name, units) for name, _ in _OVERVIEW)
        rows.append([id, material.name, ", ".join(material.roles), *values])
    return (
        text_table(head, rows)
        + f"\n\n{len(rows)} materials. A - stands for what such a material has not: an amorphous polymer has no Tm."
    )


def material_sheet(materials: Materials, id: str, units: Units = TRADE) -> str:
    """Return everything that the tables have of one material: range, condition, source and how each value was read; and the gaps.

    Raises UnknownName for an id that the table does not have.
    """
    material = materials.get(id)
    sources = load_sources()
    head = ["property", "low", "typical", "high", "unit", "at", "use", "condition", "how", "source"]
    values = shown_values(material, units)
    rows = [
        [plain_property(v.name), *v.written, v.unit, v.at, v.row.use, v.row.condition, v.row.how, v.row.source]
        for v in values
    ]
    parts = [_title(material), text_table(head, rows)]
    if gaps(material):
        parts.append(f"{UNKNOWN}: " + ", ".join(map(plain_property, gaps(material))))
    notes = [f"- {plain_property(v.name)}: {v.row.note}" for v in values if v.row.note]
    if notes:
        parts.append("Notes\n" + "\n".join(notes))
    hazards = [f"- {c.hazard}{_onset(c.onset, units)}: {c.condition}. {c.first_advice}." for c in material_cautions(id)]
    if hazards:
        parts.append("Cautions\n" + "\n".join(hazards))
    parts.append(
        "Sources\n" + "\n".join(f"- {key}: {sources[key].citation}" for key in sorted({v.row.source for v in values}))
    )
    return "\n\n".join(parts)


def _overview_titles(units: Units) -> list[str]:
    return [f"{title} [{unit_sign(property_units()[name], units)}]" for name, title in _OVERVIEW]


def _title(material: Material) -> str:
    filler = f", {material.filler_mass_fraction:.0%} {material.filler} by mass" if material.filler else ""
    line = f"{material.id}: {material.name} ({material.symbol}), {material.morphology}{filler}, {material.form}"
    return line + (f"\n{material.note}" if material.note else "")


def _typical(material: Material, name: str, units: Units) -> str:
    value = material.value(name)
    if value is None:
        return UNKNOWN if applies(material, name) else "-"
    return shown_value(name, value, units).written[1]


def _onset(kelvin: float, units: Units) -> str:
    return "" if math.isnan(kelvin) else f" from about {Temperature(kelvin).worded(units)}"


def material_document(materials: Materials, id: str) -> dict[str, Any]:
    """Return one material with all its rows, in SI, ready for JSON; properties without a value are listed as gaps."""
    material = materials.get(id)
    return {
        "id": material.id,
        "name": material.name,
        "symbol": material.symbol,
        "family": material.family,
        "morphology": material.morphology,
        "roles": list(material.roles),
        "filler": material.filler,
        "filler_mass_fraction": material.filler_mass_fraction,
        "form": material.form,
        "values": [
            {"property": name} | {key: None if value != value else value for key, value in asdict(row).items()}
            for name, rows in material.values.items()
            for row in rows
        ],
        "gaps": list(gaps(material)),
    }
