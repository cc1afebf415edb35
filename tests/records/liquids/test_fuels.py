"""Finding fuels: names, blends, refusals, what is said of the unknown."""

from __future__ import annotations

import pickle

import numpy as np
import pytest

from screening.errors import CaseError, UnknownName
from screening.records.liquids.blends import parse_blend
from screening.records.liquids.find_fuel import find_fuel, known_fuels, mixture_setting

DEMO = "ethanol 70, cyclopentanone 30"


@pytest.mark.parametrize("name", known_fuels())
def test_every_known_fuel_is_whole(name: str) -> None:
    fuel = find_fuel(name)
    assert fuel.molar_mass > 0.015
    assert sum(share.volume_fraction for share in fuel.components) == pytest.approx(1.0)
    assert sum(share.mass_fraction for share in fuel.components) == pytest.approx(1.0)
    assert sum(share.mole_fraction for share in fuel.components) == pytest.approx(1.0)
    for key in fuel.unknown:
        assert fuel.why_unknown(key)
        assert fuel.source(key).startswith("unknown: ")
    for key in ("density", "lower_heating_value", "latent_heat", "molar_volume", "hansen", "flash_point"):
        assert (getattr(fuel, key) is None) == (key in fuel.unknown)
        assert fuel.source(key)
    for key, (low, high) in fuel.ranges.items():
        typical = getattr(fuel, key, None)
        if typical is not None:
            assert low <= typical <= high


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("Ethanol", "ethanol"),
        ("64-17-5", "ethanol"),
        ("  ethyl   alcohol ", "ethanol"),
        ("MEK", "butanone"),
        ("2,2,4-trimethylpentane", "isooctane"),
        ("petrol", "petrol E0"),
        ("e10", "petrol E10"),
        ("ethanol 100", "ethanol"),
        ("110-19-0", "isobutyl acetate"),
    ],
)
def test_exact_names(written: str, name: str) -> None:
    assert find_fuel(written).name == name


@pytest.mark.parametrize("written", ["etanol", "benzine", "tolueen", "C2H6O", "1", "nitro", "petrol E1000"])
def test_a_name_that_is_not_exact_is_refused(written: str) -> None:
    with pytest.raises(UnknownName, match="unknown fuel"):
        find_fuel(written)


def test_no_name_is_told_what_one_looks_like() -> None:
    with pytest.raises(UnknownName, match=r"no fuel is named.*a CAS number or a blend by volume"):
        find_fuel("")


def test_near_names_are_offered() -> None:
    with pytest.raises(LookupError, match="cyclopentanone"):
        find_fuel("cyclopentanon")


def test_other_elements_are_refused() -> None:
    with pytest.raises(CaseError, match=r"chloroform holds Cl; only fuels of carbon, hydrogen, oxygen"):
        find_fuel("chloroform")


def test_an_open_table_value_with_one_slip_is_not_taken() -> None:
    # a fire standard's -40 degC for isobutanol lost its sign against 28 degC in two other tables
    fuel = find_fuel("isobutanol")
    assert fuel.flash_point == pytest.approx(301.0, abs=1.0)
    assert "set aside" in fuel.source("flash_point")


def test_nitromethane_gas_value_agrees_with_its_heat_of_vaporisation() -> None:
    fuel = find_fuel("nitromethane")
    assert fuel.enthalpy_of_formation_gas == pytest.approx(-74.5e3, abs=1e3)


def test_dimethyl_carbonate_is_not_given_its_higher_heating_value() -> None:
    assert find_fuel("dimethyl carbonate").lower_heating_value == pytest.approx(14.4e6, rel=0.01)


@pytest.mark.parametrize(
    ("written", "parts"),
    [
        (DEMO, [("ethanol", 70.0), ("cyclopentanone", 30.0)]),
        ("ethanol 70 %,cyclopentanone 30%", [("ethanol", 70.0), ("cyclopentanone", 30.0)]),
        ("2,5-dimethylfuran 30, ethanol 70", [("2,5-dimethylfuran", 30.0), ("ethanol", 70.0)]),
        ("petrol E0 90, ethanol 10", [("petrol E0", 90.0), ("ethanol", 10.0)]),
        ("1,2,4-trimethylbenzene 12.5, toluene 87.5", [("1,2,4-trimethylbenzene", 12.5), ("toluene", 87.5)]),
    ],
)
def test_blends_are_split_only_after_a_percentage(written: str, parts: list[tuple[str, float]]) -> None:
    assert parse_blend(written) == parts


@pytest.mark.parametrize("written", ["ethanol 70, cyclopentanone 20", "ethanol 70, toluene 40", "ethanol 50"])
def test_a_blend_must_total_a_hundred(written: str) -> None:
    with pytest.raises(CaseError, match="must total 100"):
        find_fuel(written)


def test_a_blend_of_an_unknown_liquid_names_it() -> None:
    with pytest.raises(UnknownName, match="unknown fuel 'etanol'"):
        find_fuel("etanol 70, toluene 30")


def test_demo_blend() -> None:
    fuel = find_fuel(DEMO)
    ethanol, ketone = find_fuel("ethanol"), find_fuel("cyclopentanone")
    assert fuel.hansen is not None
    assert ethanol.hansen is not None
    assert ketone.hansen is not None
    for axis in range(3):
        expected = 0.7 * ethanol.hansen[axis] + 0.3 * ketone.hansen[axis]
        assert fuel.hansen[axis] == pytest.approx(expected)
    assert fuel.flash_point == ethanol.flash_point
    assert "a bound" in fuel.source("flash_point")
    assert "autoignition" in fuel.unknown
    assert "cyclopentanone" in fuel.why_unknown("autoignition")


def test_vapour_pressure_broadcasts_and_keeps_nan() -> None:
    kelvin = np.array([[250.0, 300.0, np.nan], [350.0, 500.0, 900.0]])
    for name in ("ethanol", DEMO, "petrol E0"):
        pressure = find_fuel(name).vapour_pressure(kelvin)
        assert pressure.shape == kelvin.shape
        assert np.isnan(pressure[0, 2])
        assert np.all(np.diff(pressure[1]) > 0.0)
    unknown = find_fuel("mineral oil").vapour_pressure(kelvin)
    assert unknown.shape == kelvin.shape
    assert np.all(np.isnan(unknown))


def test_a_blend_without_activity_groups_has_no_vapour_pressure() -> None:
    fuel = find_fuel("ethanol 50, dimethyl carbonate 50")
    assert "vapour_pressure" in fuel.unknown
    assert "no UNIFAC groups are known for dimethyl carbonate" in fuel.why_unknown("vapour_pressure")
    assert fuel.boiling_point is None


def test_unknown_property_of_a_fuel_is_refused() -> None:
    with pytest.raises(UnknownName, match="property of a fuel"):
        find_fuel("ethanol").source("colour")


def test_a_fuel_can_be_cached_and_sent_to_another_process() -> None:
    fuel = find_fuel(DEMO)
    copy = pickle.loads(pickle.dumps(fuel))
    assert copy == fuel
    assert hash(copy) == hash(fuel)
    assert find_fuel(DEMO) is fuel


def test_pump_fuel_carries_its_range() -> None:
    fuel = find_fuel("petrol E0")
    low, high = fuel.ranges["air_fuel_ratio"]
    assert low < fuel.air_fuel_ratio < high
    mixed = find_fuel("petrol E0 90, ethanol 10").ranges["air_fuel_ratio"]
    assert mixed[1] - mixed[0] == pytest.approx(0.9 * (high - low), rel=0.02)
    pressure = float(fuel.vapour_pressure(310.93))
    assert fuel.ranges["vapour_pressure_at_310_K"][0] < pressure < fuel.ranges["vapour_pressure_at_310_K"][1]


def test_setting_against_itself_is_one() -> None:
    fuel = find_fuel("isooctane")
    setting = mixture_setting(fuel, fuel)
    assert setting.fuel_mass_ratio == pytest.approx(1.0)
    assert setting.jet_area_ratio == pytest.approx(1.0)
