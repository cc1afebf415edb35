"""What the fuel needs, gives and risks."""

from __future__ import annotations

import streamlit as st

from app import case_state, widgets
from screening.errors import ScreeningError
from screening.judgement.gas_side import flame_temperature
from screening.judgement.wording import celsius
from screening.records.fuels import mixture_setting
from screening.report.fuel_text import fuel_sheet

st.title("The fuel")
first, second = st.columns(2)
with first:
    widgets.fuel("fuel", "Fuel")
with second:
    widgets.fuel("reference_fuel", "Reference fuel")
case = case_state.case_or_stop()
fuel, reference = case.fuel, case.reference_fuel
setting = mixture_setting(fuel, reference)
one, two, three, four = st.columns(4)
one.metric("Air by mass [kg/kg]", f"{fuel.air_fuel_ratio:.2f}")
two.metric("Oxygen by moles [mol/mol]", f"{fuel.oxygen_need:.2f}")
three.metric("Fuel mass for the same air", f"{setting.fuel_mass_ratio:.2f} x")
four.metric("Jet area", "unknown" if setting.jet_area_ratio is None else f"{setting.jet_area_ratio:.2f} x")
st.caption("A carburettor meters mass: set it by the mass figure, never by the molar one.")
try:
    hot = flame_temperature(fuel), flame_temperature(reference)
    st.markdown(
        f"Adiabatic flame temperature at constant pressure, stoichiometric, from 25 °C: **{celsius(hot[0])}**; "
        f"{reference.name}: {celsius(hot[1])}."
    )
except ScreeningError as error:
    st.info(str(error))
operation, energy = case.operation, fuel.energy_per_volume
if operation.burned_volume and operation.burn_duration and energy:
    power = operation.burned_volume / operation.burn_duration * energy
    st.markdown(f"At the measured burn the engine is fed **{power / 1e3:.2f} kW**, {60 * power / 1e6:.3f} MJ a minute.")
st.code(fuel_sheet(fuel, reference), language=None, wrap_lines=True)
widgets.page_end()
