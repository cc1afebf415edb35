"""What would have to change for a material to last: one thing at a time, computed when it is asked for."""

from __future__ import annotations

import streamlit as st

from app.session import compute
from app.shown import prose, story_tables, tables
from screening.judgement.case.case import Case
from screening.judgement.choice.story import Story


def ask(case: Case, story: Story) -> None:
    """Draw the button and, once it was pressed for this case and material, what each change brings."""
    id, name = story.material.id, prose.plain(story.material.name)
    st.markdown(
        f"{name[:1].upper()}{name[1:]} with one thing changed at a time: the start, fuel, load, crown thickness, a metal cap."
    )
    asked = (case.digest, id)
    st.button("Compute each change", on_click=lambda: st.session_state.update(changes_asked=asked))
    if st.session_state.get("changes_asked") == asked:  # outlives the refinement's rerun
        tables.show(story_tables.change_rows(compute.changes_of(case, id)))
