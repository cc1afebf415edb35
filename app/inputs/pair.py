"""The pair of material and fuel that a person looks at, and its place in the address: `material` and `fuel` of the query."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from app.session.history import came_by_history
from app.shown import prose
from screening.errors import UnknownName
from screening.judgement.case.case import Case
from screening.judgement.contact.contact_story import liquid_asked
from screening.records.liquids.find_fuel import Fuel

MATERIAL, FUEL = "material", "fuel"
FIRST_MATERIAL = "abs"
LONGEST_FUEL = 300
"""Letters a fuel may have, as in the case file."""
Pair = tuple[str, str | None]


def follow(ids: Sequence[str]) -> None:
    """Take the pair of the address where a person moved there; say what is wrong with it and keep the rest."""
    asked = (st.query_params.get(MATERIAL), st.query_params.get(FUEL))
    if "pair" not in st.session_state:
        st.session_state.pair, st.session_state.pairs_written = (FIRST_MATERIAL, None), []
        moved = True
    else:
        moved = came_by_history() or asked not in st.session_state.pairs_written
    if not moved or asked == (None, None):
        return
    material, fuel = asked
    if material is not None and material not in ids:
        st.error(prose.plain(str(UnknownName(MATERIAL, material, ids))) + " The material shown is another.")
        material = None
    st.session_state.pair = (material or st.session_state.pair[0], (fuel or "")[:LONGEST_FUEL].strip() or None)
    _remember(asked)


def material() -> str:
    """Return the material that is looked at."""
    found: str = st.session_state.pair[0]
    return found


def fuel_text(case: Case) -> str:
    """Return the fuel that is looked at as it was written; the case's own where none was."""
    return st.session_state.pair[1] or case.fuel.name


def fuel(case: Case) -> Fuel:
    """Return the fuel that is looked at; what cannot be understood raises."""
    text = fuel_text(case)
    return case.fuel if text == case.fuel.name else liquid_asked(text)


def choose(material: str | None = None, fuel: str | None = None) -> None:
    """Look at another material, another fuel, or both."""
    kept = st.session_state.pair
    st.session_state.pair = (material or kept[0], (fuel or "").strip()[:LONGEST_FUEL] or kept[1])


def write(case: Case) -> None:
    """Write the pair into the address, once a person has chosen one."""
    pair: Pair = st.session_state.pair
    if pair == (FIRST_MATERIAL, None):
        return
    shown = (pair[0], fuel_text(case))
    if (st.query_params.get(MATERIAL), st.query_params.get(FUEL)) != shown:
        _remember(shown)
        st.query_params.update({MATERIAL: shown[0], FUEL: shown[1]})  # at once: one entry of the history


def _remember(pair: tuple[str | None, str | None]) -> None:
    st.session_state.pairs_written = [*st.session_state.pairs_written, pair][-50:]
