"""Tables that several pages show."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import streamlit as st

from app.shown import prose, shown_units
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.report.parts.table import row_table
from screening.report.shortlist.measure_next import EXPLAINED, measure_rows
from screening.report.shortlist.shortlist_table import shortlist_style, shortlist_table
from screening.sentences import Quantity, Text, worded

_STYLE = """<style>
.rows{width:100%;border-collapse:collapse;font-size:.9rem;line-height:1.35}
.rows th,.rows td{padding:.4rem .5rem;text-align:left;vertical-align:top;border:0;
border-bottom:1px solid color-mix(in srgb,currentColor 22%,transparent)}
.rows thead th{border-bottom:2px solid color-mix(in srgb,currentColor 45%,transparent)}
.rows tbody th{font-weight:600}
@media(max-width:640px){.rows thead{position:absolute;clip-path:inset(50%)}.rows tr,.rows th,.rows td{display:block;
border:0;padding:.1rem 0}.rows tr{border-bottom:1px solid color-mix(in srgb,currentColor 22%,transparent);padding:.45rem 0}
.rows td::before{content:attr(data-label) ": ";opacity:.8}}
</style>"""


def rows_html(rows: Sequence[Mapping[str, Text | Quantity]]) -> str:
    """Return rows as a table with the first column as each row's heading; on a narrow screen each row is a small card."""
    if not rows:
        return ""
    units = shown_units.units()
    cells = [{title: prose.words(worded(cell, units)) for title, cell in row.items()} for row in rows]
    return f"{_STYLE}{row_table('', cells, 'rows').html()}"


def show(rows: Sequence[Mapping[str, Text | Quantity]]) -> None:
    """Draw rows as a table."""
    if rows:
        st.html(rows_html(rows))


def shortlist(result: Screening) -> None:
    """Draw the ranking."""
    st.html(f"<style>{shortlist_style()}</style>{shortlist_table(result)}")


def draws_note(draws: int, full: int) -> None:
    """Say on how many draws the answer rests."""
    error = 50 / math.sqrt(draws)
    if draws < full:
        st.info(
            f"A first answer from {draws:,} draws, good to about {error:.0f} points of chance; {full:,} are on their way."
        )
    else:
        st.caption(f"From {draws:,} draws; chances are good to about {error:.1f} points.")


def measure_next(story: Story | None, which: str = "") -> None:
    """Draw what would narrow a material's range, and with which tool; `which` says why this material."""
    rows = measure_rows(story) if story else []
    if not rows or story is None:
        st.markdown("No single input stands out from chance; more draws tell more.")
        return
    st.markdown(f"For {prose.plain(story.material.name)}{which}: what is not known and moves its answer most.")
    show(rows)
    st.caption(EXPLAINED)
