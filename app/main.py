"""The app's entry: puts the project on the path, keeps case and address together, and routes to the pages.

python -m streamlit run app/main.py
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

import streamlit as st  # noqa: E402

from app.inputs import widgets  # noqa: E402
from app.session import address, case_state, compute  # noqa: E402

PAGES = (
    ("shortlist.py", "Shortlist", "shortlist"),
    ("material.py", "One material", "material"),
    ("fuel.py", "Fuel", "fuel"),
    ("contact.py", "Fuel on polymers", "contact"),
    ("proof.py", "Proof and book", "proof"),
    ("gun_and_log.py", "Gun and log", "gun"),
    ("data.py", "Data", "data"),
)


def main() -> None:
    """Draw the frame and run the page that was chosen."""
    st.set_page_config(page_title="Polymer Piston Screening", page_icon="🔥", layout="wide")
    compute.prepare()
    case_state.begin()
    address.follow()  # before the navigation, so that another page and its query become one entry of the history
    folder = Path(__file__).parent / "app_pages"
    page = st.navigation(
        [
            st.Page(folder / file, title=title, url_path=path, default=file == "shortlist.py")
            for file, title, path in PAGES
        ],
        position="top",
    )
    st.set_page_config(page_title=f"{page.title} - Polymer Piston Screening")
    widgets.frame()
    page.run()


main()
