"""What goes out: case file, table, document, page and link."""

from __future__ import annotations

import json

import streamlit as st

from app import case_state, link
from screening.judgement.case import Case
from screening.judgement.screening import Screening
from screening.report.shortlist_text import shortlist_csv


def downloads(case: Case, result: Screening) -> None:
    """Draw the downloads, the link and the upload."""
    first, second, third, fourth = st.columns(4)
    text = json.dumps(case.to_dict(), indent=2, ensure_ascii=False) + "\n"
    first.download_button("Case file", text, "case.json", "application/json", width="stretch")
    second.download_button("Table (CSV)", shortlist_csv(result), "shortlist.csv", "text/csv", width="stretch")
    third.download_button("All numbers (JSON)", result.to_json(), "shortlist.json", "application/json", width="stretch")
    fourth.download_button("Page (HTML)", result.to_html(), "shortlist.html", "text/html", width="stretch")
    packed = link.encoded(case.to_dict())
    if packed is None:
        st.markdown("This case is too long for a link: share the case file.")
    else:
        st.markdown("Add this to the app's address to open the same case (a log of your own does not travel in it):")
        st.code(f"?{link.PARAMETER}={packed}", language=None, wrap_lines=True)
    upload = st.file_uploader("Open a case file", type="json")
    if upload is not None and st.session_state.get("last_upload") != case_state.digest(upload.getvalue()):
        st.session_state.last_upload = case_state.digest(upload.getvalue())
        faults = case_state.load_upload(upload.getvalue(), upload.name)
        if faults:
            st.error("That case cannot be used; the present one stays.\n\n" + "\n".join(f"- {f}" for f in faults))
        else:
            st.rerun()
