"""What the temperature gun really saw, and what a run log says."""

from __future__ import annotations

import altair as alt
import pandas as pd
import streamlit as st

from app import case_state, shown_units, widgets
from screening.demo_cases import bundled_logs
from screening.errors import ScreeningError
from screening.judgement.gun import read_gun
from screening.judgement.run_log import read_log
from screening.records.surfaces import load_surfaces
from screening.report.log_text import log_sheet

st.title("Gun and log")
st.subheader("A reading corrected")
one, two, three, four = st.columns(4)
unit = shown_units.chosen()
reading = one.number_input(f"Gun shows [{unit}]", value=shown_units.shown_temperature(65.0))
surfaces = load_surfaces()
surface = two.selectbox("Surface", list(surfaces), index=list(surfaces).index("bare_cast_aluminium"),
                        format_func=lambda s: surfaces[s].name)  # fmt: skip
emissivity = three.number_input("Gun set to emissivity", 0.1, 1.0, 0.95)
around = four.number_input(f"Surroundings [{unit}]", value=shown_units.shown_temperature(20.0))
try:
    gun = read_gun(
        shown_units.stored_temperature(reading) + 273.15,
        surface,
        emissivity,
        shown_units.stored_temperature(around) + 273.15,
    )
    st.markdown(
        f"The surface is at about **{shown_units.temperature(gun.typical)}** "
        f"({shown_units.temperature(gun.low)} to {shown_units.temperature(gun.high)})."
    )
    st.markdown("\n".join(f"- {advice}" for advice in gun.advice))
except ScreeningError as error:
    st.error(str(error))

st.subheader("A run log")
logs = bundled_logs()
name = st.selectbox("Bundled logs (invented)", ["none", *logs], index=1)
pasted = st.text_area(
    "or paste one: a header with units, then a row a reading", placeholder="time_s,temperature_C\n0,20\n30,26"
)
upload = st.file_uploader("or upload one", type=["csv", "txt"])
text = logs[name].read_text("utf-8") if name in logs else ""
if pasted.strip():
    text = pasted + "\n"
if upload is not None:
    text = upload.getvalue().decode("utf-8-sig", errors="replace")
if text:
    try:
        log = read_log(text)
        fit = log.fit_warm_up()
        st.code(log_sheet(log), language=None, wrap_lines=True)
        frame = pd.DataFrame(
            {
                "time": log.time,
                "reading": [shown_units.shown_temperature(k - 273.15) for k in log.reading],
                "kind": ["far from the curve" if far else "reading" for far in fit.outliers],
            }
        )
        st.markdown("Each reading against time; the ones far from the fitted curve have another shape.")
        st.altair_chart(
            alt.Chart(frame).mark_point(filled=True, size=60).encode(
                x=alt.X("time:Q", title="seconds"), y=alt.Y("reading:Q", title=unit), shape="kind:N", color="kind:N"
            ),
            width="stretch",
        )  # fmt: skip
        st.dataframe(frame, hide_index=True)
        if st.button("Use this log as the head's temperature in the case"):
            entry = {"bundled": name} if name in logs and not pasted.strip() and upload is None else text
            head = {k: v for k, v in case_state.document().get("head", {}).items() if k != "reading_C"}
            case_state.replace(case_state.document() | {"head": head | {"log": entry}})
            st.success("The case now rests on this log.")
    except ScreeningError as error:
        st.error(str(error))
widgets.page_end()
