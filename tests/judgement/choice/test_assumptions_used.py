"""What an answer rests on: each row of the table of assumptions says when it is drawn and what uses it, and the code agrees."""

from __future__ import annotations

import ast
import sys
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

import screening
from screening import load_case
from screening.judgement.choice.assumed import assumptions_used
from screening.judgement.draws.conditions import draw_conditions
from screening.records.tables.assumptions import Assumption, load_assumptions

SOURCE = Path(screening.__file__).parent
CASES = ("petrol_baseline", "metal_cap_blend", "cyclopentanone_blend")


def named_in(folder: str) -> set[str]:
    """Return the rows of the table that the code of a folder names."""
    words = {
        node.value
        for path in (SOURCE / folder).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant)
    }
    return words & set(load_assumptions())


def rows(**columns: str) -> set[str]:
    """Return the names of the rows with these entries."""
    return {
        row.name for row in load_assumptions().values() if all(getattr(row, key) == is_ for key, is_ in columns.items())
    }


def used(case: str | dict[str, object]) -> set[str]:
    checked = load_case(case)
    return {row.name for row in assumptions_used(checked, draw_conditions(checked, 8))}


def test_each_row_is_used_by_what_the_table_says() -> None:
    """A row that the contact alone takes says so; so does one of the log, and each polymer's are its strength's and heat's."""
    drawn_for_all = rows(drawn="always") | rows(drawn="by the case")
    assert named_in("judgement/contact") - drawn_for_all == rows(used_by="contact")
    assert named_in("judgement/head") - drawn_for_all == rows(used_by="log") | rows(used_by="gun")
    assert rows(drawn="each polymer") <= named_in("judgement/draws")
    assert rows(used_by="weighed heat") | rows(used_by="single cycle") <= named_in("judgement/cylinder")


@pytest.mark.parametrize("case", CASES)
def test_what_is_always_drawn_or_used_counts_in_every_case(case: str) -> None:
    every = (rows(drawn="always") - {"bore_warm_up_time"}) | rows(drawn="each polymer") | rows(used_by="contact")
    assert every | rows(drawn="never", used_by="run") <= used(case)
    assert not used(case) & (rows(used_by="gun") | rows(used_by="single cycle"))


def test_what_the_case_gives_is_not_assumed() -> None:
    document = load_case("petrol_baseline").to_dict()
    document["engine"] |= {"speed_rpm": 3000, "compression_ratio": 8.0}
    document["operation"] = {"throttle": 0.5, "ambient_C": 15}
    document["head"] = {"reading_C": 90, "surface": "matt_black_paint"}
    document["printer"] = {"nozzle_C": 280}
    given = {"speed", "compression_ratio", "ambient", "throttled_charge", "burn_error", "nozzle"}
    left_out = {"bed", "chamber", "bore_warm_up_time", "equivalence_ratio"}
    assert not used(document) & (given | rows(used_by="log"))
    assert left_out <= used(document)


def test_a_row_added_to_the_table_is_drawn_without_code(monkeypatch: pytest.MonkeyPatch) -> None:
    speed = load_assumptions()["speed"]
    row = Assumption("lean_of_the_bench", 1.0, 2.0, 4.0, "rad", "lognormal", "always", "run", "lean", speed.source,
                     speed.how, "")  # fmt: skip
    table = MappingProxyType({**load_assumptions(), row.name: row})
    for module in ("draws.conditions", "choice.assumed"):
        monkeypatch.setattr(sys.modules[f"screening.judgement.{module}"], "load_assumptions", lambda: table)
    case = load_case("petrol_baseline")
    conditions = draw_conditions(case, 400)
    assert row.name in conditions.values
    assert np.median(conditions[row.name]) == pytest.approx(2.0, rel=0.01)
    assert row in assumptions_used(case, conditions)
