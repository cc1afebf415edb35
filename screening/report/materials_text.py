"""The materials as plain text for a terminal: an overview, and one sheet a material with every value's source."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from screening.quantities import from_si
from screening.records.cautions import material_cautions
from screening.records.materials import Material, Materials, Value, known_properties
from screening.records.package import read_table
from screening.records.sources import load_sources

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


def materials_overview(materials: Materials) -> str:
    """Return a table with a row a material and its main values; what is not known is shown as unknown."""
    units = _units()
    head = ["id", "name", "roles", *(f"{title} [{_shown_unit(units[name])}]" for name, title in _OVERVIEW)]
    rows = []
    for id in materials.ids:
        material = materials.get(id)
        values = (_typical(material, name, units[name]) for name, _ in _OVERVIEW)
        rows.append([id, material.name, ", ".join(material.roles), *values])
    return _columns(head, rows) + f"\n\n{len(rows)} materials. Tm of an amorphous polymer is shown as -: it has none."


def material_sheet(materials: Materials, id: str) -> str:
    """Return everything known of one material: range, condition, source and how each value was read; and the gaps.

    Raises UnknownName for an id that the table does not have.
    """
    material = materials.get(id)
    units, sources = _units(), load_sources()
    head = ["property", "low", "typical", "high", "unit", "at", "use", "condition", "how", "source"]
    rows: list[list[str]] = []
    gaps: list[str] = []
    cited: list[str] = []
    for name in known_properties():
        if name in material.values:
            for value in material.values[name]:
                rows.append([_plain(name), *_cells(value, units[name])])
                cited.append(value.source)
        elif not (name in ("melting_point", "crystallinity", "heat_of_fusion") and material.morphology == "amorphous"):
            gaps.append(_plain(name))
    parts = [_title(material), _columns(head, rows)]
    if gaps:
        parts.append(f"{UNKNOWN}: " + ", ".join(gaps))
    notes = [f"- {_plain(n)}: {v.note}" for n, values in material.values.items() for v in values if v.note]
    if notes:
        parts.append("Notes\n" + "\n".join(notes))
    hazards = [f"- {c.hazard}{_onset(c.onset)}: {c.condition}. {c.first_advice}." for c in material_cautions(id)]
    if hazards:
        parts.append("Cautions\n" + "\n".join(hazards))
    parts.append("Sources\n" + "\n".join(f"- {key}: {sources[key].citation}" for key in sorted(set(cited))))
    return "\n\n".join(parts)


def _title(material: Material) -> str:
    filler = f", {material.filler_mass_fraction:.0%} {material.filler} by mass" if material.filler else ""
    line = f"{material.id}: {material.name} ({material.symbol}), {material.morphology}{filler}, {material.form}"
    return line + (f"\n{material.note}" if material.note else "")


def _units() -> dict[str, str]:
    raw = read_table("properties").drop_duplicates("property")
    return dict(zip(raw["property"], raw["unit"], strict=True))


def _typical(material: Material, name: str, unit: str) -> str:
    value = material.value(name)
    if value is None:
        return "-" if name == "melting_point" and material.morphology == "amorphous" else UNKNOWN
    return _number(from_si(value.typical, unit))


def _cells(value: Value, unit: str) -> list[str]:
    shown = [_number(from_si(number, unit)) for number in (value.low, value.typical, value.high)]
    at = "" if math.isnan(value.temperature) else f"{from_si(value.temperature, 'degC'):.0f} °C"
    return [*shown, _shown_unit(unit), at, value.use, value.condition, value.how, value.source]


def _onset(kelvin: float) -> str:
    return "" if math.isnan(kelvin) else f" from about {from_si(kelvin, 'degC'):.0f} °C"


def _number(value: float) -> str:
    return f"{value:.4g}"


def _shown_unit(unit: str) -> str:
    return "°C" if unit == "degC" else unit


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _columns(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    widths = [max(len(row[i]) for row in [head, *rows]) for i in range(len(head))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in [head, *rows]]
    lines.insert(1, "  ".join("-" * width for width in widths))
    return "\n".join(line.rstrip() for line in lines)


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
        "gaps": [name for name in known_properties() if material.value(name) is None],
    }
