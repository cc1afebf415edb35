"""The parts a page is put together from; every text is escaped here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from html import escape

_UNITS = re.compile(r"(?<=\d) (?=(?:%|°C|°F|s|min|h|mm|bar|cc|mL|K)(?!\w))")
_LONG_NAME = re.compile(r"(?<=poly)(?=[a-z]{6})")
_SHORT = 9
"""Up to so many letters a cell is kept on one line."""


def shown(text: str) -> str:
    """Return text escaped, with no number parted from its unit at the end of a line."""
    return escape(_UNITS.sub("\N{NO-BREAK SPACE}", text))


def listed(texts: Iterable[str]) -> str:
    """Return texts as a list."""
    return f"<ul>{''.join(f'<li>{shown(text)}</li>' for text in texts)}</ul>"


def paragraph(text: str, kind: str = "") -> str:
    """Return a paragraph."""
    return f"<p{_classed(kind)}>{shown(text)}</p>"


def section(id: str, title: str, *parts: str) -> str:
    """Return a section under its heading; the parts are HTML."""
    return f'<section aria-labelledby="{id}"><h2 id="{id}">{shown(title)}</h2>{"".join(parts)}</section>'


def folded(title: str, *parts: str, opened: bool = False) -> str:
    """Return parts that a reader opens; on paper they are open."""
    return f"<details{' open' if opened else ''}><summary>{shown(title)}</summary>{''.join(parts)}</details>"


def table(
    caption: str, head: Sequence[str], rows: Iterable[Sequence[str]], named_by: int = 0, kinds: Sequence[str] = ()
) -> str:
    """Return a table that stacks its rows into labelled blocks on a narrow screen.

    Parameters
    ----------
    named_by : int
        Column whose cell names the row.
    kinds : sequence of str
        A class for each row, if any.
    """
    # the roles are said again because a browser forgets them where a style sheet stacks the cells
    heads = "".join(f'<th scope="col" role="columnheader">{escape(name)}</th>' for name in head)
    body = [
        f'<tr role="row"{_classed(kinds[i] if kinds else "")}>'
        + "".join(_cell(text, head[j], j == named_by) for j, text in enumerate(row))
        + "</tr>"
        for i, row in enumerate(rows)
    ]
    return (
        f'<table role="table"><caption>{escape(caption)}</caption>'
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{"".join(body)}</tbody></table>'
    )


def _cell(text: str, label: str, names_row: bool) -> str:
    told = shown(text.replace(" ", "\N{NO-BREAK SPACE}") if len(text) <= _SHORT else text)
    if names_row:
        told = _LONG_NAME.sub("\N{SOFT HYPHEN}", told)  # so that a narrow column parts it where a reader would
        return f'<th scope="row" role="rowheader">{told}</th>'
    return f'<td role="cell" data-label="{escape(label)}">{told}</td>'


def _classed(kind: str) -> str:
    return f' class="{kind}"' if kind else ""
