"""A case file: every fault at once, each with its key and what would be right."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from screening.errors import CaseError
from screening.judgement.case.case import canonical_text
from screening.judgement.case.case_file import case_schema, demo_cases, load_case, save_case

SMALLEST: dict[str, Any] = {
    "format": "polymer-piston-case",
    "version": 1,
    "engine": {"displacement_cc": 98},
    "fuel": "ethanol",
    "head": {"reading_C": 65},
}
OWN_FUEL = {"name": "my liquid", "formula": "C5H8O", "density_kg_m3": 950}
OWN_MATERIAL = {"id": "my_abs", "name": "my ABS", "based_on": "abs", "values": {"density": 1050}}
SOAK = {"material": "abs", "fluid": "ethanol", "outcome": "unchanged"}
COLD_PROOF = {"material": "abs", "burst_bar": 48}
RUN = {"material": "abs", "ran_s": 12, "ended_by": "not seen"}
LAYER = {"material": "aluminium", "thickness_mm": 3}
PROBE = {"kind": "temperature plug", "temperature_C": 200}
# one good list entry or section where the smallest case has none, so that its fields can be tried
STANDING = {
    ("piston", "crown_layers"): [LAYER],
    ("soak_tests",): [SOAK],
    ("cold_proofs",): [COLD_PROOF],
    ("runs",): [RUN],
    ("own_materials",): [OWN_MATERIAL],
    ("probe",): PROBE,
    ("fuel",): OWN_FUEL,
}


def faults(document: object) -> str:
    with pytest.raises(CaseError) as caught:
        load_case(document)  # type: ignore[arg-type]
    assert str(caught.value).count("\n") == 0
    return "\n".join(str(fault) for fault in caught.value.faults)


def with_changes(**sections: Any) -> dict[str, Any]:
    return copy.deepcopy(SMALLEST) | copy.deepcopy(sections)


def fields(schema: Mapping[str, Any], path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Yield every field of the schema with its path; the first entry of lists, the object among several forms."""
    forms = schema.get("oneOf", [schema])
    for form in forms:
        for key, inner in form.get("properties", {}).items():
            if path == ("head", "log") or (path and path[0] in ("reference_fuel",)) or path[-1:] == ("fluid",):
                continue
            yield (*path, key), inner
            yield from fields(inner, (*path, key))
            if inner.get("type") == "array" and inner["items"].get("type") == "object":
                yield from fields(inner["items"], (*path, key, 0))


FIELDS = list(fields(case_schema()))
NUMBERS = [(path, field) for path, field in FIELDS if field.get("type") == "number"]
CHOICES = [(path, field) for path, field in FIELDS if "enum" in field]
TEXTS = [(path, field) for path, field in FIELDS if field.get("type") == "string"]
YES_OR_NO = [(path, field) for path, field in FIELDS if field.get("type") == "boolean"]


def changed(path: tuple[str | int, ...], value: object) -> dict[str, Any]:
    """Return the smallest case with one field set, in a list or section that would else stand."""
    document = with_changes()
    for place, standing in STANDING.items():
        if path[: len(place)] == place and len(path) > len(place):
            inner = document
            for key in place[:-1]:
                inner = inner.setdefault(key, {})
            inner[place[-1]] = copy.deepcopy(standing)
    inner = document
    for key in path[:-1]:
        inner = inner.setdefault(key, {}) if isinstance(inner, dict) else inner[key]
    inner[path[-1]] = value
    return document


def named(path: tuple[str | int, ...]) -> str:
    words = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path)
    return words.lstrip(".")


def test_the_schema_is_walked_whole() -> None:
    assert len(NUMBERS) > 40
    assert len(CHOICES) >= 5
    assert all("minimum" in field and "maximum" in field for _, field in NUMBERS)


@pytest.mark.parametrize(("path", "field"), NUMBERS, ids=[named(path) for path, _ in NUMBERS])
def test_each_number_is_held_to_its_interval(path: tuple[str | int, ...], field: dict[str, Any]) -> None:
    low, high = field["minimum"], field["maximum"]
    for bad in (low - 1, high + 1, -1e30, 1e30):
        said = faults(changed(path, bad))
        assert f"{named(path)}: got {bad:g}; allowed {low:g} to {high:g}" in said
    for bad in ("12", True, None, [1], {}):
        assert f"{named(path)}: got " in faults(changed(path, bad))
        assert "must be a number" in faults(changed(path, bad))
    for bad in (float("nan"), float("inf"), float("-inf"), 10**400):
        assert "must be a finite number" in faults(changed(path, bad))


@pytest.mark.parametrize(("path", "field"), CHOICES, ids=[named(path) for path, _ in CHOICES])
def test_each_choice_lists_what_is_allowed(path: tuple[str | int, ...], field: dict[str, Any]) -> None:
    for bad in ("none of them", 3, None):
        said = faults(changed(path, bad))
        assert f"{named(path)}: got {bad!r}" in said
        assert path[-1] == "strokes" or str(field["enum"][0]) in said


@pytest.mark.parametrize("path", [path for path, _ in TEXTS], ids=named)
def test_each_text_must_be_text(path: tuple[str | int, ...]) -> None:
    for bad in (3, None, ["x"], "\ud800"):
        assert f"{named(path)}: " in faults(changed(path, bad))
    limit = dict(TEXTS)[path].get("maxLength")
    if limit is not None:
        assert f"{named(path)}: has {limit + 1} characters; at most {limit}" in faults(changed(path, "x" * (limit + 1)))


@pytest.mark.parametrize("path", [path for path, _ in YES_OR_NO], ids=named)
def test_each_yes_or_no(path: tuple[str | int, ...]) -> None:
    for bad in (0, 1, "yes", None):
        assert f"{named(path)}: got {bad!r}; must be true or false" in faults(changed(path, bad))


def test_smallest_case_stands() -> None:
    case = load_case(SMALLEST)
    assert case.engine.bore == pytest.approx(0.0547, abs=0.003)
    assert case.operation.target_run == 300
    assert case.reference_fuel.name == "petrol E0"
    assert case.head.surface == "bare_cast_aluminium"
    assert not case.is_given("engine", "speed_rpm")
    assert case.is_given("engine", "displacement_cc")
    assert load_case(dict(reversed(SMALLEST.items()))) == case  # whatever the order of the keys
    assert load_case(dict(reversed(SMALLEST.items()))).digest == case.digest


def test_five_faults_are_listed_at_once() -> None:
    said = faults(
        with_changes(
            engine={"displacement_cc": 98000, "strokes": 2, "bor_mm": 5},
            operation={"burned_mL": "x"},
            printer={"dryer": 1},
        )
    )
    for part in (
        "displacement_cc: got 98000",
        "only four-stroke",
        "did you mean bore_mm",
        "burned_mL",
        "printer.dryer",
    ):
        assert part in said


def test_five_faults_that_no_schema_sees_are_listed_at_once() -> None:
    said = faults(
        with_changes(
            fuel="etanol",
            head={"reading_C": 60, "surface": "chrome"},
            engine={"displacement_cc": 98, "rod_length_mm": 20},
            piston={"pin_diameter_mm": 50},
            soak_tests=[{"material": "abss", "fluid": "water 50, ethanol 40"}],
        )
    )
    wheres = "fuel:", "head.surface:", "engine.rod_length_mm:", "piston.pin_diameter_mm:", "soak_tests[0].material:"
    for where in (*wheres, "soak_tests[0].fluid:", "soak_tests[0]: says nothing"):
        assert where in said


def test_a_two_stroke_is_refused_in_a_sentence() -> None:
    said = faults(with_changes(engine={"displacement_cc": 98, "strokes": 2}))
    assert said == (
        "engine.strokes: got 2: only four-stroke engines are modelled: "
        "a two-stroke breathes and heats its piston differently"
    )
    assert load_case(with_changes(engine={"displacement_cc": 98, "strokes": 4}))


@pytest.mark.parametrize("key", ["format", "version", "engine", "fuel", "head"])
def test_what_must_be_given(key: str) -> None:
    document = with_changes()
    del document[key]
    assert f"{key}: missing; must be given" in faults(document)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"fuel": "etanol"}, "nearest known: ethanol"),
        ({"fuel": 3}, "fuel: got 3; must be a liquid by name"),
        ({"fuel": "ethanol 70, water 20"}, "fuel: "),
        ({"fuel": OWN_FUEL | {"formula": "H2O"}}, "fuel.formula: H2O needs no air"),
        ({"reference_fuel": OWN_FUEL | {"formula": "CCl4"}}, "reference_fuel.formula: got 'CCl4'; must be molecular"),
        (
            {"fuel": OWN_FUEL | {"lower_heating_value_MJ_kg": 30, "enthalpy_of_formation_kJ_mol": -200}},
            "fuel: give lower_heating_value_MJ_kg or enthalpy_of_formation_kJ_mol, not both",
        ),
        ({"fuel": OWN_FUEL | {"hansen": [17, 9]}}, "fuel.hansen: has 2 entries; at least 3"),
        ({"enigne": {}}, "enigne: unknown key; did you mean engine?"),
        ({"engine": {"displacement_cc": 98, "valves": 2}}, "engine.valves: unknown key; known keys: displacement_cc"),
        ({"engine": {}}, "engine: must give displacement_cc, or bore_mm and stroke_mm"),
        ({"engine": {"bore_mm": 56}}, "engine.stroke_mm: missing"),
        ({"engine": {"displacement_cc": 120, "bore_mm": 56, "stroke_mm": 40}}, "but bore and stroke make 98.5 cc"),
        ({"engine": {"displacement_cc": 98, "rod_length_mm": 30}}, "engine.rod_length_mm: got 30 mm; must be longer"),
        ({"head": {}}, "head: must give either reading_C or log"),
        ({"head": {"reading_C": 60, "log": {"bundled": "petrol_baseline_log"}}}, "not both"),
        ({"head": {"reading_C": 60, "surface": "bare_cast_aluminum"}}, "nearest known: bare_cast_aluminium"),
        ({"head": {"log": {"bundled": "petrol_log"}}}, "nearest known: petrol_baseline_log"),
        ({"head": {"log": {"digest": "0" * 64, "name": "mine.csv"}}}, "(mine.csv) is not here; open that file beside"),
        ({"head": {"log": {"digest": "123"}}}, "head.log.digest: got '123'"),
        ({"head": {"log": "time_s,temp_C\n0,20\n1,x\n2,3\n3,4\n"}}, "head.log: line 3: got 'x'; must be a number"),
        ({"head": {"log": "screening/demo_cases/petrol_baseline_log.csv"}}, "head.log: the log has 0 rows"),
        ({"operation": {"burned_mL": 5}}, "burn_duration_s: missing"),
        ({"operation": {"burn_duration_s": 60}}, "burned_mL: missing"),
        ({"operation": {"burned_mL": 5, "burn_duration_s": 60, "throttle": 0.5}}, "operation.throttle"),
        ({"piston": {"build": "metal cap"}}, "crown_layers: missing"),
        ({"piston": {"crown_layers": [LAYER]}}, "crown_layers: given, but piston.build is 'all polymer'"),
        ({"piston": {"build": "metal cap", "crown_layers": [LAYER] * 5}}, "has 5 entries; at most 4"),
        (
            {"piston": {"build": "metal cap", "crown_layers": [LAYER | {"material": "aluminum"}]}},
            "crown_layers[0].material: unknown material 'aluminum'; nearest known: aluminium",
        ),
        ({"piston": {"crown_thickness_mm": 40}}, "crown_thickness_mm: got 40 mm; at most 0.6 of the bore"),
        (
            {"cold_proofs": [COLD_PROOF | {"held_bar": 40}]},
            "cold_proofs[0]: got both of burst_bar and held_bar; give one",
        ),
        ({"cold_proofs": [{"material": "abs"}]}, "cold_proofs[0]: got neither of burst_bar and held_bar; give one"),
        ({"cold_proofs": [COLD_PROOF | {"material": "abss"}]}, "cold_proofs[0].material: "),
        ({"runs": [RUN | {"material": "abss"}]}, "runs[0].material: "),
        ({"runs": [RUN | {"date": "yesterday"}]}, "runs[0].date: got 'yesterday'; must be a date such as"),
        ({"soak_tests": [SOAK | {"mass_before_g": 5}]}, "soak_tests[0].mass_after_g: missing"),
        ({"soak_tests": [SOAK | {"fluid": OWN_FUEL | {"formula": "H2O"}}]}, "soak_tests[0].fluid.formula: H2O"),
        ({"version": 9}, "reads up to 1"),
        ({"format": "other"}, "format: got 'other'; must be 'polymer-piston-case'"),
        ({"own_materials": [OWN_MATERIAL | {"id": "abs"}]}, "own_materials[0].id: got 'abs', which is taken"),
        ({"own_materials": [OWN_MATERIAL] * 2}, "own_materials[1].id: got 'my_abs', which is taken"),
        ({"own_materials": [OWN_MATERIAL | {"id": "My ABS"}]}, "short id of small letters"),
        ({"own_materials": [OWN_MATERIAL | {"based_on": "abss"}]}, "based_on: unknown material 'abss'"),
        ({"own_materials": [OWN_MATERIAL | {"values": {"densty": 1}}]}, "nearest known: density"),
        ({"own_materials": [OWN_MATERIAL | {"values": {"density": "1"}}]}, "values.density: got '1'"),
        ({"own_materials": [OWN_MATERIAL | {"values": {"density": 1.05}}]}, "values.density: got 1.05; allowed 8"),
        ({"own_materials": [OWN_MATERIAL | {"values": {"tensile_modulus": 2400}}]}, "GPa"),
        (
            {"own_materials": [OWN_MATERIAL | {"values": {"density": {"low": 2e3, "typical": 1e3, "high": 3e3}}}]},
            "got 2000, 1000, 3000; low, typical, high must rise",
        ),
    ],
)
def test_what_makes_no_sense(change: dict[str, Any], said: str) -> None:
    assert said in faults(with_changes(**change))


def test_a_log_that_says_nothing_of_the_end_is_refused() -> None:
    straight = "time_s,temp_C\n" + "\n".join(f"{30 * i},{20 + 2 * i + i % 2}" for i in range(12))
    assert "head.log: the run had not settled: its end may lie anywhere" in faults(with_changes(head={"log": straight}))


def test_the_text_of_a_log_never_names_a_file(tmp_path: Path) -> None:
    secret = tmp_path / "secret.csv"
    secret.write_text("time_s,temp_C\n0,20\n100,40\n200,50\n300,51\n400,52\n")
    assert "at least 4 are needed" in faults(with_changes(head={"log": str(secret)}))


def test_everything_given_comes_out_in_si() -> None:
    case = load_case(
        with_changes(
            engine={"bore_mm": 56, "stroke_mm": 40, "speed_rpm": 3000},
            fuel=OWN_FUEL,
            piston={"build": "metal cap", "crown_layers": [LAYER], "cold_clearance_mm": 0.5},
            operation={"burned_mL": 88, "burn_duration_s": 600, "ambient_C": 19.5, "crankcase_film_W_m2K": 200},
            cold_proofs=[COLD_PROOF | {"crown_thickness_mm": 5.5}, {"material": "pc", "held_bar": 60}],
            runs=[RUN | {"crown_thickness_mm": 4.5, "date": "2026-05-31", "note": "smoke at the end"}],
            soak_tests=[SOAK | {"time_h": 24, "mass_before_g": 5, "mass_after_g": 5.5, "temperature_C": 40}],
            own_materials=[OWN_MATERIAL | {"values": {"glass_transition": {"low": 90, "typical": 100, "high": 105}}}],
            probe=PROBE | {"depth_mm": 1, "time_s": 30},
        )
    )
    assert case.engine.speed == pytest.approx(50)
    assert case.engine.bore == pytest.approx(0.056)
    assert case.fuel.density == pytest.approx(950)
    assert case.piston.crown_layers[0].thickness == pytest.approx(3e-3)
    assert case.piston.cold_clearance == pytest.approx(5e-4)
    assert case.operation.burned_volume == pytest.approx(88e-6)
    assert case.operation.ambient == pytest.approx(292.65)
    assert case.operation.crankcase_film == 200
    assert case.cold_proofs[0].thickness == pytest.approx(5.5e-3)
    assert case.cold_proofs[0].burst == pytest.approx(48e5)
    assert (case.cold_proofs[1].thickness, case.cold_proofs[1].burst) == (None, None)
    assert case.cold_proofs[1].held == pytest.approx(60e5)
    assert case.runs[0].thickness == pytest.approx(4.5e-3)
    assert (case.runs[0].lasted, case.runs[0].ended_by) == (12, "not seen")
    assert case.soak_tests[0].time == pytest.approx(86400)
    assert case.soak_tests[0].mass_after == pytest.approx(5.5e-3)
    assert case.soak_tests[0].temperature == pytest.approx(313.15)
    assert case.own_materials[0].values == (("glass_transition", (90, 100, 105)),)
    assert case.probe is not None
    assert case.probe.temperature == pytest.approx(473.15)
    assert case.probe.depth == pytest.approx(1e-3)


@pytest.mark.parametrize("name", list(demo_cases()))
def test_saved_and_read_again(name: str, tmp_path: Path) -> None:
    case = load_case(name)
    save_case(case, tmp_path / "case.json")
    assert load_case(tmp_path / "case.json") == case
    assert load_case(str(tmp_path / "case.json")).digest == case.digest
    assert json.loads((tmp_path / "case.json").read_text("utf-8")) == case.to_dict()
    assert canonical_text(case.to_dict()) == case.text
    assert case.head.log_text is not None
