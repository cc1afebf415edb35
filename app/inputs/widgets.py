"""Inputs that are filled from the case and commit on change, with limits and help from the case schema."""

from __future__ import annotations

from typing import Any

import streamlit as st

from app.session import case_state, link
from app.shown import prose, shown_units
from screening.judgement.case.case_file import case_schema
from screening.quantities import to_si
from screening.sentences import Quantity, Text


def frame() -> None:
    """Draw what stands on top of every page: the unit, and what was wrong with the link that led here."""
    st.session_state.setdefault("temperature_unit", shown_units.CELSIUS)
    # a caption carries what a reader needs, so it is as dark as the text; it is told by its size
    st.html(
        "<style>.stMainBlockContainer{padding-top:4rem}"
        "[data-testid=stCaptionContainer],[data-testid=stCaptionContainer] *{color:inherit!important;opacity:1}"
        "[data-testid=stExpandSidebarButton]{width:auto}"  # on a narrow screen the pages hide behind a mere sign
        "[data-testid=stExpandSidebarButton]::after{content:'All pages';font-size:.875rem}</style>"
    )
    st.radio(
        "Temperatures in",
        [shown_units.CELSIUS, shown_units.FAHRENHEIT],
        format_func=lambda unit: f"Temperatures in {unit}" if unit == shown_units.CELSIUS else f"in {unit}",
        key="temperature_unit",
        horizontal=True,
        label_visibility="collapsed",
    )
    faults = st.session_state.get("link_faults", ())
    if faults:
        st.error("The case in this address cannot be used; the demo case is shown instead.\n\n" + prose.points(faults))
    if st.session_state.get("awaited"):
        _ask_for_log(st.session_state.awaited)


def _ask_for_log(waiting: dict[str, Any]) -> None:
    """Ask for the log that a case names by its digest; never rank with another one."""
    st.warning(
        "This address stands for a case with a run log of its own, and a log does not travel in a link. Open the log here, or "
        "the case file that holds it. Until then the demo case is shown."
    )
    upload = st.file_uploader("The log of this case", type=["csv", "txt"])
    if upload is None:
        return
    text = upload.getvalue().decode("utf-8-sig", errors="replace")
    if link.log_digest(text) == link.missing_log(waiting):
        case_state.replace(link.with_log(waiting, text))
        st.rerun()
    st.error("This is another log than the one the case was made with.")


def _field(section: str, key: str) -> dict[str, Any]:
    field: dict[str, Any] = case_schema()["properties"][section]["properties"][key]
    return field


def _help(field: dict[str, Any]) -> str:
    """Meaning of a field, with the range it may have."""
    text = str(field.get("description", "")).split(" [")[0]
    return text[:1].upper() + text[1:] + "." if text else ""


def _widget_key(section: str, key: str) -> str:
    return f"{section}.{key}.{st.session_state.generation}.{shown_units.chosen() if key.endswith('_C') else ''}"


def number(section: str, key: str, label: str, default: Text | Quantity = "", disabled: bool = False) -> None:
    """Draw a number of the case; left empty, the stated default and its range stand in."""
    field, warm = _field(section, key), key.endswith("_C")
    stored = case_state.document().get(section, {}).get(key)
    low, high = float(field["minimum"]), float(field["maximum"])
    if warm:
        low, high = shown_units.shown_temperature(low), shown_units.shown_temperature(high)
        stored = None if stored is None else shown_units.shown_temperature(stored)
    widget, stands_in = _widget_key(section, key), prose.words(default)

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
        format="%g",
        key=widget,
        placeholder=f"open: {stands_in}" if stands_in else "open",
        help=f"{_help(field)} {low:g} to {high:g}." + (f" Left open: {stands_in}." if stands_in else ""),
        on_change=commit,
        disabled=disabled,
    )


def temperature(label: str, name: str, start_C: float, head_key: str = "") -> float:
    """Draw a temperature that is no part of the case, kept when the unit is switched; return it in kelvin.

    `head_key` is the key of the case's head that has its meaning, which is its help.
    """
    kept, widget = f"kept.{name}", f"{name}.{shown_units.chosen()}"
    celsius = st.session_state.setdefault(kept, start_C)

    def commit() -> None:
        st.session_state[kept] = shown_units.stored_temperature(st.session_state[widget])

    shown = st.number_input(
        f"{label} [{shown_units.chosen()}]",
        value=shown_units.shown_temperature(celsius),
        format="%.1f",
        key=widget,
        help=_help(_field("head", head_key)) if head_key else None,
        on_change=commit,
    )
    return float(to_si(shown_units.stored_temperature(shown), "degC"))


def choice(section: str, key: str, label: str, options: dict[str, str], default: str) -> None:
    """Draw a choice of the case; `options` gives the words for each value."""
    stored = case_state.document().get(section, {}).get(key, default)
    widget = _widget_key(section, key)
    values = list(options)
    st.selectbox(
        label,
        values,
        index=values.index(stored) if stored in options else 0,
        format_func=lambda value: options[value],
        key=widget,
        help=_help(_field(section, key)),
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
        st.text_input(label, value=f"{stored.get('name')} (own liquid)", disabled=True,
                      key=f"own.{key}.{st.session_state.generation}")  # fmt: skip
        return
    widget = f"{key}.{st.session_state.generation}"
    st.text_input(
        label,
        value=stored,
        key=widget,
        help="A name, a CAS number, or a blend by volume such as: ethanol 70, cyclopentanone 30",
        on_change=lambda: case_state.put(key, st.session_state[widget].strip() or stored),
    )


def page_end() -> None:
    """The line beneath each page."""
    st.caption(
        "Computed on the machine that runs this app; nothing leaves it. The demo cases are invented. Local rules and licensed "
        "practice come first; you run engines at your own risk."
    )
