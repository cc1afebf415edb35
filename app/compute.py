"""The long work, kept by content: the same case, draws, seed and tables are never computed twice. The one cached file."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable

import streamlit as st

from screening.errors import ScreeningError
from screening.judgement.case import Case
from screening.judgement.screening import Screening, screen
from screening.judgement.what_if import Change, what_if
from screening.records.package import data_digest

FIRST_DRAWS, FULL_DRAWS = 250, 1000
_MOST_KEPT = 8
Key = tuple[str, str, int, int]


class _Shelf:
    """The last few results, shared by all sessions, and a lock: one ranking at a time keeps two cores busy."""

    def __init__(self) -> None:
        self.kept: OrderedDict[Key, Screening] = OrderedDict()
        self.busy = threading.Lock()


@st.cache_resource
def _shelf() -> _Shelf:
    return _Shelf()


def _key(case: Case, draws: int, seed: int) -> Key:
    return (case.digest, data_digest(), draws, seed)


def known_result(case: Case, draws: int, seed: int = 0) -> Screening | None:
    """Return the result if it is on the shelf."""
    return _shelf().kept.get(_key(case, draws, seed))


def ranked(case: Case, draws: int, seed: int = 0, tell: Callable[[float, str], object] | None = None) -> Screening:
    """Return the result, from the shelf or computed; `tell` hears a share done and what is being done."""
    shelf, key = _shelf(), _key(case, draws, seed)
    with shelf.busy:
        if key not in shelf.kept:
            shelf.kept[key] = screen(case, draws, seed, tell)
            while len(shelf.kept) > _MOST_KEPT:
                shelf.kept.popitem(last=False)
        shelf.kept.move_to_end(key)
        return shelf.kept[key]


def result_or_stop(case: Case) -> Screening:
    """Return the best result there is for a page: the full one, else a first answer, computed with progress shown; where
    the case cannot be computed, say why and end the page there."""
    full = known_result(case, FULL_DRAWS)
    if full is not None:
        return full
    first = known_result(case, FIRST_DRAWS)
    if first is not None:
        return first
    bar = st.progress(0.0, text="Starting (the very first run compiles its kernels: about a minute, once)")
    try:
        found = ranked(case, FIRST_DRAWS, tell=lambda share, text: bar.progress(min(share, 1.0), text=text))
    except ScreeningError as error:
        st.error(f"This case cannot be computed: {error}")
        st.stop()
    finally:
        bar.empty()
    return found


@st.cache_data(max_entries=64, show_spinner="Computing each change")
def changes(case_digest: str, data: str, material: str, _case: Case) -> tuple[Change, ...]:
    """Return what would have to change for one material."""
    return what_if(_case, material, draws=128)


def changes_of(case: Case, material: str) -> tuple[Change, ...]:
    """Return what would have to change for one material, kept by content."""
    with _shelf().busy:
        return changes(case.digest, data_digest(), material, case)
