"""A case file: every fault at once, each with its key and what would be right."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from screening.errors import CaseError
from screening.judgement.case_file import case_schema, demo_cases, load_case, save_case

SMALLEST: dict[str, Any] = {
    "format": "polymer-piston-case",
    "version": 1,
    "engine": {"displacement_cc": 98},
    "fuel": "ethanol",
    "head": {"reading_C": 65},
}


def faults(document: object) -> str:
    with pytest.raises(CaseError) as caught:
        load_case(document)  # type: ignore[arg-type]
    return "\n".join(str(fault) for fault in caught.value.faults)


def with_changes(**sections: Any) -> dict[str, Any]:
    return copy.deepcopy(SMALLEST) | sections


def test_smallest_case_stands() -> None:
    case = load_case(SMALLEST)
    assert case.engine.bore == pytest.approx(0.0547, abs=0.003)
    assert not case.is_given("engine", "speed_rpm")


def test_five_faults_are_listed_at_once() -> None:
    said = faults(
        with_changes(
            engine={"displacement_cc": 98000, "strokes": 2, "bor_mm": 5},
            operation={"burned_mL": "x"},
            printer={"dryer": 1},
        )
    )
    for part in ("displacement_cc: got 98000", "only four-stroke", "unknown key", "burned_mL", "printer.dryer"):
        assert part in said


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"fuel": "etanol"}, "nearest known: ethanol"),
        ({"head": {}}, "head: must give either reading_C or log"),
        ({"head": {"reading_C": 60, "surface": "bare_cast_aluminum"}}, "nearest known: bare_cast_aluminium"),
        ({"operation": {"burned_mL": 5}}, "burn_duration_s: missing"),
        ({"operation": {"burned_mL": 5, "burn_duration_s": 60, "throttle": 0.5}}, "operation.throttle"),
        ({"piston": {"build": "metal cap"}}, "crown_layers"),
        ({"head": {"log": {"digest": "0" * 64}}}, "is not here; open"),
        ({"version": 9}, "reads up to 1"),
        ({"own_materials": [{"id": "abs", "name": "x", "based_on": "abs", "values": {}}]}, "taken"),
    ],
)
def test_what_a_schema_cannot_say(change: dict[str, Any], said: str) -> None:
    assert said in faults(with_changes(**change))


def numbers() -> list[tuple[str, str, float, float]]:
    found = []
    for section, part in case_schema()["properties"].items():
        for key, field in part.get("properties", {}).items():
            if field.get("type") == "number":
                found.append((section, key, field["minimum"], field["maximum"]))
    return found


@pytest.mark.parametrize(("section", "key", "low", "high"), numbers())
def test_each_number_is_held_to_its_interval(section: str, key: str, low: float, high: float) -> None:
    for bad in (low - 1, high + 1, "text", True, None):
        document = with_changes()
        document[section] = document.get(section, {}) | {key: bad}
        assert f"{section}.{key}" in faults(document)


@pytest.mark.parametrize("text", ["", "[1]", "{", '{"a": NaN}', "\x00", '"x"'])
def test_no_json_is_one_clear_fault(text: str, tmp_path: Path) -> None:
    path = tmp_path / "case.json"
    path.write_text(text)
    assert str(path) in faults(path)


@pytest.mark.parametrize("name", list(demo_cases()))
def test_saved_and_read_again(name: str, tmp_path: Path) -> None:
    case = load_case(name)
    save_case(case, tmp_path / "case.json")
    assert load_case(tmp_path / "case.json") == case
    assert json.loads((tmp_path / "case.json").read_text("utf-8")) == case.to_dict()
