"""Inputs that are filled from the case and commit on change, with limits and help from the case schema."""

from __future__ import annotations

from typing import Any

import streamlit as st

from app import case_state, shown_units
from screening.judgement.case_file import case_schema


def unit_switch() -> None:
    """Choose the temperature unit, on every page in the same place."""
    st.session_state.setdefault("temperature_unit", shown_units.CELSIUS)
    with st.sidebar:
        st.radio(
            "Temperatures in", [shown_units.CELSIUS, shown_units.FAHRENHEIT], key="temperature_unit", horizontal=True
        )
        st.caption("Polymer Piston Screening computes on this machine; nothing leaves it.")


def link_faults() -> None:
    """Say what was wrong with the link that opened the app."""
    faults = st.session_state.get("link_faults", ())
    if faults:
        st.error(
            "The link's case cannot be used; the demo case is shown instead.\n\n" + "\n".join(f"- {f}" for f in faults)
        )


def _field(section: str, key: str) -> dict[str, Any]:
    field: dict[str, Any] = case_schema()["properties"][section]["properties"][key]
    return field


def _widget_key(section: str, key: str) -> str:
    return (
        f"{section}.{key}.{st.session_state.get('generation', 0)}.{shown_units.chosen() if key.endswith('_C') else ''}"
    )


def number(
    section: str, key: str, label: str, default: str = "", step: float | None = None, disabled: bool = False
) -> None:
    """Draw a number of the case; left empty, the stated default and its range stand in."""
    field, warm = _field(section, key), key.endswith("_C")
    stored = case_state.document().get(section, {}).get(key)
    low, high = float(field["minimum"]), float(field["maximum"])
    if warm:
        low, high = shown_units.shown_temperature(low), shown_units.shown_temperature(high)
        stored = None if stored is None else shown_units.shown_temperature(stored)
    widget = _widget_key(section, key)

    def commit() -> None:
        value = st.session_state[widget]
        if value is not None and warm:
            value = shown_units.stored_temperature(value)
        case_state.change(section, key, value)

    unit = f" [{shown_units.chosen()}]" if warm else ""
    st.number_input(
        label + unit,
        min_value=low,
        max_value=high,
        value=None if stored is None else float(stored),
        step=step,
        key=widget,
        placeholder=f"left open: {default}" if default else "left open",
        help=field["description"],
        on_change=commit,
        disabled=disabled,
    )


def choice(section: str, key: str, label: str, options: list[str], default: str) -> None:
    """Draw a choice of the case."""
    stored = case_state.document().get(section, {}).get(key, default)
    widget = _widget_key(section, key)
    st.selectbox(
        label,
        options,
        index=options.index(stored) if stored in options else 0,
        key=widget,
        help=_field(section, key).get("description"),
        on_change=lambda: case_state.change(section, key, st.session_state[widget]),
    )


def tick(section: str, key: str, label: str) -> None:
    """Draw a yes or no of the case."""
    widget = _widget_key(section, key)
    st.checkbox(
        label,
        value=bool(case_state.document().get(section, {}).get(key, False)),
        key=widget,
        on_change=lambda: case_state.change(section, key, st.session_state[widget]),
    )


def fuel(key: str, label: str) -> None:
    """Draw a fuel by name, CAS number or blend; a liquid of the user's own is shown but changed in the case file."""
    stored = case_state.document().get(key, "petrol E0")
    if not isinstance(stored, str):
        st.text_input(
            label, value=f"{stored.get('name')} (own liquid, from the case file)", disabled=True, key=f"own.{key}"
        )
        return
    widget = f"{key}.{st.session_state.get('generation', 0)}"
    st.text_input(
        label,
        value=stored,
        key=widget,
        help="A name, a CAS number, or a blend by volume such as: ethanol 70, cyclopentanone 30",
        on_change=lambda: case_state.put(key, st.session_state[widget].strip() or stored),
    )


def page_end() -> None:
    """The line beneath each page."""
    st.caption("Invented demo data. Local rules and licensed practice come first; you run engines at your own risk.")
