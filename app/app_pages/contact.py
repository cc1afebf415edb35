"""What a fuel does to a polymer, a seal, a hose or a tank: one pair, the matrix, the whole fuel system."""

from __future__ import annotations

import streamlit as st

from app.inputs import pair, soak_tests, widgets
from app.session import case_state
from app.shown import contact_view
from screening.records.materials.materials import load_materials

st.title("Check a material against a fuel")
case = case_state.case_or_stop()
materials = load_materials()
ids = [id for id in materials.ids if materials.get(id).morphology not in ("metal", "ceramic")]
pair.follow(ids)
contact_view.question(ids, case)
story = contact_view.story_or_stop(case)
pair.write(case)
contact_view.answer(story)
contact_view.pass_on(story, case)

st.subheader("Every material in the tank with the usual fuels")
contact_view.matrix(ids, case)
st.subheader("The fuel system: seals, hoses, floats, tanks, buckets")
contact_view.fuel_system(story, case)
st.subheader("A soak test of your own")
soak_tests.entry(case)
widgets.page_end()
