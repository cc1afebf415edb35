"""The parts a page is put together from; every text is escaped here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from html import escape

from screening.sentences import Text, worded

_JOINED = re.compile(r"(?<=\d) (?=(?:%|°C|°F|s|min|h|mm|bar|cc|mL|K)(?!\w))|(?<=[○◔◐◑◕●✕]) ")
_LONG_NAME = re.compile(r"(?<=poly)(?=[a-z]{6})")
_SHORT = 9
"""Up to so many letters a cell is kept on one line."""


def shown(text: Text) -> str:
    """Return text escaped, with no number parted from its unit, and no sign from its word, at the end of a line."""
    return escape(_JOINED.sub("\N{NO-BREAK SPACE}", worded(text)))


def shown_cell(text: str) -> str:
    """Return a table's cell escaped; a short one is kept on one line."""
    return shown(text.replace(" ", "\N{NO-BREAK SPACE}") if len(text) <= _SHORT else text)


def shown_name(text: str) -> str:
    """Return the cell that names a row, escaped; a narrow column parts a long name where a reader would."""
    return _LONG_NAME.sub("\N{SOFT HYPHEN}", shown_cell(text))


def listed(texts: Iterable[Text]) -> str:
    """Return texts as a list."""
    return f"<ul>{''.join(f'<li>{shown(text)}</li>' for text in texts)}</ul>"


def paragraph(text: Text, kind: str = "") -> str:
    """Return a paragraph."""
    return f"<p{_classed(kind)}>{shown(text)}</p>"


def section(id: str, title: str, *parts: str) -> str:
    """Return a section under its heading; the parts are HTML."""
    return f'<section aria-labelledby="{id}"><h2 id="{id}">{shown(title)}</h2>{"".join(parts)}</section>'


def folded(title: str, *parts: str, opened: bool = False) -> str:
    """Return parts that a reader opens; on paper they are open.

    The parts stand beside the fold, not in it, and the style sheet hides them on a screen alone: what is inside a closed
    fold, many browsers cannot be told to print.
    """
    fold = f"<details{' open' if opened else ''}><summary>{shown(title)}</summary></details>"
    return f'{fold}<div class="fold">{"".join(parts)}</div>'


def table(caption: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table that stacks its rows, named by their first cells, into labelled blocks on a narrow screen."""
    # the roles are said again because a browser forgets them where a style sheet stacks the cells
    heads = "".join(f'<th scope="col" role="columnheader">{escape(name)}</th>' for name in head)
    body = [
        f'<tr role="row">{"".join(_cell(text, head[j], j == 0) for j, text in enumerate(row))}</tr>' for row in rows
    ]
    return (
        f'<table class="stacked" role="table"><caption>{escape(caption)}</caption>'
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{"".join(body)}</tbody></table>'
    )


def row_table(caption: str, rows: Sequence[Mapping[str, str]]) -> str:
    """Return a table of rows by the heading of their columns; there is at least one row."""
    return table(caption, list(rows[0]), [list(row.values()) for row in rows])


def _cell(text: str, label: str, names_row: bool) -> str:
    if names_row:
        return f'<th scope="row" role="rowheader">{shown_name(text)}</th>'
    return f'<td role="cell" data-label="{escape(label)}">{shown_cell(text)}</td>'


def _classed(kind: str) -> str:
    return f' class="{kind}"' if kind else ""
