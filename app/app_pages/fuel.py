"""What the fuel needs, gives and risks."""

from __future__ import annotations

import streamlit as st

from app.inputs import own_liquid, widgets
from app.session import case_state
from app.shown import prose, shown_units, tables
from screening.errors import ScreeningError
from screening.judgement.cylinder.flame import flame_temperature
from screening.records.liquids.find_fuel import mixture_setting
from screening.report.fuel.fuel_rows import compared, composition
from screening.report.fuel.fuel_text import MASS_NOTE, cautions

st.title("The fuel")
first, second = st.columns(2)
with first:
    widgets.fuel("fuel", "Fuel")
with second:
    widgets.fuel("reference_fuel", "Reference fuel")
own_liquid.form()
case = case_state.case_or_stop()
fuel, reference = case.fuel, case.reference_fuel
name, other = prose.plain(fuel.name), prose.plain(reference.name)
if fuel.note:
    st.caption(prose.told(fuel.note))

st.subheader("Setting the carburettor")
if fuel.air_fuel_ratio > 0 and reference.air_fuel_ratio > 0:
    setting = mixture_setting(fuel, reference)
    area = "unknown without both densities" if setting.jet_area_ratio is None else f"x {setting.jet_area_ratio:.2f}"
    st.markdown(
        f"**{setting.fuel_mass_ratio:.2f} times** the fuel mass of {other} for the same air; jet area **{area}** at the same "
        f"pressure drop. It needs {fuel.air_fuel_ratio:.2f} kg of air per kg."
    )
    st.caption(" ".join(MASS_NOTE.split()))
else:
    st.warning("One of the two does not burn: there is no mixture to set.")
operation, energy = case.operation, fuel.energy_per_volume
if operation.burned_volume and operation.burn_duration and energy:
    power = operation.burned_volume / operation.burn_duration * energy
    st.markdown(f"At the measured burn the engine is fed **{power / 1e3:.2f} kW**, {60 * power / 1e6:.3f} MJ a minute.")
try:
    hot, cold = flame_temperature(fuel), flame_temperature(reference)
    st.markdown(
        f"It burns at **{shown_units.temperature(hot)}**, {other} at {shown_units.temperature(cold)}: adiabatic flame "
        f"temperature at constant pressure, right mixture, from {shown_units.temperature(298.15)}."
    )
except ScreeningError as error:
    st.info(prose.told(str(error)))

st.subheader("Cautions")
prose.listed(cautions(fuel))
st.subheader("Its numbers")
tables.show(compared(fuel, reference))
if len(fuel.components) > 1:
    st.subheader("What it consists of")
    tables.show(composition(fuel))
with st.expander("Where the numbers come from, and what is unknown"):
    unknown = [f"{name.replace('_', ' ')}: unknown; {fuel.why_unknown(name)}" for name in fuel.unknown]
    sources = [f"{n.replace('_', ' ')}: {fuel.source(n)}" for n, _ in fuel.source_pairs if n not in fuel.unknown]
    prose.listed([*unknown, *sources], "No sources are listed.")
widgets.page_end()
