"""The parts a page is put together from; every text is escaped here."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from html import escape

from screening.report.parts.table import row_table as tabled
from screening.sentences import Text, worded

_JOINED = re.compile(r"(?<=\d) (?=(?:%|°C|°F|s|min|h|mm|bar|cc|mL|K)(?!\w))|(?<=[○◔◐◑◕●✕]) ")


def shown(text: Text) -> str:
    """Return text escaped, with no number parted from its unit, and no sign from its word, at the end of a line."""
    return escape(_JOINED.sub("\N{NO-BREAK SPACE}", worded(text)))


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


def row_table(caption: str, rows: Sequence[Mapping[str, str]]) -> str:
    """Return a table of rows by the heading of their columns."""
    return tabled(caption, rows).html()


def _classed(kind: str) -> str:
    return f' class="{kind}"' if kind else ""
