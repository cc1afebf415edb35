"""The shortlist as text for a terminal and as CSV that a spreadsheet can open without harm."""

from __future__ import annotations

import io

from screening.judgement.screening import Screening
from screening.judgement.wording import text_table
from screening.report.shortlist_cells import shown_cells, verdict_of

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def shortlist_text(result: Screening) -> str:
    """Return headline, table, reasons of the first three materials, and cautions."""
    stories = list(result.stories.values())
    shown = [shown_cells(story, result.horizon) for story in stories]
    columns = ("chance", "plan for", "median", "ends by", "fuel: soak", "printable", "print at")
    rows = [
        [str(story.rank), story.material.id, verdict_of(story), *(cells[name] for name in columns)]
        for story, cells in zip(stories, shown, strict=True)
    ]
    header = ["rank", "material", "verdict", *columns]
    parts = [result.case.title or "Untitled case", result.headline, result.stop_rule, "", text_table(header, rows), ""]
    for story in stories[:3]:
        parts += [f"{story.material.name}:", *(f"  {reason}" for reason in story.reasons), ""]
    parts += ["Cautions:", *(f"  {caution}" for caution in result.cautions)]
    return "\n".join(parts)


def shortlist_csv(result: Screening) -> str:
    """Return the shortlist as CSV; text that a spreadsheet would take for a formula is quoted with an apostrophe."""
    table = result.shortlist.copy()
    table["reasons"] = table["reasons"].map(" ".join)
    for column in table.select_dtypes(exclude="number"):
        table[column] = table[column].map(neutralised)
    buffer = io.StringIO()
    table.to_csv(buffer, index=False, lineterminator="\n")
    return buffer.getvalue()


def neutralised(cell: object) -> object:
    """Return text that no spreadsheet runs as a formula; other values as they are."""
    return "'" + cell if isinstance(cell, str) and cell.startswith(_FORMULA_STARTS) else cell
