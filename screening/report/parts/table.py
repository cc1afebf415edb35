"""The one table of HTML: rows under columns, the first of which names the row unless another is said to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from screening.report.parts.templates import page_part
from screening.sentences import TRADE, Quantity, Text, Units

Cell = Text | Quantity
"""Text is escaped, `Markup` stands as it is, a quantity is worded."""


@dataclass(frozen=True)
class Column:
    """A column: its title, its style class, and whether its cells name their rows."""

    title: str
    kind: str = ""
    names_row: bool = False


@dataclass(frozen=True)
class Group:
    """Rows under a heading, or under none."""

    rows: Sequence[Sequence[Cell]]
    title: str = ""


@dataclass(frozen=True)
class Table:
    """A table; its `kind` is the style class: one that is `stacked` turns its rows into labelled blocks on a narrow screen."""

    caption: str
    columns: Sequence[Column]
    groups: Sequence[Group]
    kind: str = "stacked"

    def html(self, units: Units = TRADE) -> Markup:
        """Return the table as HTML, its sentences worded in `units`.

        >>> table("Times", ("material", "lasts"), [("<abs>", "3 s")]).html().count("&lt;abs&gt;")
        1
        """
        return page_part("parts/table.html", units, table=self)


def table(caption: str, titles: Sequence[str], rows: Iterable[Sequence[Cell]], kind: str = "stacked") -> Table:
    """Return a table of one group of rows, each named by its first cell."""
    columns = [Column(title, names_row=place == 0) for place, title in enumerate(titles)]
    return Table(caption, columns, [Group(list(rows))], kind)


def row_table(caption: str, rows: Sequence[Mapping[str, Cell]], kind: str = "stacked") -> Table:
    """Return a table of rows by the title of their columns; without rows it has no columns either."""
    titles = list(rows[0]) if rows else []
    return table(caption, titles, [list(row.values()) for row in rows], kind)
