"""A run log chosen, pasted or uploaded; shown; and taken into the case."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from typing import Any

import altair as alt
import pandas as pd
import streamlit as st

from app import case_state, link, prose, shown_units
from screening.demo_cases import bundled_logs
from screening.errors import CaseError
from screening.judgement.case_file import load_case
from screening.judgement.run_log import RunLog, read_log
from screening.report.chart_numbers import COOL, WARM

Entry = str | Mapping[str, str]
_NONE, _OWN = "none", "the case's own log"
_MOST_ROWS = 400


def chosen() -> tuple[str, Entry]:
    """Draw the ways to a log; return its text, and what stands for it in a case."""
    document, logs = case_state.document(), bundled_logs()
    own = link.own_log(document)
    names = [_NONE, *([_OWN] if own else []), *logs]
    present = document.get("head", {}).get("log")
    bundled = present.get("bundled") if isinstance(present, Mapping) else None
    start = _OWN if own else bundled if bundled in logs else next(iter(logs))
    name = st.selectbox(
        "Logs at hand",
        names,
        index=names.index(start),
        format_func=lambda n: f"{n.replace('_', ' ')} (invented)" if n in logs else n,
    )
    pasted = st.text_area(
        "or paste one: a header with units, then a row a reading",
        placeholder="time_s,temperature_C\n0,20\n30,26",
        max_chars=200_000,
    )
    upload = st.file_uploader("or open a file", type=["csv", "txt"])
    if upload is not None:
        found = upload.getvalue().decode("utf-8-sig", errors="replace")
        return found, found
    if pasted.strip():
        return pasted, pasted
    if name == _OWN and own:
        return own, own
    return (logs[name].read_text("utf-8"), {"bundled": name}) if name in logs else ("", "")


def read(text: str) -> RunLog:
    """Return the log in a text; a text is never taken for the name of a file."""
    return read_log(io.StringIO(text))


def chart(log: RunLog, outliers: Iterable[Any]) -> alt.Chart:
    """Return the readings against time."""
    frame = pd.DataFrame(
        {
            "time": log.time,
            "reading": [shown_units.shown_temperature(kelvin - 273.15) for kelvin in log.reading],
            "kind": [_kind(far) for far in outliers],
        }
    )
    kinds = [_kind(False), _kind(True)]
    legend = alt.Legend(orient="bottom", title=None)
    return (
        alt.Chart(frame)
        .mark_point(filled=True, size=60, opacity=1)
        .encode(
            x=alt.X("time:Q", title="seconds"),
            y=alt.Y("reading:Q", title=shown_units.chosen()),
            shape=alt.Shape("kind:N", scale=alt.Scale(domain=kinds), legend=legend),
            color=alt.Color("kind:N", scale=alt.Scale(domain=kinds, range=[COOL, WARM]), legend=legend),
        )
    )


def _kind(far: Any) -> str:
    return "far from the curve" if far else "reading"


def rows(log: RunLog, outliers: Iterable[Any]) -> list[dict[str, str]]:
    """Return the first rows of the log."""
    pairs = list(zip(log.time, log.reading, outliers, strict=True))[:_MOST_ROWS]
    return [
        {
            "seconds": f"{time:.0f}",
            "gun shows": f"{shown_units.shown_temperature(kelvin - 273.15):.1f} {shown_units.chosen()}",
            "": _kind(far) if far else "",
        }
        for time, kelvin, far in pairs
    ]


def offer(entry: Entry) -> None:
    """Draw the button that takes the log into the case, and what came of it."""
    if case_state.document().get("head", {}).get("log") == entry:
        st.success("The case rests on this log.")
        return
    st.button("Use this log as the head's temperature in the case", on_click=_take, args=(entry,))
    faults = st.session_state.pop("log_faults", ())
    if faults:
        st.error("The case keeps what it had: this log cannot stand for the head.\n\n" + prose.points(faults))


def _take(entry: Entry) -> None:
    document = case_state.document()
    head = {key: value for key, value in document.get("head", {}).items() if key != "reading_C"}
    found = document | {"head": head | {"log": entry}}
    try:
        load_case(found)
    except CaseError as error:
        faults = tuple(str(fault) for fault in error.faults if fault.where.startswith("head"))
        if faults:
            st.session_state.log_faults = faults
            return
    case_state.replace(found)
