"""The long work, kept by content: the same case, draws, seed and tables are never computed twice. The one cached file."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import CancelledError, wait
from typing import Any

import streamlit as st

from app.session.work import Desk, Task
from app.shown import prose
from screening.errors import ScreeningError
from screening.judgement.case.case import Case
from screening.judgement.choice.screening import Screening, screen
from screening.judgement.choice.what_if import Change, what_if
from screening.records.liquids.open_tables import read_all_tables
from screening.records.tables.package import data_digest

FIRST_DRAWS, FULL_DRAWS = 250, 1000
_LOOK_EVERY = 2.0
"""Seconds between two looks at a refinement under way."""
Key = tuple[str, str, str, int, int]


@st.cache_resource(show_spinner=False)
def _desk() -> Desk:
    read_all_tables()  # so that the first answer need not wait for them
    return Desk(2)


def prepare() -> None:
    """Make ready for several threads; the first session of a server waits for it."""
    _desk()


def _key(case: Case, draws: int, seed: int) -> Key:
    return ("ranking", case.digest, data_digest(), draws, seed)


def known_result(case: Case, draws: int, seed: int = 0) -> Screening | None:
    """Return the result if it is kept."""
    found: Screening | None = _desk().known(_key(case, draws, seed))
    return found


def _ranking(case: Case, draws: int, seed: int = 0, later: bool = False) -> Task:
    return _desk().ask(_key(case, draws, seed), lambda tell: screen(case, draws, seed, tell), later)


def best_known(case: Case) -> Screening | None:
    """Return the full result, or else the first answer, or None."""
    return known_result(case, FULL_DRAWS) or known_result(case, FIRST_DRAWS)


def result_or_stop(case: Case) -> Screening:
    """Return the best result there is for a page: the full one, else a first answer, computed with progress shown; where
    the case cannot be computed, say why and end the page there."""
    _let_go_of_former(case)
    found = best_known(case)
    if found is not None:
        return found
    bar = st.progress(0.0, text="Starting (the very first run compiles its kernels: about a minute, once)")
    try:
        answer: Screening = _awaited(
            lambda: _ranking(case, FIRST_DRAWS), lambda task: bar.progress(task.share, text=task.doing)
        )
    except ScreeningError as error:
        st.error(f"This case cannot be computed: {prose.told(str(error))}")
        st.stop()
    finally:
        bar.empty()
    return answer


def _let_go_of_former(case: Case) -> None:
    """Let the ranking of the case this session showed before go, if it is still under way."""
    former: Case | None = st.session_state.get("ranked_case")
    if former is not None and former.digest != case.digest:
        for draws in (FIRST_DRAWS, FULL_DRAWS):
            _desk().release(_key(former, draws, 0))
    st.session_state.ranked_case = case


def _awaited(ask: Callable[[], Task], show: Callable[[Task], object]) -> Any:
    """Result of the work; asked for again all the while, so that the work knows it is waited for."""
    while True:
        task = ask()
        done, _ = wait([task.future], timeout=0.15)
        if not done:
            show(task)
            continue
        try:
            return task.future.result()
        except CancelledError:  # it had been given up just before we asked
            time.sleep(0.05)


def refinement(case: Case, shown: Screening) -> None:
    """Draw how far the refinement of a first answer is, and put the full result in its place when it is there."""
    if shown.draws >= FULL_DRAWS:
        return
    _refining(case)


@st.fragment(run_every=_LOOK_EVERY)
def _refining(case: Case) -> None:
    if known_result(case, FULL_DRAWS) is not None:
        st.rerun()
    former: Task | None = st.session_state.get("refining")
    if former is not None and former.failed_for(_key(case, FULL_DRAWS, 0)):
        st.caption(f"It could not be refined: {prose.told(str(former.future.exception()))}")
        return
    task = st.session_state.refining = _ranking(case, FULL_DRAWS, later=True)
    st.progress(task.share, text=f"Refining with {FULL_DRAWS:,} draws: {task.doing.lower()}. Go on meanwhile.")


def changes_of(case: Case, material: str) -> tuple[Change, ...]:
    """Changes with which one material would last, kept by content."""
    key = ("changes", case.digest, data_digest(), material)
    with st.spinner("Computing each change"):
        found: tuple[Change, ...] = _awaited(
            lambda: _desk().ask(key, lambda tell: what_if(case, material, draws=128)), lambda task: None
        )
    return found
