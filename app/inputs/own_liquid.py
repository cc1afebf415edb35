"""A liquid that the tables do not know: its figures typed in, checked at once, and taken as the case's fuel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import streamlit as st

from app.session import case_state
from app.shown import prose, shown_units
from screening.errors import CaseError
from screening.judgement.case.case_file import case_schema
from screening.records.liquids.find_fuel import own_fuel

ROOM = 293.15
"""Temperature at which densities are given [K]."""
NAMED = "ethanol"
"""What a person gets who goes back to a named fuel."""
_NUMBERS = {
    "density_kg_m3": "Density at {room} [kg/m³]",
    "lower_heating_value_MJ_kg": "Lower heating value [MJ/kg]",
    "latent_heat_kJ_kg": "Heat of vaporisation [kJ/kg]",
    "flash_point_C": "Flash point",
    "boiling_point_C": "Boiling point",
}
_HANSEN = ("dD", "dP", "dH")


def form() -> None:
    """Draw the form, filled from the case where its fuel is a liquid of the user's own."""
    stored = case_state.document().get("fuel")
    own = stored if isinstance(stored, Mapping) else {}
    if own:
        st.button("Back to a named fuel", on_click=lambda: case_state.replace(case_state.document() | {"fuel": NAMED}))
    with st.expander("A liquid that is not in the tables", expanded=bool(own)):
        st.markdown(
            "Name, formula and density are needed. Heating value and heat of vaporisation are needed to rank; Hansen "
            "parameters to say what it does to polymers. What you leave open stays unknown."
        )
        with st.form(f"own_liquid.{st.session_state.generation}"):
            given = _fields(own)
            sent = st.form_submit_button("Use this liquid as the fuel")
        if sent:
            _take(own, given)


def _fields(own: Mapping[str, Any]) -> dict[str, Any]:
    """Draw the fields; return what was filled in, by the keys of a case."""
    part = f"{st.session_state.generation}.{shown_units.chosen()}"
    first, second, *rest = (cell for _ in range(3) for cell in st.columns(3))  # row by row, also when they are stacked
    given: dict[str, Any] = {
        "name": first.text_input("Name of the liquid", own.get("name", ""), max_chars=80, key=f"own.name.{part}"),
        "formula": second.text_input("Formula, such as C5H8O", own.get("formula", ""), key=f"own.formula.{part}"),
    }
    for cell, (key, label) in zip(rest, _NUMBERS.items(), strict=False):
        with cell:
            given[key] = _number(key, label.format(room=shown_units.temperature(ROOM)), own.get(key), part)
    parts = []
    for column, axis, value in zip(st.columns(3), _HANSEN, own.get("hansen", (None,) * 3), strict=True):
        parts.append(
            column.number_input(f"Hansen {axis} [MPa^0.5]", 0.0, 45.0, _float(value), key=f"own.{axis}.{part}")
        )
    filled = {key: value for key, value in given.items() if value not in (None, "")}
    return filled | ({"hansen": parts} if any(value is not None for value in parts) else {})


def _number(key: str, label: str, stored: float | None, part: str) -> float | None:
    field = case_schema()["properties"]["fuel"]["oneOf"][1]["properties"][key]
    low, high, warm = float(field["minimum"]), float(field["maximum"]), key.endswith("_C")
    if warm:
        low, high = shown_units.shown_temperature(low), shown_units.shown_temperature(high)
        stored = None if stored is None else shown_units.shown_temperature(stored)
        label = f"{label} [{shown_units.chosen()}]"
    shown = st.number_input(
        label, low, high, _float(stored), placeholder="unknown", format="%g", key=f"own.{key}.{part}"
    )
    return shown_units.stored_temperature(shown) if warm and shown is not None else shown


def _float(value: float | None) -> float | None:
    return None if value is None else float(value)


def _take(own: Mapping[str, Any], given: dict[str, Any]) -> None:
    """Take the liquid as the fuel, or say all that is wrong with it; what the form does not ask for is kept."""
    kept = {} if "lower_heating_value_MJ_kg" in given else {k: own[k] for k in own if k.startswith("enthalpy")}
    try:
        own_fuel(given | kept, "the liquid")
    except CaseError as error:
        st.error("This liquid cannot be used as it stands:\n\n" + prose.points(str(fault) for fault in error.faults))
        return
    case_state.replace(case_state.document() | {"fuel": given | kept})
    st.rerun()
