"""The ranking as a real table, the same on the shared page and in the app.

A wide screen and paper show every column, a narrow screen the main ones; there the rest of a row unfolds.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from screening.judgement.choice.order import LACKS_VALUES, NOT_PRINTABLE, PRINTABLE, group_of
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import FAILS, LASTS, SHORT, UNKNOWN
from screening.report.parts.html import shown, shown_cell, shown_name
from screening.report.shortlist.shortlist_cells import shown_cells, verdict_of

INKS = {
    LASTS: ("lasts", "#0b6e4f", "#5fd3a6"),
    SHORT: ("short", "#7a5200", "#f0c060"),
    FAILS: ("fails", "#a3231f", "#ff9a92"),
    UNKNOWN: ("unknown", "#56606c", "#a5afbb"),
}
"""Of each verdict its class and the colours of its word on a light and on a dark ground; sign and word say the same."""
_ALWAYS = ("rank", "material", "verdict", "plan for")
"""Columns that a narrow screen shows too."""
_TITLES = {
    PRINTABLE: "",
    NOT_PRINTABLE: "This printer cannot print these",
    LACKS_VALUES: "Too little is known of these",
}


@lru_cache(maxsize=1)
def shortlist_style() -> str:
    """Return the style sheet of the table."""
    inks = (
        f".ranking .{name}{{color:{light};color:light-dark({light},{dark})}}" for name, light, dark in INKS.values()
    )
    return (Path(__file__).parent / "shortlist_table.css").read_text("utf-8") + "\n".join(inks) + "\n"


def shortlist_table(result: Screening) -> str:
    """Return the ranking as HTML, best first; all text of the case is escaped."""
    stories = list(result.stories.values())
    columns = list(shown_cells(stories[0], result.horizon)) if stories else []
    heads = "".join(f'<th scope="col"{_kind(name)}>{shown(name)}</th>' for name in columns)
    groups = []
    for group, title in _TITLES.items():
        rows = [_row(story, shown_cells(story, result.horizon)) for story in stories if group_of(story) == group]
        head = f'<tr class="group"><th scope="rowgroup" colspan="{len(columns)}">{title}</th></tr>' if title else ""
        groups += [f"<tbody>{head}{''.join(rows)}</tbody>"] if rows else []
    return (
        f'<table class="ranking"><caption>{len(stories)} materials, best first: by verdict, then by the time to plan for.'
        f"</caption><thead><tr>{heads}</tr></thead>{''.join(groups)}</table>"
    )


def _row(story: Story, cells: Mapping[str, str]) -> str:
    more = "".join(f"<dt>{shown(name)}</dt><dd>{shown(cell)}</dd>" for name, cell in cells.items() if _kind(name))
    told = {name: f"<td{_kind(name)}>{shown_cell(cell)}</td>" for name, cell in cells.items()} | {
        "material": f'<th scope="row">{shown_name(cells["material"])}<details><summary>more</summary><dl>{more}</dl></details></th>',
        "verdict": f'<td><span class="{INKS[verdict_of(story)][0]}">{shown(cells["verdict"])}</span></td>',
    }
    return f"<tr>{''.join(told.values())}</tr>"


def _kind(column: str) -> str:
    return "" if column in _ALWAYS else ' class="more"'
