"""The JSON document: strict, complete, and null with a bound where a time lies beyond the horizon."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import pytest

from screening import load_case, report_json, screen
from screening.judgement.choice.screening import Screening
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.package import table_digests
from screening.report.shortlist.measure_next import measure_rows, plain_name

SOME = ("abs", "peek", "pp")


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("metal_cap_blend"), 64, materials=SOME)


@pytest.fixture(scope="module")
def document(result: Screening) -> dict[str, Any]:
    def refuse(word: str) -> float:
        raise AssertionError(f"{word} is not JSON")

    found: dict[str, Any] = json.loads(report_json(result), parse_constant=refuse)
    return found


def numbers(value: object) -> Iterator[float]:
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, float):
        yield value


def test_holds_numbers_only_and_comes_back_the_same(document: dict[str, Any]) -> None:
    assert all(math.isfinite(number) for number in numbers(document))
    assert json.loads(json.dumps(document)) == document


def test_same_case_draws_and_seed_give_the_same_text(result: Screening) -> None:
    assert report_json(screen(load_case("metal_cap_blend"), 64, materials=SOME)) == report_json(result)


def test_a_time_beyond_the_horizon_is_null_and_said_to_be_a_bound(result: Screening, document: dict[str, Any]) -> None:
    beyond = 0
    for story in (*result.stories.values(), result.baseline):
        for name, times in story.times.items():
            if story is result.baseline:
                continue
            told = document["materials"][story.material.id]["times"][name]
            ends = [told[key] for key in ("p05_s", "p50_s", "p95_s")]
            assert told["is_lower_bound"] == (None in ends)
            assert told["share_within_horizon"] == pytest.approx(float((times < math.inf).mean()), abs=1e-4)
            beyond += told["is_lower_bound"]
    assert beyond > 0
    for row in (*document["shortlist"], document["baseline"]):
        assert row["is_lower_bound"] == (None in (row["plan_for_s"], row["median_s"], row["late_s"]))
    assert document["baseline"]["is_lower_bound"]


def test_holds_what_it_rests_on(result: Screening, document: dict[str, Any]) -> None:
    assert document["table_digests"] == table_digests()
    assert {"assumptions", "sources", "properties"} <= set(document["table_digests"])
    assert (document["draws"], document["seed"]) == (64, 0)
    told = {row["name"]: row for row in document["assumptions"]}
    assert told["crankcase"]["unit"] == "K"
    assert told["crankcase"]["typical"] == load_assumptions()["crankcase"].typical
    assert "speed" not in told, "the case gives it"
    cited = {row["source"] for row in document["assumptions"]}
    for id in SOME:
        story = document["materials"][id]
        assert {"density", "glass_transition"} <= set(story["values"])
        cited |= {value["source"] for value in story["values"].values()}
        assert [row["name"] for row in story["influences"]] == [i.name for i in result.material(id).influences]
    assert cited <= set(document["sources"])


def test_an_assumption_is_used_until_the_case_gives_the_value(document: dict[str, Any]) -> None:
    bare = load_case(
        {
            "format": "polymer-piston-case",
            "version": 1,
            "engine": {"displacement_cc": 98},
            "fuel": "petrol E0",
            "head": {"reading_C": 90},
        }
    )
    used = {row.name for row in screen(bare, 10, materials=("abs",)).assumptions}
    told = {row["name"] for row in document["assumptions"]}
    assert {"speed", "compression_ratio", "bore_to_stroke", "nozzle", "bore_warm_up_time", "throttled_charge"} <= used
    assert {"bore_to_stroke", "nozzle", "bore_warm_up_time"}.isdisjoint(told)
    assert "burn_error" in told
    assert "burn_error" not in used


def test_each_of_the_ten_items_told_says_how_it_is_known() -> None:
    story = screen(load_case("petrol_baseline"), 400, materials=["abs"]).material("abs")
    rows = measure_rows(story)
    assert rows
    assert [row["input"] for row in rows] == [plain_name(i.name) for i in story.influences[:10]]
    assert all(row["how it is known"] for row in rows)
    assert plain_name("abs.tensile_strength") == "the material: tensile strength"
