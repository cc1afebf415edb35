"""The whole story of one material."""

from __future__ import annotations

import streamlit as st

from app.inputs import widgets
from app.session import case_state, compute
from app.shown import change_view, drawing, prose, shown_units, story_tables, tables
from screening.records.hazards.cautions import material_cautions
from screening.report.contact.contact_rows import EXPOSURE_NAMES
from screening.report.shortlist.crown_drawings import depth_svg, pressure_svg, warm_up_svg
from screening.report.shortlist.heat_rows import MOMENTS, heat_rows
from screening.report.shortlist.shortlist_cells import verdict_cell, verdict_of

st.title("One material")
case = case_state.case_or_stop()
result = compute.result_or_stop(case)
id = story_tables.chosen_material(result)
story = result.material(id)
st.subheader(f"{verdict_cell(verdict_of(story))}, rank {story.rank} of {len(result.stories)}")
prose.listed(story.reasons)
tables.draws_note(result.draws, compute.FULL_DRAWS)
compute.refinement(case, result)

history = story.history
if history is not None and story.standing is not None:
    units, melts = shown_units.units(), story.material.morphology == "semicrystalline"
    st.subheader("How the crown warms")
    st.markdown(
        f"Gas-side face and underside against time, with the range of 18 in 20 draws; the grey band is where it "
        f"{'melts' if melts else 'softens'}. A line ends where half of the draws have burned through."
    )
    drawing.show(warm_up_svg(story, units))
    st.markdown(
        "Median temperature against depth at several moments; the grey band is where the material "
        f"{'melts' if melts else 'softens'}. A line that starts deeper down shows how far the face has burned back."
    )
    drawing.show(depth_svg(story, units))
    st.markdown(
        "Cylinder pressure that the crown can carry, the curve with the range of 18 in 20 draws, against what it must carry, "
        "the level band: where the curve falls into it, the crown collapses."
    )
    drawing.show(pressure_svg(story))
    tables.show(heat_rows(history, MOMENTS))
    st.caption(
        "Medians, with the range of 18 in 20 draws; 'gone' is where half of the draws have burned through or the part is used up."
    )
    st.subheader("What would end the run, and when")
    tables.show(story_tables.mechanism_rows(story, result.horizon))
    st.subheader("What would have to change")
    change_view.ask(case, story)
    st.subheader("What to measure next")
    tables.measure_next(story)

st.subheader("What the fuel does to it")
for exposure, contact in story.contacts.items():
    with st.expander(
        f"{EXPOSURE_NAMES[exposure]}: {contact.outcome} ({contact.evidence}, confidence {contact.confidence})"
    ):
        prose.listed(contact.reasons)
st.subheader(f"Printing: {story.printability.outcome}")
prose.listed(story.printability.reasons)
if story.fit is not None:
    st.subheader("Making it fit")
    prose.listed(story.fit.sentences)
st.subheader("Cautions")
known = story.material.base if story.material.base else id
prose.listed(
    (f"{c.hazard[:1].upper()}{c.hazard[1:]}: {c.first_advice}" for c in material_cautions(known)), "None are listed."
)
widgets.page_end()
