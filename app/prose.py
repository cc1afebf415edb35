"""Texts of the case and the judgement as the pages show them: letter by letter, in the chosen unit."""

from __future__ import annotations

import re
from collections.abc import Iterable

import streamlit as st

from app import shown_units

_MARKUP = re.compile(r"[\\`*\[\]<>$~]|^[#+-]|(?<!\w)_|_(?!\w)|:(?=\S)")
"""Signs that Markdown would act on: emphasis, code, links, HTML, formulas, headings, lists, and names between colons."""


def plain(text: str) -> str:
    """Return text that Markdown shows letter by letter: what a person typed stays text, links nowhere, loads nothing."""
    return _MARKUP.sub(lambda found: "\\" + found[0], " ".join(text.split()))


def told(text: str) -> str:
    """Return a text in the chosen unit, for Markdown."""
    return plain(shown_units.told(text))


def points(texts: Iterable[str]) -> str:
    """Return texts as a list in Markdown."""
    return "\n".join(f"- {told(text)}" for text in texts)


def listed(texts: Iterable[str], nothing: str = "") -> None:
    """Draw texts as a list."""
    found = points(texts)
    if found or nothing:
        st.markdown(found or nothing)
