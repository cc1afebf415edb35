"""What the temperature gun really saw, and what a run log says."""

from __future__ import annotations

import streamlit as st

from app.inputs import log_choice, widgets
from app.session import case_state
from app.shown import drawing, prose, shown_units, tables
from screening.errors import ScreeningError
from screening.judgement.head.gun import read_gun
from screening.judgement.head.run_comparison import compare_runs, run_figures
from screening.judgement.head.run_log import RunLog
from screening.quantities import from_si
from screening.records.tables.surfaces import load_surfaces
from screening.report.head.log_drawing import log_rows, log_svg
from screening.report.head.log_text import fuel_sentence

unit, degrees = shown_units.chosen(), shown_units.code()
document, generation = case_state.document(), st.session_state.generation
head = document.get("head", {})

st.title("Gun and log")
log_choice.outcome()
st.subheader("A reading corrected")
one, two, three = st.columns(3)
surfaces = load_surfaces()
with one:
    reading = widgets.temperature("Gun shows", f"gun_reading.{generation}", head.get("reading_C", 65.0))
surface = two.selectbox(
    "Surface", list(surfaces), index=list(surfaces).index(head.get("surface", "bare_cast_aluminium")),
    format_func=lambda s: surfaces[s].name, key=f"gun_surface.{generation}",
)  # fmt: skip
emissivity = three.number_input("Gun set to emissivity", 0.1, 1.0, float(head.get("gun_emissivity", 0.95)), 0.01,
                                key=f"gun_emissivity.{generation}")  # fmt: skip
air = document.get("operation", {}).get("ambient_C", 20.0)
four, five, _ = st.columns(3)
with four:
    around = widgets.temperature(
        "Surface mirrors", f"gun_surroundings.{generation}", head.get("surroundings_C", air), "surroundings_C"
    )
with five:
    taken_off = widgets.temperature(
        "Gun assumes it mirrors",
        f"gun_taken.{generation}",
        head.get("gun_compensates_for_C", air),
        "gun_compensates_for_C",
    )
row = surfaces[surface]
setting = {"surface": surface, "gun_emissivity": round(emissivity, 3)}
for key, kelvin in (("surroundings_C", around), ("gun_compensates_for_C", taken_off)):
    celsius = round(from_si(kelvin, "degC"), 2)
    if key in head or abs(celsius - air) > 0.05:  # as warm as the air is what stands in where the case says nothing
        setting[key] = celsius
try:
    gun = read_gun(reading, surface, emissivity, around, taken_off)
    st.markdown(
        f"The surface is at about **{shown_units.temperature(gun.typical)}** "
        f"({shown_units.temperature(gun.low)} to {shown_units.temperature(gun.high)}), its emissivity being "
        f"{row.typical:g} ({row.low:g} to {row.high:g})."
    )
    prose.listed(gun.advice)
    entry = {"reading_C": round(from_si(reading, "degC"), 2)} | setting
    st.button("Use this reading in the case", help="In place of the case's reading or log, with surface and gun setting.",
              on_click=log_choice.take, args=(entry,))  # fmt: skip
except ScreeningError as error:
    st.error(prose.told(str(error)))


def summary(log: RunLog) -> None:
    """Say where a log settles, how fast, what was burned, and what was assumed in reading it."""
    fit, burned = log.fit_warm_up(), log.fuel_burned()
    low, high = (from_si(kelvin, degrees) for kelvin in fit.settled_interval)
    fast, slow = fit.time_constant_interval
    left, middle, right = st.columns(3)
    left.metric("Settles at a reading of", f"{from_si(fit.settled, degrees):.1f} {unit}")
    left.markdown(f"90 % interval {low:.1f} to {high:.1f} {unit}, not yet corrected for emissivity.")
    middle.metric("Time constant", f"{fit.time_constant:.0f} s")
    middle.markdown(f"90 % interval {fast:.0f} to {slow:.0f} s: two thirds of the way are done after it.")
    right.metric("Fuel burned", "unknown" if burned is None else f"{60 * from_si(burned.flow, 'mL'):.3g} mL/min")
    right.markdown(fuel_sentence(log))
    if not fit.is_settled:
        st.warning("The run had not settled: its end is an extrapolation. Log for longer.")
    try:
        seen = read_gun(fit.settled, surface, emissivity, around, taken_off)
        st.markdown(
            "Corrected with surface, gun setting and surroundings from above, the head settles at about "
            f"**{shown_units.temperature(seen.typical)}** ({shown_units.temperature(seen.low)} to "
            f"{shown_units.temperature(seen.high)}). A crown of polymer is far hotter: the page *One material* has it."
        )
    except ScreeningError as error:
        st.error(prose.told(str(error)))
    prose.listed(f"Assumed in reading it: {note}." for note in log.notes)


def readings(log: RunLog) -> None:
    """Draw the readings with the fitted curve, and the same in a table."""
    far = int(log.fit_warm_up().outliers.sum())
    st.markdown(
        f"Each of the {log.time.size} readings against time, with the fitted curve; the band is the 90 % interval of the "
        f"settled reading. {far or 'None'} of them {'lies' if far == 1 else 'lie'} far from the curve (crosses) and had no "
        "say in the fit."
    )
    drawing.show(log_svg(log, shown_units.units()))
    with st.expander("The same readings as a table"):
        tables.show(log_rows(log, 400))


def baseline(log: RunLog) -> None:
    """Hold the log against a run on the reference fuel."""
    st.subheader("Held against a baseline run")
    if not st.checkbox(
        "A cooler head may just be fed less energy: compare with a run of this engine on the reference fuel"
    ):
        return
    other = log_choice.chosen({}, "baseline")
    case = case_state.case_or_stop()
    if other is not None:
        run = run_figures(log, case.fuel, surface, emissivity)
        before = run_figures(other.read(), case.reference_fuel, surface, emissivity)
        prose.listed(compare_runs(run, before).findings)


st.subheader("A run log")
choice = log_choice.chosen(head)
if choice is None:
    st.info("No log is chosen: take an invented one, paste one, or open a file.")
else:
    try:
        log = choice.read()
        summary(log)
        readings(log)
        log_choice.offer(choice, log, setting)
        baseline(log)
    except ScreeningError as error:
        st.error(f"This log cannot be used: {prose.told(str(error))}")
widgets.page_end()
