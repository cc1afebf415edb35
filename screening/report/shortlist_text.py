"""The shortlist as text for a terminal and as CSV that a spreadsheet can open without harm."""

from __future__ import annotations

import io

import pandas as pd

from screening.judgement.screening import Screening
from screening.judgement.wording import duration, percent, text_table

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def shortlist_text(result: Screening) -> str:
    """Return headline, table, reasons of the first three materials, and cautions."""
    table = result.shortlist
    rows = [
        [
            str(row.rank),
            row.material,
            row.verdict,
            percent(row.chance_of_lasting),
            duration(row.plan_for_s),
            duration(row.median_s),
            f"{row.ends_by} ({percent(row.ends_by_share)})" if row.ends_by else "unknown",
            row.contact_soak,
            row.printable,
            "unknown" if pd.isna(row.print_diameter_mm) else f"{row.print_diameter_mm:.2f}",
        ]
        for row in table.itertuples()
    ]
    header = [
        "rank",
        "material",
        "verdict",
        "lasts?",
        "plan for",
        "median",
        "ends by",
        "in the tank",
        "printable",
        "print mm",
    ]
    parts = [result.case.title or "Untitled case", result.headline, result.stop_rule, "", text_table(header, rows), ""]
    for row in table.head(3).itertuples():
        parts += [f"{row.name}:", *(f"  {reason}" for reason in row.reasons), ""]
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
