"""The inputs in words: each key by its title, each number in the unit chosen, nothing that a person typed acted on."""

from __future__ import annotations

from typing import Any

import pytest

from screening import load_case
from screening.judgement.case.case_file import case_schema
from screening.judgement.draws.conditions import draw_conditions
from screening.report.shortlist.case_rows import AS_GIVEN, LEFT_OPEN, case_rows
from screening.sentences import Units

SECTIONS = ("engine", "piston", "operation", "head", "printer")
CASE: dict[str, Any] = {
    "format": "polymer-piston-case",
    "version": 1,
    "engine": {"displacement_cc": 98},
    "fuel": "petrol E0",
    "head": {"reading_C": 110, "surface": "matt_black_paint"},
    "operation": {"ambient_C": 30},
    "own_materials": [{"id": "mine", "name": "mine", "based_on": "abs", "values": {"glass_transition": 100}}],
    "soak_tests": [{"material": "abs", "fluid": "ethanol", "outcome": "slight", "temperature_C": 40}],
}


def rows(units: Units) -> dict[str, tuple[str, str]]:
    case = load_case(CASE)
    return {title: (given, counted) for title, given, counted in case_rows(case, draw_conditions(case, 20), units)}


def test_every_key_has_a_title_and_no_two_have_the_same() -> None:
    titles = [
        field["title"] for section in SECTIONS for field in case_schema()["properties"][section]["properties"].values()
    ]
    assert len(titles) > 30
    assert len(set(titles)) == len(titles)
    assert not any("[" in title or title.endswith(".") for title in titles)


@pytest.mark.parametrize(
    ("unit", "reading", "air", "glass", "soak"),
    [("°C", "110 °C", "30 °C", "100 °C", "40 °C"), ("°F", "230 °F", "86 °F", "212 °F", "104 °F")],
)
def test_temperatures_are_in_the_unit_chosen(unit: str, reading: str, air: str, glass: str, soak: str) -> None:
    """By definition of the scales: 110, 30, 100 and 40 °C are 230, 86, 212 and 104 °F."""
    shown = rows(Units(unit))
    assert shown["settled reading of the gun on the head"][0] == reading
    assert shown["air temperature"] == (air, AS_GIVEN)
    assert f"glass transition {glass}" in shown["material of the case's own, mine"][0]
    assert f"temperature {soak}" in shown["soak test of abs"][0]
    assert unit in shown["temperature under the crown when warm"][1]
    assert shown["temperature under the crown when warm"][0] == LEFT_OPEN
    assert {"°C", "°F"} - {unit} == {
        sign for sign in ("°C", "°F") if not any(sign in w for r in shown.values() for w in r)
    }


def test_other_units_stay() -> None:
    celsius, fahrenheit = rows(Units("°C")), rows(Units("°F"))
    same = [title for title in celsius if "°C" not in "".join(celsius[title])]
    assert len(same) > 10
    assert {title: celsius[title] for title in same} == {title: fahrenheit[title] for title in same}
