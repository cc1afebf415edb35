"""Tables that several pages show."""

from __future__ import annotations

import math

import pandas as pd
import streamlit as st

from app.wording import VERDICT_COLOURS
from screening.judgement.screening import Screening
from screening.report.measure_next import measure_rows
from screening.report.shortlist_cells import SYMBOLS, shown_cells, verdict_of


def shortlist(result: Screening) -> None:
    """Draw the ranking as a table whose first columns say the verdict in symbol, word and colour."""
    rows = []
    for story in result.stories.values():
        verdict = verdict_of(story)
        rows.append(
            {"rank": story.rank, "material": story.material.name, "verdict": f"{SYMBOLS[verdict]} {verdict}"}
            | shown_cells(story, result.horizon)
            | {"id": story.material.id}
        )
    frame = pd.DataFrame(rows)
    styled = frame.style.map(lambda cell: f"color: {VERDICT_COLOURS[cell.split(' ', 1)[1]]}", subset=["verdict"])
    st.dataframe(styled, hide_index=True, height=min(38 * (len(frame) + 1), 620))


def draws_note(draws: int) -> None:
    """Say on how many draws the answer rests."""
    if draws < 1000:
        st.info(f"First answer from {draws} draws; it is refined with 1,000 below.")
    else:
        st.caption(f"From {draws:,} draws; chances are good to about {50 / math.sqrt(draws):.1f} points.")


def measure_next(result: Screening) -> None:
    """Draw what would narrow the leading material's range, and with which tool."""
    story = next(iter(result.stories.values()))
    rows = measure_rows(story)
    if not rows:
        st.markdown("No single input stands out from chance; more draws tell more.")
        return
    st.markdown(f"For {story.material.name}: what is not known and moves its time most.")
    st.dataframe(pd.DataFrame(rows), hide_index=True)
