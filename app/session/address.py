"""The browser's address always stands for the present case, so that Back, reload and a new tab keep every edit.

Only the entry file calls this. A bare address stands for the demo case. A log of the user's own never enters the address:
it is named by its digest, known within the session, and asked for elsewhere.
"""

from __future__ import annotations

import streamlit as st

from app.session import case_state, link
from app.session.history import came_by_history
from screening.errors import CaseError
from screening.judgement.case.case_file import load_case

_MOST_KEPT = 200


def follow() -> None:
    """Before a page runs: take the case from the address where a person moved there, else write the case into it."""
    asked = st.query_params.get(link.PARAMETER)
    is_first = "written" not in st.session_state
    if is_first:
        st.session_state.written = None
        st.session_state.known = {}
    if _moved(asked, is_first):
        _read(asked)
    _write(asked)


def _moved(asked: str | None, is_first: bool) -> bool:
    """Return whether the address is a person's doing. What this session wrote itself may come back late: a second edit
    can leave the browser before the first one's address has reached it."""
    if is_first:
        return asked is not None
    if came_by_history():
        return asked != st.session_state.written
    return asked is not None and asked != st.session_state.written and asked not in st.session_state.known


def _read(asked: str | None) -> None:
    """Take the case in the address; where it is no good, say so and show the demo case."""
    faults: tuple[str, ...] = ()
    awaited = None
    document = case_state.demo(case_state.DEFAULT_DEMO)
    if asked in st.session_state.known:
        document = st.session_state.known[asked]
    elif asked is not None:
        try:
            found = link.decoded(asked)
            digest = link.missing_log(found)
            if digest in st.session_state.logs:
                found = link.with_log(found, st.session_state.logs[digest])
            elif digest is not None:
                awaited, found = found, link.with_log(found, {"bundled": "petrol_baseline_log"})  # a stand-in to check
            load_case(found)
            document = document if awaited else found
        except CaseError as error:
            faults, awaited = tuple(str(fault) for fault in error.faults), None
    case_state.replace(document)
    st.session_state.link_faults = faults
    st.session_state.awaited = awaited
    st.session_state.written = asked


def _write(asked: str | None) -> None:
    """Write the present case into the address, once it can be computed; a case that was not touched needs none."""
    if st.session_state.get("link_faults") or st.session_state.get("awaited"):
        return
    document = case_state.document()
    if asked is None and st.session_state.written is None and document == case_state.demo(case_state.DEFAULT_DEMO):
        return
    query = link.for_address(link.without_own_log(document))
    known = st.session_state.known
    if query not in known:
        try:
            load_case(document)
        except CaseError:
            query = st.session_state.written
        else:
            known[query] = document
            while len(known) > _MOST_KEPT:
                del known[next(iter(known))]
    st.session_state.written = query
    if query is not None and query != asked:
        st.query_params[link.PARAMETER] = query
