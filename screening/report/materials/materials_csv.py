"""The whole table of materials as CSV in the units of the trade, that a spreadsheet can open without harm."""

from __future__ import annotations

from screening.records.materials.materials import load_materials
from screening.records.tables.package import read_table
from screening.records.tables.sources import load_sources
from screening.report.parts.spreadsheet import neutralised


def materials_csv() -> str:
    """Return every value with its material's name, its unit and its source in full; text that a spreadsheet would take
    for a formula is quoted with an apostrophe."""
    materials, sources = load_materials(), load_sources()
    table = read_table("properties").copy()
    table.insert(1, "name", [materials.get(id).name for id in table["material"]])
    table.insert(len(table.columns), "citation", [sources[id].citation for id in table["source"]])
    for column in table.select_dtypes(exclude="number"):
        table[column] = table[column].map(neutralised)
    text: str = table.to_csv(index=False, lineterminator="\n")
    return text
