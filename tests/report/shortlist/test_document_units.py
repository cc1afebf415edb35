"""Each number of the JSON document is in the unit that its key or its `unit` names."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

import numpy as np
import pytest
from judgement.spied_cases import GIVEN

from screening import Screening, load_case, report_json, screen
from screening.judgement.cylinder.gas_side import GasSide
from screening.report.shortlist.document import GAS_UNITS


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case(GIVEN), 60, materials=["workshop_plastic"])


@pytest.fixture(scope="module")
def document(result: Screening) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(report_json(result))
    return found


def test_gas_is_in_the_units_that_stand_beside_it(document: dict[str, Any]) -> None:
    """83 mL of 811 kg/m3 in 611 s; 27.1 MJ/kg; a part-load cycle of some bar and some hundred watts a kelvin."""
    gas = document["gas"]
    assert gas["fuel_flow"]["p50"] == pytest.approx(83e-6 * 811 / 611, rel=0.01)
    assert gas["fuel_power"]["p50"] == pytest.approx(83e-6 * 811 / 611 * 27.1e6, rel=0.02)
    assert (gas["fuel_flow"]["unit"], gas["fuel_power"]["unit"]) == ("kg/s", "W")
    assert 5e5 < gas["peak_pressure"]["p50"] < 40e5
    assert gas["peak_pressure"]["unit"] == "Pa"
    assert 700 < gas["gas_temperature"]["p50"] < 2500
    assert gas["gas_temperature"]["unit"] == "K"
    # a black head read with 0.93 for 0.95 is a little colder than the 171 degC shown
    assert gas["head_surface"]["p50"] == pytest.approx(171 + 273.15, abs=4)
    assert {name for name in gas if not gas[name]["unit"]} == set()


def test_every_number_of_the_gas_side_has_its_unit() -> None:
    traces = {"harmonics", "cycle", "peaks", "starts", "air_need"}
    peaks = {"peak_pressure_bound", *(f"{way}_start_peak_pressure" for way in ("governed", "held", "choked"))}
    names = {field.name for field in fields(GasSide)} - traces | peaks | {"head_surface", "start_load"}
    assert set(GAS_UNITS) == names


def test_lengths_are_in_millimetres_and_times_in_seconds(document: dict[str, Any], result: Screening) -> None:
    story = document["materials"]["workshop_plastic"]
    assert 59 < story["print_diameter_mm"][0] < 61
    assert 59 < story["fit"]["land_mm"][0] < 61
    assert 0.1 < story["fit"]["ring_end_gap_mm"][0] < 1.0
    assert story["fit"]["compression_ratio_left"][1] == pytest.approx(7.3, abs=0.3)
    assert document["horizon_s"] == 4321
    assert story["history"]["time_s"][-1] == 4321
    own = result.material("workshop_plastic")
    middle = float(np.quantile(own.life, 0.5, method="inverted_cdf"))
    assert story["life"]["p50_s"] == pytest.approx(middle)
    assert story["history"]["thickness_m"] == pytest.approx(0.0067, rel=0.01)
    assert story["history"]["face_K"]["p50"][0] == pytest.approx(31 + 273.15, abs=0.1)


def test_values_of_the_material_are_in_si(document: dict[str, Any]) -> None:
    values = document["materials"]["workshop_plastic"]["values"]
    shown = {name: (values[name]["typical"], values[name]["unit"]) for name in ("density", "tensile_strength")}
    assert shown == {"density": (1043, "kg/m3"), "tensile_strength": (41e6, "Pa")}
    assert values["glass_transition"]["typical"] == pytest.approx(107 + 273.15)
    assert values["thermal_expansion"]["typical"] == pytest.approx(88e-6)


def test_case_comes_back_as_it_was_given(document: dict[str, Any]) -> None:
    assert load_case(document["case"]) == load_case(GIVEN)
