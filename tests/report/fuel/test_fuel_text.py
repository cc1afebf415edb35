"""The fuel sheet says mass and moles side by side, ranges, sources, gaps and cautions."""

from __future__ import annotations

import json

import pytest

from screening.records.liquids.find_fuel import find_fuel, known_fuels, own_fuel
from screening.report.fuel.fuel_text import cautions, fuel_document, fuel_sheet


def test_sheet_of_a_blend_against_petrol() -> None:
    sheet = fuel_sheet(find_fuel("ethanol 70, cyclopentanone 30"), find_fuel("petrol E0"))
    for told in (
        "9.58 kg dry air per kg fuel",
        "mol dry air per mol fuel",
        "A carburettor meters mass, not moles",
        "1.52 times the fuel mass for the same air",
        "jet area x 1.43",
        "flash point 12 °C or lower",
        "lowest self-ignition: no published value for cyclopentanone",
        "hansen: by volume; ethanol:",
    ):
        assert told in sheet


@pytest.mark.parametrize("name", known_fuels())
def test_every_fuel_has_a_sheet_and_a_document(name: str) -> None:
    fuel = find_fuel(name)
    sheet = fuel_sheet(fuel)
    assert sheet.startswith(fuel.name)
    assert "nan" not in sheet.split("Sources")[0].replace("nonane", "")
    assert "None" not in sheet
    document = json.loads(json.dumps(fuel_document(fuel, find_fuel("petrol E0")), allow_nan=False))
    assert document["name"] == fuel.name
    assert set(document["unknown"]) == set(fuel.unknown)


def test_what_does_not_burn_says_so_first_and_asks_for_no_carburettor() -> None:
    sheet = fuel_sheet(find_fuel("water"), find_fuel("petrol E0"))
    assert sheet.split("\n")[2].startswith("It does not burn")
    for word in ("carburettor", "Air for", "heating value", "energy", "flash point", "ignition"):
        assert word not in sheet
    document = fuel_document(find_fuel("water"), find_fuel("petrol E0"))
    assert document["burns"] is False
    assert document["lower_heating_value [MJ/kg]"] is None
    assert document["energy_per_litre_MJ"] is None
    assert "against" not in document


def test_only_a_blend_has_a_first_bubble() -> None:
    assert "bubble" not in fuel_sheet(find_fuel("ethanol"))
    assert "°C (first bubble)" in fuel_sheet(find_fuel("ethanol 70, cyclopentanone 30"))


def test_document_of_a_pure_fuel() -> None:
    document = fuel_document(find_fuel("ethanol"), find_fuel("isooctane"))
    assert document["air_fuel_ratio"] == pytest.approx(9.0, rel=0.01)
    assert document["oxygen_need_mol_mol"] == 3.0
    assert document["lower_heating_value [MJ/kg]"] == pytest.approx(26.8, rel=0.01)
    assert document["energy_per_litre_MJ"] == pytest.approx(21.2, rel=0.01)
    assert document["against"]["fuel_mass_ratio"] == pytest.approx(15.13 / 9.0, rel=0.01)


def test_cautions_name_what_is_special() -> None:
    assert any("carries its own oxygen" in str(caution) for caution in cautions(find_fuel("nitromethane")))
    assert any("peroxides" in str(caution) for caution in cautions(find_fuel("diethyl ether")))
    assert any("cannot be seen" in str(caution) for caution in cautions(find_fuel("methanol 50, ethanol 50")))
    assert cautions(find_fuel("water")) == ["It does not burn."]
    bare = own_fuel({"name": "mine", "formula": "C5H8O", "density_kg_m3": 950})
    assert any("Flash point unknown" in str(caution) for caution in cautions(bare))
    assert "Hansen parameters dD, dP, dH              unknown" in fuel_sheet(bare)
