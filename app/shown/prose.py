"""Texts of the case and the judgement as the pages show them: letter by letter, in the chosen unit."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

import streamlit as st

from app.shown import shown_units
from screening.records.tables.sources import load_sources
from screening.sentences import Text, Units, worded

_MARKUP = re.compile(r"[\\`*\[\]<>$~]|^[#+-]|(?<!\w)_|_(?!\w)|:(?=\S)")
"""Signs that Markdown would act on: emphasis, code, links, HTML, formulas, headings, lists, and names between colons."""

_ID = re.compile(r"\b[a-z][a-z0-9]*(?:_[a-z0-9]+)+\b")


def plain(text: str) -> str:
    """Return text that Markdown shows letter by letter: what a person typed stays text, links nowhere, loads nothing."""
    return _MARKUP.sub(lambda found: "\\" + found[0], " ".join(text.split()))


def words(text: Text) -> str:
    """Return a text in the chosen unit, with sources by author and year in place of their ids."""
    return _ID.sub(
        lambda found: _short_names().get(found[0], found[0]),
        shown_units.told(worded(text, Units(shown_units.chosen()))),
    )


def told(text: Text) -> str:
    """Return a text as `words` gives it, for Markdown."""
    return plain(words(text))


@lru_cache(maxsize=1)
def _short_names() -> dict[str, str]:
    return {id: source.short for id, source in load_sources().items()}


def points(texts: Iterable[Text]) -> str:
    """Return texts as a list in Markdown."""
    return "\n".join(f"- {told(text)}" for text in texts)


def listed(texts: Iterable[Text], nothing: str = "") -> None:
    """Draw texts as a list."""
    found = points(texts)
    if found or nothing:
        st.markdown(found or nothing)
