"""Soak tests of one's own: what to heed, a form for the pair at hand, and the list of what the case holds."""

from __future__ import annotations

from typing import Any

import streamlit as st

from app.inputs import pair
from app.session import case_state
from app.shown import prose, shown_units
from screening.judgement.case.case import Case
from screening.quantities import to_si
from screening.report.contact.contact_text import soak_test_rows
from screening.sentences import Temperature, Text, joined, sentence

SEEN = {
    "": "not noted",
    "unchanged": "unchanged",
    "slight": "slight",
    "swells": "swells",
    "swells strongly": "swells strongly",
    "cracked": "cracked",
    "gummy": "gummy",
    "dissolves": "dissolves",
}
_TEMPERATURE = "temperature_C"
_NUMBERS = {
    "time_h": ("How long", "h"),
    _TEMPERATURE: ("Temperature", shown_units.CELSIUS),
    "mass_before_g": ("Mass before", "g"),
    "mass_after_g": ("Mass after, wiped dry", "g"),
    "size_before_mm": ("A length before", "mm"),
    "size_after_mm": ("The same length after", "mm"),
}
_COLDEST_C = -30.0


def entry(case: Case) -> None:
    """Draw the advice first, then the form and the tests that are known."""
    st.warning("Gloves on, outdoors or well ventilated, no flame or spark anywhere near, small amounts.")
    prose.listed(f"{row.subject}: {row.first_advice}" for row in soak_test_rows())
    with st.form("soak_test", clear_on_submit=True):
        st.markdown(prose.plain(f"A soak of {pair.material()} in {pair.fuel_text(case)}"))
        columns = st.columns(2)
        numbers = {}
        for i, (key, (label, unit)) in enumerate(_NUMBERS.items()):
            least = 0.0
            if key == _TEMPERATURE:
                least, unit = shown_units.shown_temperature(_COLDEST_C), shown_units.chosen()
            numbers[key] = columns[i % 2].number_input(f"{label} [{unit}]", value=None, min_value=least, format="%g")
        outcome = st.selectbox("What you saw", list(SEEN), format_func=lambda word: SEEN[word])
        note = st.text_input("Note", max_chars=1000)
        sent = st.form_submit_button("Add this soak test to the case")
    if sent:
        given = {key: value for key, value in numbers.items() if value is not None}
        if _TEMPERATURE in given:
            given[_TEMPERATURE] = shown_units.stored_temperature(given[_TEMPERATURE])
        _add(case, given, outcome, note.strip())
    tests: list[dict[str, Any]] = case_state.document().get("soak_tests", [])
    for place, test in enumerate(tests):
        told, away = st.columns([5, 1])
        told.markdown(prose.told(joined([f"{place + 1}.", _told(test)])))
        away.button("Remove", key=f"soak.remove.{place}.{len(tests)}", on_click=_remove, args=(place,))


def _add(case: Case, numbers: dict[str, float], outcome: str, note: str) -> None:
    fluid: Any = pair.fuel_text(case)
    if fluid == case.fuel.name:
        fluid = case_state.document().get("fuel", fluid)
    test = {"material": pair.material(), "fluid": fluid, **numbers}
    test |= {"outcome": outcome} if outcome else {}
    test |= {"note": note} if note else {}
    faults = case_state.try_put("soak_tests", [*case_state.document().get("soak_tests", []), test])
    if faults:
        st.error("That soak test cannot be used:\n\n" + prose.points(faults))
    else:
        st.rerun()


def _remove(place: int) -> None:
    tests = case_state.document().get("soak_tests", [])
    case_state.put("soak_tests", [*tests[:place], *tests[place + 1 :]])


def _told(test: dict[str, Any]) -> Text:
    fluid = test["fluid"] if isinstance(test["fluid"], str) else test["fluid"].get("name", "own liquid")
    figures = [
        sentence("{label} {at}", label=label.lower(), at=Temperature(to_si(test[key], "degC")))
        if key == _TEMPERATURE
        else f"{label.lower()} {test[key]:g} {unit}"
        for key, (label, unit) in _NUMBERS.items()
        if key in test
    ]
    rest = [test.get("outcome", ""), test.get("note", "")]
    return joined([f"{test['material']} in {fluid}", *figures, *rest], ", ")
