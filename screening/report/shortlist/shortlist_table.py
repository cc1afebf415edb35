"""The ranking as a real table, the same on the shared page and in the app.

A wide screen and paper show every column, a narrow screen the main ones; there the rest of a row unfolds.
"""

from __future__ import annotations

from functools import lru_cache

from markupsafe import Markup

from screening.judgement.choice.order import LACKS_VALUES, NOT_PRINTABLE, PRINTABLE, group_of
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.report.parts.colours import VERDICT_INKS
from screening.report.parts.table import Cell, Column, Group, Table
from screening.report.parts.templates import page_part, style_sheet
from screening.report.shortlist.shortlist_cells import SYMBOLS, shown_cells, verdict_of
from screening.sentences import TRADE, Units

_ALWAYS = ("rank", "material", "verdict", "if it holds, half gone by")
"""Columns that a narrow screen shows too."""
_TITLES = {
    PRINTABLE: "",
    NOT_PRINTABLE: "This printer cannot print these",
    LACKS_VALUES: "Too little is known of these",
}
_VERDICT = Markup('<span class="{}">{}\N{NO-BREAK SPACE}{}</span>{}')


@lru_cache(maxsize=1)
def shortlist_style() -> Markup:
    """Return the style sheet of the table."""
    inks = "\n".join(f".ranking {ink.style}" for ink in VERDICT_INKS.values())
    return style_sheet("shortlist/shortlist_table.css") + Markup(inks + "\n")


def shortlist_table(result: Screening, units: Units = TRADE) -> Markup:
    """Return the ranking as HTML in the units chosen, best first; all text of the case is escaped."""
    stories = list(result.stories.values())
    titles = list(shown_cells(stories[0], result.horizon)) if stories else []
    groups = [
        Group([_row(story, result.horizon, units) for story in stories if group_of(story) == group], title)
        for group, title in _TITLES.items()
    ]
    return Table(
        f"{len(stories)} materials, best first by what their lives are worth.",
        [Column(title, "" if title in _ALWAYS else "more", title == "material") for title in titles],
        [group for group in groups if group.rows],
        "ranking",
    ).html()


def _row(story: Story, horizon: float, units: Units) -> list[Cell]:
    cells = shown_cells(story, horizon, units)
    more = {title: cell for title, cell in cells.items() if title not in _ALWAYS}
    verdict = verdict_of(story)
    dressed = {
        "material": page_part("shortlist/material_cell.html", name=cells["material"], more=more),
        "verdict": _VERDICT.format(VERDICT_INKS[verdict].style_class, SYMBOLS[verdict], verdict, _line(story)),
    }
    return list((cells | dressed).values())


def _line(story: Story) -> str:
    """Return what stands behind a verdict that so few draws leave open."""
    return ", on the line" if story.standing is not None and story.standing.on_the_line else ""
