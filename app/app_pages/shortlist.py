"""The shortlist: three inputs to start with, the honest answer, the ranking, and what to measure next."""

from __future__ import annotations

import streamlit as st

from app.inputs import case_inputs as inputs, widgets
from app.session import case_state, compute
from app.shown import change_view, drawing, prose, share, tables
from screening.judgement.choice.order import leading
from screening.report.shortlist.cold_proof_rows import moved_rows
from screening.report.shortlist.shortlist_cells import legend
from screening.report.shortlist.time_bars import SHORTEST, time_bars_svg, time_rows
from screening.sentences import joined
from screening.words import duration

st.title("Can a printed piston run?")
st.caption(
    "Give engine size, fuel and the head's temperature; the answer follows. What you leave open is drawn from a stated "
    "range. It opens on an invented demo case: no such engine exists."
)
inputs.quick_start()
notice = st.container()
slots = inputs.further()

case = case_state.case_or_stop(notice.error)
result = compute.result_or_stop(case)
stories = list(result.stories.values())
best_first = leading(result.stories)
inputs.tell_narrowing(slots, best_first[0] if best_first else None)

st.header("The answer", divider="gray")
st.markdown(f"**{prose.told(result.headline)}**")
if best_first:
    why = prose.told(joined(best_first[0].reasons[1:3]))  # what ends it, and how hot it is then
    st.markdown(f"**Why {prose.plain(best_first[0].material.name)} stands where it does.** {why}")
st.markdown(prose.told(result.stop_rule))
for warning in result.warnings:
    st.warning(prose.told(warning.message))
tables.draws_note(result.draws, compute.FULL_DRAWS)
if result.own_evidence is not None and result.own_evidence.applied:
    with st.expander("What your own proofs and runs moved"):
        st.markdown(prose.told(result.own_evidence.told))
        tables.show(moved_rows(result.own_evidence))
compute.refinement(case, result)

st.subheader("Shortlist")
tables.shortlist(result)
st.caption(legend(result))
with st.expander("The metal piston, for comparison", expanded=True):
    prose.listed(result.baseline.reasons)

st.subheader("How long each lasts")
st.markdown(
    f"Each bar runs from the time to plan for to the time one draw in twenty outlasts; the mark is the median. The dashed "
    f"line is the wanted {duration(case.operation.target_run)}. What fails sooner than {SHORTEST:g} s is drawn at {SHORTEST:g} s."
)
drawing.show(time_bars_svg(stories, case.operation.target_run, result.horizon))
with st.expander("The bars as numbers"):
    tables.show(time_rows(stories, result.horizon))

st.subheader("Why, for the best three that can be printed")
for place, story in enumerate(best_first[:3]):
    with st.expander(f"{story.rank}. {prose.plain(story.material.name)}", expanded=place == 0):
        prose.listed(story.reasons)
if not best_first:
    st.markdown("No material of the table can be printed on this printer.")

st.subheader("What would have to change")
if best_first:
    change_view.ask(case, best_first[0])

st.subheader("What to measure next")
tables.measure_next(best_first[0] if best_first else None, ", the best that can be printed")

st.subheader("Cautions")
prose.listed(caution[:1].upper() + caution[1:] for caution in result.cautions)

st.subheader("Share it")
share.downloads(case, result)
widgets.page_end()
