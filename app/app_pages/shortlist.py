"""The shortlist: three inputs to start with, the honest answer, the ranking, and what to measure next."""

from __future__ import annotations

import streamlit as st

from app import case_state, compute, inputs, share, tables, widgets
from screening.judgement.wording import duration
from screening.report.charts import lasting_chart

st.title("Can a printed piston run?")
st.caption(
    "Give engine size, fuel and the head's temperature; each further input narrows the ranges. "
    "It opens on an invented demo case: no such engine exists."
)
inputs.quick_start()
inputs.further()

case = case_state.case_or_stop()
result = compute.result_or_stop(case)

st.header("The answer", divider="gray")
st.markdown(f"**{result.headline}**")
st.markdown(result.stop_rule)
for warning in result.warnings:
    st.warning(warning.message)
tables.draws_note(result.draws)

st.subheader("Shortlist")
tables.shortlist(result)
st.caption(
    "Verdict: lasts ● from a 95 % chance of lasting the wanted run; short run only ◐ from 10 s to plan for; fails ○. "
    "These limits are the project's own choice. Equal ranks cannot be told apart. The soak never sorts: a piston does "
    "not sit in the tank."
)
with st.expander("The metal piston, for comparison", expanded=True):
    for reason in result.baseline.reasons:
        st.markdown(f"- {reason}")

st.subheader("How long each lasts")
st.markdown(
    f"Each bar runs from the time to plan for to the time one draw in twenty outlasts; the tick is the median. The dashed "
    f"line is the wanted {duration(case.operation.target_run)}. The same numbers stand in the table above."
)
st.altair_chart(
    lasting_chart(list(result.stories.values()), case.operation.target_run, result.horizon), width="stretch"
)

st.subheader("Why, for the first three")
for story in list(result.stories.values())[:3]:
    with st.expander(f"{story.rank}. {story.material.name}", expanded=story.rank == 1):
        st.markdown("\n".join(f"- {reason}" for reason in story.reasons))

st.subheader("What to measure next")
tables.measure_next(result)

st.subheader("Cautions")
st.markdown("\n".join(f"- {caution}" for caution in result.cautions))

st.subheader("Share it")
share.downloads(case, result)
if result.draws < compute.FULL_DRAWS:
    bar = st.progress(0.0, text="Refining with 1,000 draws; you may go on meanwhile")
    compute.ranked(
        case, compute.FULL_DRAWS, tell=lambda part, text: bar.progress(min(part, 1.0), text=f"Refining: {text}")
    )
    st.rerun()
widgets.page_end()
