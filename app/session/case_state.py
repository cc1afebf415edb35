"""The one case that all pages show: a document in the session, and the checked case made from it."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import streamlit as st

from app.session import link
from app.shown import prose
from screening.errors import CaseError, Fault
from screening.judgement.case.case import Case
from screening.judgement.case.case_file import demo_cases, load_case, parse_document

DEFAULT_DEMO = "cyclopentanone_blend"
Document = dict[str, Any]


def begin() -> None:
    """Give a new session the demo case."""
    if "document" not in st.session_state:
        st.session_state.document = demo(DEFAULT_DEMO)
        st.session_state.logs = {}
        st.session_state.generation = 0


def document() -> Document:
    """Return the present document; change it by `change`, `put` or `replace` only."""
    found: Document = st.session_state.document
    return found


def case_or_stop(complain: Callable[[str], object] = st.error) -> Case:
    """Return the checked case; where it is wrong, `complain` of all that is wrong and end the page there."""
    try:
        return load_case(document())
    except CaseError as error:
        complain(
            "This case cannot be computed as it stands. Mend what is named here; until then the address keeps the last "
            "case that could be.\n\n" + prose.points(str(fault) for fault in error.faults)
        )
        st.stop()


def change(section: str, key: str, value: Any) -> None:
    """Put one value into the document, or take it out (None)."""
    changed = copy.deepcopy(document())
    part = changed.setdefault(section, {})
    if value is None:
        part.pop(key, None)
    else:
        part[key] = value
    if not part:
        del changed[section]
    _take(changed)


def put(key: str, value: Any) -> None:
    """Put one entry at the top of the document, such as the fuel."""
    _take(copy.deepcopy(document()) | {key: value})


def try_put(key: str, value: Any) -> tuple[str, ...]:
    """Put one entry at the top of the document if the case can be computed with it; else return what is wrong."""
    changed = copy.deepcopy(document()) | {key: value}
    try:
        load_case(changed)
    except CaseError as error:
        return tuple(str(fault) for fault in error.faults)
    _take(changed)
    return ()


def replace(found: Document) -> None:
    """Take another document as the case, and let the widgets be filled from it anew."""
    _take(found)
    st.session_state.generation += 1


def load_upload(data: bytes, name: str) -> tuple[str, ...]:
    """Take an uploaded case file; return what is wrong with it, in which case the present case stays."""
    try:
        found = parse_document(data.decode("utf-8-sig"), name)
        held = st.session_state.logs.get(link.missing_log(found))
        found = found if held is None else link.with_log(found, held)
        load_case(found)
    except UnicodeDecodeError:
        return (str(Fault(name, "is not UTF-8 text")),)
    except CaseError as error:
        return tuple(str(fault) for fault in error.faults)
    replace(found)
    return ()


def demo(name: str) -> Document:
    """Return the document of a demo case."""
    return parse_document(demo_cases()[name].read_text("utf-8"), name)


def _take(found: Document) -> None:
    st.session_state.document = found
    st.session_state.link_faults = ()
    st.session_state.awaited = None
    text = link.own_log(found)
    if text is not None:
        st.session_state.logs[link.log_digest(text)] = text
