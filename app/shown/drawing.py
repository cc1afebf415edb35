"""Drawings of the report on the app's pages."""

from __future__ import annotations

import streamlit as st
from markupsafe import Markup

from screening.report.parts.page_style import drawing_style


def show(drawing: Markup) -> None:
    """Draw a drawing, which carries its title and description itself, over the whole width.

    It goes the way of Markdown, whose HTML keeps drawings; one line without a break is one block of it.
    """
    st.markdown(f"<div><style>{drawing_style()}</style>{drawing}</div>", unsafe_allow_html=True)
