"""A liquid of the user's own: what it gives, and every fault told at once."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from screening.errors import CaseError
from screening.records.liquids.find_fuel import find_fuel, own_fuel

ETHANOL: dict[str, Any] = {
    "name": "my ethanol",
    "formula": "C2H6O",
    "density_kg_m3": 790.0,
    "enthalpy_of_formation_kJ_mol": -277.0,
    "latent_heat_kJ_kg": 919.0,
    "hansen": [15.8, 8.8, 19.4],
    "flash_point_C": 13.0,
    "boiling_point_C": 78.3,
}


def test_own_ethanol_is_ethanol() -> None:
    own, known = find_fuel(ETHANOL), find_fuel("ethanol")
    assert own.air_fuel_ratio == pytest.approx(known.air_fuel_ratio)
    assert own.lower_heating_value == pytest.approx(known.lower_heating_value, rel=1e-3)
    assert own.latent_heat == pytest.approx(919e3)
    assert own.enthalpy_of_formation_gas == pytest.approx(known.enthalpy_of_formation_gas, abs=1e3)
    assert own.hansen == (15.8, 8.8, 19.4)
    assert own.flash_point == pytest.approx(286.15)
    assert own.molar_volume == pytest.approx(known.molar_volume, rel=0.01)
    assert "vapour_pressure" in own.unknown
    assert np.isnan(own.vapour_pressure(300.0))
    assert "user's own" in own.source("density")


def test_heating_value_in_place_of_enthalpy() -> None:
    given = {key: ETHANOL[key] for key in ("name", "formula", "density_kg_m3")}
    fuel = own_fuel({**given, "lower_heating_value_MJ_kg": 26.8})
    assert fuel.lower_heating_value == pytest.approx(26.8e6)
    assert fuel.enthalpy_of_formation_liquid == pytest.approx(-277.7e3, abs=1e3)
    assert fuel.hansen is None
    assert {"hansen", "latent_heat", "enthalpy_of_formation_gas", "flash_point"} <= set(fuel.unknown)


def test_all_faults_at_once() -> None:
    wrong = {"formula": "C2H6S", "density_kg_m3": 3, "flash_point_C": "cold", "hansen": [1, 2], "densty": 1}
    with pytest.raises(CaseError) as caught:
        own_fuel(wrong)
    where = {fault.where for fault in caught.value.faults}
    assert where == {
        "fuel.name",
        "fuel.formula",
        "fuel.density_kg_m3",
        "fuel.flash_point_C",
        "fuel.hansen",
        "fuel.densty",
    }


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("density_kg_m3", True, "should be a number"),
        ("density_kg_m3", float("nan"), "should be a number"),
        ("latent_heat_kJ_kg", -3, "from 50 to 2500"),
        ("formula", "ethanol", "is not a formula"),
        ("formula", "CO2", "needs no air"),
        ("formula", "", "is missing"),
        ("hansen", [15.8, 8.8, "x"], "three numbers"),
        ("lower_heating_value_MJ_kg", 26.8, "not both"),
    ],
)
def test_one_bad_value(key: str, value: object, told: str) -> None:
    with pytest.raises(CaseError, match=told):
        own_fuel({**ETHANOL, key: value})


def test_where_names_the_section() -> None:
    with pytest.raises(CaseError, match=r"reference_fuel\.name"):
        own_fuel({}, where="reference_fuel")
