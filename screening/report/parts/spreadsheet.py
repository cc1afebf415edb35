"""What a spreadsheet would run as a formula is kept from it."""

from __future__ import annotations

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def neutralised(cell: object) -> object:
    """Return text that no spreadsheet runs as a formula; other values as they are."""
    return "'" + cell if isinstance(cell, str) and cell.startswith(_FORMULA_STARTS) else cell
