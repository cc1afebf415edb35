"""The curated rows against the open handbook tables, and how disagreements are settled."""

from __future__ import annotations

import pytest

from screening.records.liquids import open_tables
from screening.records.liquids.pure_liquids import curated_liquids
from screening.records.liquids.value_choice import choose, choose_flash_point, reconcile_enthalpies
from screening.records.tables.package import read_table

OPEN = tuple(name for name, liquid in curated_liquids().items() if liquid.cas and liquid.kind != "oil")
# of these two the package's lists disagree, and the handbook's value is taken
PLACED = tuple(
    name
    for name in OPEN
    if curated_liquids()[name].typical("hansen_d") is not None and name not in ("m-xylene", "dimethyl carbonate")
)

SOURCES = read_table("sources")
SEEN_IN_THE_PACKAGE = set(SOURCES["id"][SOURCES["address"].str.contains("project/chemicals")])


@pytest.mark.parametrize("name", OPEN)
def test_rows_seen_in_the_open_tables_are_still_there(name: str) -> None:
    liquid = curated_liquids()[name]
    identity = open_tables.identify(str(liquid.cas))
    assert identity is not None
    assert liquid.molar_mass == pytest.approx(identity.molar_mass, rel=1e-4)
    found = open_tables.candidates(identity)
    for value in liquid.values:
        offered = found.get(value.name, {})
        derived = "heat of vaporisation" in value.method
        if derived or value.source not in SEEN_IN_THE_PACKAGE:
            continue
        assert value.how == "looked up"
        rounding = (
            0.006 * 10.0 ** {"J/mol": 3, "m3/mol": -6, "1": -2}.get(value.unit, 0)
            + 0.06 * (value.unit in ("K", "kg/m3", "MPa^0.5"))
            + 0.5 * (value.name == "autoignition")
        )
        assert any(abs(value.typical - other) <= rounding for other in offered.values()), (value, offered)
        assert min(offered.values()) - rounding <= value.low <= value.typical <= value.high
        assert value.high <= max(offered.values()) + rounding


def test_most_liquids_have_hansen_parameters_of_the_open_package() -> None:
    assert (len(OPEN), len(PLACED)) == (56, 52)


@pytest.mark.parametrize("name", PLACED)
def test_hansen_parameters_are_the_open_package_s(name: str) -> None:
    from chemicals.solubility import hansen_delta_d, hansen_delta_h, hansen_delta_p

    liquid = curated_liquids()[name]
    for key, call in (
        ("hansen_d", hansen_delta_d),
        ("hansen_p", hansen_delta_p),
        ("hansen_h", hansen_delta_h),
    ):
        value = liquid.value(key)
        assert value is not None
        assert value.low - 0.05 <= call(liquid.cas) / 1000.0 <= value.high + 0.05


def test_one_slip_among_three_is_never_taken() -> None:
    chosen = choose({"first": 233.15, "second": 301.15, "third": 300.9})
    assert chosen is not None
    assert chosen.typical == 301.15
    assert (chosen.low, chosen.high) == (233.15, 301.15)


def test_a_lost_sign_in_a_flash_point_is_set_aside() -> None:
    chosen = choose_flash_point({"first": 233.15, "second": 301.15}, boiling_point=381.0)
    assert chosen is not None
    assert chosen.typical == chosen.low == 301.15
    assert "first -40 degC" in chosen.note


def test_nothing_measured_is_nothing_chosen() -> None:
    assert choose({}) is None
    assert choose_flash_point({"first": 100.0}, boiling_point=400.0) is None
    assert reconcile_enthalpies({}, {"YAWS": -100e3}, 40e3) == (None, None)


def test_the_liquid_value_that_the_gas_supports_is_taken() -> None:
    liquid, gas = reconcile_enthalpies({"a": -271e3, "b": -279.5e3}, {"c": -252.1e3}, 27.1e3)
    assert liquid is not None
    assert gas is not None
    assert liquid.typical == -279.5e3
    assert "a -271.0 kJ/mol" in liquid.note
    assert gas.typical == -252.1e3


def test_a_missing_liquid_value_follows_from_the_gas() -> None:
    liquid, gas = reconcile_enthalpies({}, {"c": -290e3}, 40e3)
    assert liquid is not None
    assert liquid.typical == -330e3
    assert "less the heat of vaporisation" in liquid.method
    assert gas is not None


def test_a_gas_value_that_contradicts_is_replaced_by_the_sum() -> None:
    _, gas = reconcile_enthalpies({"a": -112.6e3}, {"c": -80.8e3}, 38.3e3)
    assert gas is not None
    assert gas.typical == pytest.approx(-74.3e3)
    assert gas.method == "liquid value plus the heat of vaporisation"
