"""Cold proofs and runs of one's own: a form for each, and the list of what the case holds."""

from __future__ import annotations

from typing import Any

import streamlit as st

from app.session import case_state
from app.shown import prose
from screening.judgement.case.case_file import case_schema

PROOFS, RUNS = "cold_proofs", "runs"
_BURST, _HELD = "it burst", "it held, whole"
_LONGEST_NOTE = 1000


def proof_entry(ids: list[str], names: dict[str, str]) -> None:
    """Draw the form of a cold proof of one of the materials `ids`, called by `names`, then the proofs that are known."""
    with st.form("cold_proof", clear_on_submit=True):
        first, second = st.columns(2)
        material = first.selectbox("Material of the print", ids, format_func=lambda id: names[id])
        thickness = second.number_input(
            "Crown thickness of the print [mm]", value=None, min_value=0.0, format="%g", placeholder="the case's"
        )
        what = first.selectbox("What happened", [_BURST, _HELD])
        pressure = second.number_input("at the pressure of [bar]", value=None, min_value=0.0, format="%g")
        note = st.text_input("Note on the proof", max_chars=_LONGEST_NOTE)
        sent = st.form_submit_button("Add this cold proof to the case")
    if sent:
        row: dict[str, Any] = {"material": material} | _crown(thickness)
        row |= {} if pressure is None else {"burst_bar" if what == _BURST else "held_bar": pressure}
        _add(PROOFS, row | _note(note), "That cold proof cannot be used")
    _known(PROOFS, names, _proof_told)


def run_entry(ids: list[str], names: dict[str, str]) -> None:
    """Draw the form of a run with one of the materials `ids`, called by `names`, then the runs that are known."""
    ends = case_schema()["properties"][RUNS]["items"]["properties"]["ended_by"]["enum"]
    with st.form("booked_run", clear_on_submit=True):
        first, second = st.columns(2)
        material = first.selectbox("Material of the piston", ids, format_func=lambda id: names[id])
        thickness = second.number_input(
            "Its polymer crown [mm]", value=None, min_value=0.0, format="%g", placeholder="the case's"
        )
        lasted = second.number_input("It ran for [s]", value=None, min_value=0.0, format="%g")
        ended = first.selectbox("What ended it", ends, help="Stopped by hand: the piston was still whole.")
        date = second.date_input("Date", value=None, format="YYYY-MM-DD")
        note = st.text_input("Note on the run", max_chars=_LONGEST_NOTE)
        sent = st.form_submit_button("Add this run to the book")
    if sent:
        row: dict[str, Any] = {"material": material, "ended_by": ended} | _crown(thickness)
        row |= {} if lasted is None else {"ran_s": lasted}
        row |= {} if date is None else {"date": str(date)}
        _add(RUNS, row | _note(note), "That run cannot be used")
    _known(RUNS, names, _run_told)


def _crown(thickness: float | None) -> dict[str, float]:
    """Return the crown's thickness to keep: as entered, or as the case gives it now, since the case may change later."""
    kept = case_state.document().get("piston", {}).get("crown_thickness_mm") if thickness is None else thickness
    return {} if kept is None else {"crown_thickness_mm": kept}


def _note(text: str) -> dict[str, str]:
    return {"note": text.strip()} if text.strip() else {}


def _add(section: str, row: dict[str, Any], refused: str) -> None:
    faults = case_state.try_put(section, [*case_state.document().get(section, []), row])
    if faults:
        st.error(f"{refused}:\n\n" + prose.points(faults))
    else:
        st.rerun()


def _known(section: str, names: dict[str, str], told: Any) -> None:
    rows: list[dict[str, Any]] = case_state.document().get(section, [])
    for place, row in enumerate(rows):
        words, away = st.columns([5, 1])
        name = names.get(row["material"], row["material"])
        words.markdown(prose.plain(", ".join(filter(None, [f"{place + 1}. {name}", *told(row), row.get("note", "")]))))
        away.button("Remove", key=f"{section}.remove.{place}.{len(rows)}", on_click=_remove, args=(section, place))


def _remove(section: str, place: int) -> None:
    rows = case_state.document().get(section, [])
    case_state.put(section, [*rows[:place], *rows[place + 1 :]])


def _proof_told(row: dict[str, Any]) -> list[str]:
    return [_size(row), f"burst at {row['burst_bar']:g} bar" if "burst_bar" in row else f"held {row['held_bar']:g} bar"]


def _run_told(row: dict[str, Any]) -> list[str]:
    return [_size(row), f"{row['ran_s']:g} s", row["ended_by"], row.get("date", "")]


def _size(row: dict[str, Any]) -> str:
    return f"{row['crown_thickness_mm']:g} mm" if "crown_thickness_mm" in row else ""
