"""An answer is kept by all that it depends on: case, draws, seed and tables."""

from __future__ import annotations

import pytest
from judgement.spied_cases import GIVEN

from app.session import compute
from screening import load_case
from screening.judgement.case.case import Case

TARGET = GIVEN | {"operation": GIVEN["operation"] | {"target_run_s": 4322}}


def kept_by(case: Case, draws: int = 250, seed: int = 0) -> object:
    return compute._key(case, draws, seed)


def test_another_case_number_of_draws_or_seed_is_another_answer() -> None:
    case = load_case(GIVEN)
    assert kept_by(case) == kept_by(load_case(GIVEN))
    others = [kept_by(load_case(TARGET)), kept_by(case, 1000), kept_by(case, 250, 1)]
    assert kept_by(case) not in others
    assert len(set(others)) == 3


def test_other_tables_are_another_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    before = kept_by(load_case(GIVEN))
    monkeypatch.setattr(compute, "data_digest", lambda: "other tables")
    assert kept_by(load_case(GIVEN)) != before
