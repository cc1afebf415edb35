"""A run log chosen: the case's own, a bundled, a pasted or an opened one, one at a time; and taken into the case."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import streamlit as st

from app.session import case_state
from app.shown import prose
from screening.demo_cases import bundled_logs
from screening.errors import CaseError
from screening.judgement.case.case_file import load_case
from screening.judgement.head.run_log import RunLog, read_log
from screening.quantities import from_si

EXAMPLE = "time_s,temperature_C,fuel_mL\n0,20,0\n30,26,4\n60,31,9"
_OWN, _BUNDLED, _PASTED, _OPENED = "the log of the case", "an invented one", "paste one", "open a file"


@dataclass(frozen=True)
class LogChoice:
    """The text of a log, and what stands for it in a case."""

    text: str
    entry: str | dict[str, Any]

    def read(self) -> RunLog:
        """Return the log; a text is never taken for the name of a file."""
        return read_log(io.StringIO(self.text))


def chosen(head: Mapping[str, Any], key: str = "log") -> LogChoice | None:
    """Draw the choice of a log, the case's own (in `head`) first; `key` tells two choices on a page apart.

    Return None where there is none yet.
    """
    kinds = [_OWN] if "log" in head else []
    kinds += [_BUNDLED, _PASTED, _OPENED]
    kind = st.radio("Which log", kinds, horizontal=True, key=f"{key}.kind.{len(kinds)}")
    if kind == _OWN:
        return _of_case(head["log"])
    if kind == _PASTED:
        st.markdown("A header with units, then one reading a row; with a column of fuel used, if you have one.")
        pasted = st.text_area("The log", placeholder=EXAMPLE, height=180, max_chars=200_000, key=f"{key}.pasted")
        return LogChoice(pasted, pasted) if pasted.strip() else None
    if kind == _OPENED:
        upload = st.file_uploader("A log (CSV or text)", type=["csv", "txt"], key=f"{key}.upload")
        return None if upload is None else _from_file(upload.getvalue())
    logs = bundled_logs()
    name = st.selectbox("Invented log", list(logs), format_func=lambda n: n.replace("_", " "), key=f"{key}.bundled")
    return LogChoice(logs[name].read_text("utf-8"), {"bundled": name})


def _of_case(entry: str | Mapping[str, Any]) -> LogChoice | None:
    if isinstance(entry, str):
        return LogChoice(entry, entry)
    name = entry.get("bundled")
    if name in bundled_logs():
        return LogChoice(bundled_logs()[str(name)].read_text("utf-8"), dict(entry))
    st.info("The case names a log that is not here: open that file.")
    return None


def _from_file(data: bytes) -> LogChoice | None:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        st.error("That file is not UTF-8 text. Save the log as CSV (UTF-8) and open it again.")
        return None
    return LogChoice(text, text)


def offer(choice: LogChoice, log: RunLog, setting: Mapping[str, Any]) -> None:
    """Draw the button that takes the log into the case, with surface, gun's `setting` and burn, and what came of it."""
    if case_state.document().get("head", {}).get("log") == choice.entry:
        st.markdown("The case rests on this log.")
        return
    burned = log.fuel_burned()
    also = burned is not None and st.checkbox("Take the fuel burned from it too", value=True)
    operation: dict[str, float] = {}
    if also and burned is not None:
        operation = {"burned_mL": round(from_si(burned.volume, "mL"), 3), "burn_duration_s": burned.duration}
    st.button(
        "Use this log in the case",
        help="In place of the case's reading or log; with the surface and gun setting from above.",
        on_click=take,
        args=({"log": choice.entry, **setting}, operation),
    )


def take(head: dict[str, Any], operation: Mapping[str, float] | None = None) -> None:
    """Let the case rest on another head temperature; where that cannot be, the case stays and the faults are kept."""
    found = case_state.document() | {"head": head}
    if operation:
        kept = {key: value for key, value in found.get("operation", {}).items() if key != "throttle"}
        found |= {"operation": kept | dict(operation)}
    try:
        load_case(found)
    except CaseError as error:
        faults = tuple(str(fault) for fault in error.faults if fault.where.startswith(("head", "operation")))
        if faults:
            st.session_state.head_faults = faults
            return
    case_state.replace(found)
    st.session_state.head_taken = True


def outcome() -> None:
    """Say what became of the reading or log that was to be taken."""
    faults = st.session_state.pop("head_faults", ())
    if faults:
        st.error("The case keeps what it had: this cannot stand for the head.\n\n" + prose.points(faults))
    elif st.session_state.pop("head_taken", False):
        st.success("Taken: the case now rests on it.")
