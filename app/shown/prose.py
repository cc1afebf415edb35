"""Texts of the case and the judgement as the pages show them: letter by letter, in the chosen unit."""

from __future__ import annotations

import re
from collections.abc import Iterable

import streamlit as st

from app.shown import shown_units
from screening.sentences import Quantity, Text, worded

_MARKUP = re.compile(r"[\\`*\[\]<>$~]|^[#+-]|(?<!\w)_|_(?!\w)|:(?=\S)")
"""Signs that Markdown would act on: emphasis, code, links, HTML, formulas, headings, lists, and names between colons."""


def plain(text: str) -> str:
    """Return text that Markdown shows letter by letter: what a person typed stays text, links nowhere, loads nothing."""
    return _MARKUP.sub(lambda sign: "\\" + sign[0], " ".join(text.split()))


def words(text: Text | Quantity) -> str:
    """Return a text in the chosen unit."""
    return worded(text, shown_units.units())


def told(text: Text | Quantity) -> str:
    """Return a text in the chosen unit, for Markdown."""
    return plain(words(text))


def points(texts: Iterable[Text]) -> str:
    """Return texts as a list in Markdown."""
    return "\n".join(f"- {told(text)}" for text in texts)


def listed(texts: Iterable[Text], nothing: str = "") -> None:
    """Draw texts as a list."""
    text = points(texts)
    if text or nothing:
        st.markdown(text or nothing)
