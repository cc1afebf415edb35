"""A cold proof before running, and the book of one's own runs: what to expect, how to try it, and what the results moved."""

from __future__ import annotations

import streamlit as st

from app.inputs import proofs_and_runs, widgets
from app.session import case_state, compute
from app.shown import prose, tables
from screening.report.shortlist.cold_proof_rows import NOT_TOLD, burst_rows, how_to_try, moved_rows

st.title("Proof and result book")
st.caption(
    "Pressed slowly and cold, a spare print tells what no data sheet does: how strong your prints are and how firmly their edge "
    "is held. What you enter here is weighed in the ranking."
)
case = case_state.case_or_stop()
result = compute.result_or_stop(case)
stories = [story for story in result.stories.values() if story.standing is not None]
names = {story.material.id: story.material.name for story in stories}
ids = list(names)

if result.own_evidence is not None:
    st.subheader("What your proofs and runs moved")
    st.markdown(prose.told(result.own_evidence.told))
    tables.show(moved_rows(result.own_evidence))

st.subheader("A cold proof before running")
steps = how_to_try(result)
if steps:
    st.warning("Oil, never gas. A closed shield, nobody in line, hands off under pressure. Local rules first.")
    st.markdown("**How to try it without harm**")
    prose.listed(steps)
    st.markdown("**What it does not tell**")
    prose.listed(NOT_TOLD)
    with st.expander("What each print should burst at, best first"):
        tables.show(burst_rows(result, stories))
else:
    st.markdown("In this build the ring sits in metal: there is no bare crown to press.")
st.markdown("**Enter a result**")
if ids:
    proofs_and_runs.proof_entry(ids, names)

st.subheader("The result book")
st.markdown(
    "After a run of this case: how long it lasted from the first firing, and what ended it. A change of engine, fuel or "
    "throttle is another case with a book of its own."
)
if ids:
    proofs_and_runs.run_entry(ids, names)
compute.refinement(case, result)
widgets.page_end()
