"""A table of fixed-width columns, as a terminal shows it."""

from __future__ import annotations


def text_table(header: list[str], rows: list[list[str]]) -> str:
    """Return a table with a line beneath its header, each column as wide as its widest cell.

    >>> print(text_table(["id", "fate"], [["pc", "fails"], ["peek", "lasts"]]))
    id    fate
    ----  -----
    pc    fails
    peek  lasts
    """
    widths = [max(len(row[i]) for row in [header, *rows]) for i in range(len(header))]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in [header, *rows]
    ]
    return "\n".join([lines[0], "  ".join("-" * width for width in widths), *lines[1:]])
