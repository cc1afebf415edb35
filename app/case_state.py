"""The one case that all pages show: a document in the session, and the checked case made from it."""

from __future__ import annotations

import copy
import hashlib
from typing import Any

import streamlit as st

from app import link
from screening.errors import CaseError, Fault
from screening.judgement.case import Case
from screening.judgement.case_file import demo_cases, load_case, parse_document

DEFAULT_DEMO = "cyclopentanone_blend"
Document = dict[str, Any]


def read_link_once() -> None:
    """Take the case from the link that opened the app, or the demo case; only at the first run of a session."""
    if "document" in st.session_state:
        return
    st.session_state.document = _demo(DEFAULT_DEMO)
    st.session_state.link_faults = ()
    packed = st.query_params.get(link.PARAMETER)
    if packed:
        try:
            document = link.decoded(packed)
            load_case(document)
            st.session_state.document = document
        except CaseError as error:
            st.session_state.link_faults = tuple(str(fault) for fault in error.faults)
        del st.query_params[link.PARAMETER]


def document() -> Document:
    """Return the present document; change it by `change` only."""
    found: Document = st.session_state.document
    return found


def case_or_stop() -> Case:
    """Return the checked case; where it is wrong, say all that is wrong and end the page there."""
    try:
        return load_case(document())
    except CaseError as error:
        st.error("The case cannot be computed as it stands:\n\n" + "\n".join(f"- {fault}" for fault in error.faults))
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
    st.session_state.document = changed


def put(key: str, value: Any) -> None:
    """Put one entry at the top of the document, such as the fuel."""
    st.session_state.document = copy.deepcopy(document()) | {key: value}


def replace(found: Document) -> None:
    """Take another document as the case, and let the widgets be filled from it anew."""
    st.session_state.document = found
    st.session_state.generation = st.session_state.get("generation", 0) + 1


def load_demo(name: str) -> None:
    """Take a demo case."""
    replace(_demo(name))


def load_upload(data: bytes, name: str) -> tuple[str, ...]:
    """Take an uploaded case file; return what is wrong with it, in which case the present case stays."""
    try:
        found = parse_document(data.decode("utf-8-sig"), name)
        load_case(found)
    except UnicodeDecodeError:
        return (str(Fault(name, "is not UTF-8 text")),)
    except CaseError as error:
        return tuple(str(fault) for fault in error.faults)
    replace(found)
    return ()


def digest(data: bytes) -> str:
    """SHA-256 of uploaded bytes."""
    return hashlib.sha256(data).hexdigest()


def _demo(name: str) -> Document:
    return parse_document(demo_cases()[name].read_text("utf-8"), name)
