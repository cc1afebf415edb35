"""What a fuel does to a polymer, a seal, a hose or a tank: one pair, the matrix, the whole fuel system."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from app import case_state, widgets
from screening.errors import ScreeningError
from screening.judgement.contact import EXPOSURES, assess_contact
from screening.judgement.contact_matrix import contact_matrix
from screening.judgement.fuel_system import fuel_system_advice
from screening.records.materials import load_materials
from screening.report.contact_text import soak_test_rows

st.title("What a fuel does to a polymer")
case = case_state.case_or_stop()
materials = load_materials()
ids = [i for i in materials.ids if materials.get(i).morphology not in ("metal", "ceramic")]
left, right = st.columns(2)
id = left.selectbox("Material", ids, index=ids.index("abs"), format_func=lambda i: f"{materials.get(i).name} ({i})")
fuel = right.text_input(
    "Fuel", value=case.fuel.name, help="A name, a CAS number, or a blend such as: ethanol 70, water 30"
)
try:
    for exposure in EXPOSURES:
        found = assess_contact(id, fuel, exposure=exposure, case=case)
        st.markdown(f"**{exposure}: {found.outcome}** ({found.evidence}, confidence {found.confidence})")
        with st.expander(f"Why, for {exposure}"):
            st.markdown("\n".join(f"- {reason}" for reason in found.reasons))
            st.caption("Sources: " + ("; ".join(found.sources) or "none"))
except ScreeningError as error:
    st.error(str(error))
    st.stop()

st.subheader("The fuel system: seals, hoses, floats, tanks")
st.dataframe(fuel_system_advice(fuel, case), hide_index=True)

st.subheader("Matrix in the tank")
symbols = {"none": "○ none", "slight": "◔ slight", "swells": "◑ swells", "swells strongly": "◕ swells strongly",
           "dissolves": "● dissolves", "stress cracks": "✕ stress cracks", "unknown": "? unknown"}  # fmt: skip
chosen = [fuel, "petrol E0", "petrol E10", "ethanol", "methanol", "acetone", "ethyl acetate", "toluene"]
pairs = contact_matrix(tuple(ids), tuple(dict.fromkeys(chosen)), case=case)
pairs = pairs.assign(cell=[symbols[word] for word in pairs["outcome"]])
st.dataframe(pd.DataFrame(pairs.pivot(index="material", columns="fuel", values="cell")).reindex(ids), height=500)
st.caption("Predicted and published outcomes at room temperature; open one pair above for the evidence.")
st.subheader("If you soak a sample yourself")
st.markdown("\n".join(f"- {row.subject}: {row.first_advice}" for row in soak_test_rows()))
widgets.page_end()
