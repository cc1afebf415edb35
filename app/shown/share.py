"""What goes out: case file, table, document, page and link; and what comes in."""

from __future__ import annotations

import hashlib
import json

import streamlit as st

from app.session import case_state, link
from app.shown import prose, shown_units
from screening.judgement.case.case import Case
from screening.judgement.choice.screening import Screening
from screening.report.shortlist.document import report_json
from screening.report.shortlist.page import report_html
from screening.report.shortlist.shortlist_text import shortlist_csv


def downloads(case: Case, result: Screening) -> None:
    """Draw the downloads, the link and the upload."""
    first, second, third, fourth = st.columns(4)
    units = shown_units.units()  # asked here: what a button makes is made outside the session
    text = json.dumps(case.to_dict(), indent=2, ensure_ascii=False) + "\n"
    first.download_button("Case file", text, "case.json", "application/json", width="stretch", on_click="ignore")
    second.download_button("Table (CSV)", lambda: shortlist_csv(result), "shortlist.csv", "text/csv", width="stretch",
                           on_click="ignore")  # fmt: skip
    third.download_button("All numbers (JSON)", lambda: report_json(result), "shortlist.json", "application/json", width="stretch",
                          on_click="ignore")  # fmt: skip
    fourth.download_button("Page to share (HTML)", lambda: report_html(result, units), "shortlist.html", "text/html", width="stretch",
                           on_click="ignore")  # fmt: skip
    _link(case)
    upload = st.file_uploader("Open a case file", type="json")
    if upload is None:
        return
    data = upload.getvalue()
    digest = hashlib.sha256(data).hexdigest()
    if st.session_state.get("last_upload") != digest:
        st.session_state.last_upload = digest
        st.session_state.upload_faults = case_state.load_upload(data, upload.name)
        if not st.session_state.upload_faults:
            st.rerun()
    faults = st.session_state.get("upload_faults", ())
    if faults:
        st.error("That case cannot be used; the present one stays.\n\n" + prose.points(faults))
    else:
        st.success("The case of this file was taken.")


def _link(case: Case) -> None:
    """Show the whole address that opens this case, or say why the case file has to do."""
    document = case.to_dict()
    packed = link.encoded(link.without_own_log(document))
    if packed is None:
        st.info("This case is too long for a link that every program passes on whole: share the case file.")
        return
    st.markdown("**Link to this case**, for whoever can reach this address (for others: the case file):")
    base = (st.context.url or "").rstrip("/")
    st.code(f"{base}/?{link.PARAMETER}={packed}", language=None, wrap_lines=True)
    if link.own_log(document) is not None:
        st.info(
            "Your own run log does not travel in the link: whoever opens it is asked for the log. The case file holds it."
        )
