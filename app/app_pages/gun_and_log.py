"""What the temperature gun really saw, and what a run log says."""

from __future__ import annotations

import streamlit as st

from app import log_choice, prose, shown_units, tables, widgets
from screening.errors import ScreeningError
from screening.judgement.gun import read_gun
from screening.records.surfaces import load_surfaces
from screening.report.log_text import log_sheet

st.title("Gun and log")
st.subheader("A reading corrected")
one, two, three, four = st.columns(4)
surfaces = load_surfaces()
with one:
    reading = widgets.temperature("Gun shows", "gun_reading", 65.0)
surface = two.selectbox("Surface", list(surfaces), index=list(surfaces).index("bare_cast_aluminium"),
                        format_func=lambda s: surfaces[s].name)  # fmt: skip
emissivity = three.number_input("Gun set to emissivity", 0.1, 1.0, 0.95)
with four:
    around = widgets.temperature("Surroundings", "gun_surroundings", 20.0)
try:
    gun = read_gun(reading, surface, emissivity, around)
    st.markdown(
        f"The surface is at about **{shown_units.temperature(gun.typical)}** "
        f"({shown_units.temperature(gun.low)} to {shown_units.temperature(gun.high)})."
    )
    prose.listed(gun.advice)
except ScreeningError as error:
    st.error(prose.told(str(error)))

st.subheader("A run log")
text, entry = log_choice.chosen()
if text:
    try:
        log = log_choice.read(text)
        fit = log.fit_warm_up()
        prose.listed(log_sheet(log).splitlines())
        st.markdown("Each reading against time; the ones far from the fitted curve have another shape and colour.")
        st.altair_chart(log_choice.chart(log, fit.outliers), width="stretch")
        with st.expander("The same readings as a table"):
            tables.show(log_choice.rows(log, fit.outliers))
        log_choice.offer(entry)
    except ScreeningError as error:
        st.error(f"This log cannot be used: {prose.told(str(error))}")
else:
    st.info("No log is chosen: take an invented one, paste one, or open a file.")
widgets.page_end()
