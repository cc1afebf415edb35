"""Physical sense of the whole materials table, row against row."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import pytest

from screening.quantities import known_units, to_si
from screening.records.materials.materials import Value, load_materials
from screening.records.tables.package import read_table

MATERIALS = load_materials()
POLYMERS = [id for id in MATERIALS.ids if MATERIALS.get(id).morphology in ("amorphous", "semicrystalline")]
MADE_OF_POLYMER = [id for id in MATERIALS.ids if MATERIALS.get(id).morphology not in ("metal", "ceramic")]
FILLED = [id for id in MATERIALS.ids if MATERIALS.get(id).filler]
MEASURED = [id for id in POLYMERS if len(MATERIALS.get(id).curve("tensile_strength")) > 1]


def _value(id: str, property: str) -> Value:
    value = MATERIALS.value(id, property)
    assert value is not None
    return value


def _with(ids: Iterable[str], *properties: str, of_base: bool = False) -> list[str]:
    """Return the materials of which all of the properties are known, and of their base polymers if asked."""
    known = [id for id in ids if all(MATERIALS.value(id, property) for property in properties)]
    if not of_base:
        return known
    return [id for id in known if all(MATERIALS.value(MATERIALS.get(id).base, property) for property in properties)]


MELTING = _with(POLYMERS, "glass_transition", "melting_point")
BENT_TWICE = _with(POLYMERS, "deflection_temperature_180", "deflection_temperature_045")
AMORPHOUS = [id for id in MATERIALS.printable if MATERIALS.get(id).morphology == "amorphous"]
BENDING = _with(AMORPHOUS, "deflection_temperature_180", "glass_transition")
PRINTED = _with(MATERIALS.printable, "nozzle_temperature", "glass_transition", "bed_temperature")
HOT = _with(MATERIALS.ids, "thermal_expansion_hot", "thermal_expansion")
FILLED_IN_FULL = _with(
    FILLED, "tensile_modulus", "density", "deflection_temperature_180", "thermal_expansion", "elongation_at_break",
    of_base=True,
)  # fmt: skip


def test_what_is_looked_at_does_not_shrink() -> None:
    """What is not known of a material is not asked; a row taken out of the table must not go unseen for that."""
    asked = {
        "melting": MELTING, "bent twice": BENT_TWICE, "bending": BENDING, "printed": PRINTED, "hot": HOT,
        "filled": FILLED_IN_FULL, "measured": MEASURED,
    }  # fmt: skip
    assert {name: len(ids) for name, ids in asked.items()} == {
        "melting": 29,
        "bent twice": 36,
        "bending": 19,
        "printed": 43,
        "hot": 19,
        "filled": 13,
        "measured": 5,
    }


def _within(property: str, low: float, high: float, ids: list[str]) -> list[str]:
    table = MATERIALS.table
    rows = table[(table["property"] == property) & table["material"].isin(ids)]
    assert len(rows), property
    wrong = rows[(rows["low"] < low) | (rows["high"] > high)]
    return [f"{row.material} ({row.use}): {row.low:g} to {row.high:g}" for row in wrong.itertuples()]


def test_low_typical_high_rise_everywhere() -> None:
    for name in ("properties", "surfaces", "assumptions", "fuel_properties"):
        raw = read_table(name)
        assert raw[(raw["low"] > raw["typical"]) | (raw["typical"] > raw["high"])].index.tolist() == [], name


def test_units_convert() -> None:
    for name in ("properties", "assumptions"):
        assert set(read_table(name)["unit"]) <= set(known_units())


@pytest.mark.parametrize("id", MELTING)
def test_glass_transition_lies_below_melting(id: str) -> None:
    assert _value(id, "glass_transition").high < _value(id, "melting_point").low


@pytest.mark.parametrize("id", MELTING)
def test_glass_transition_to_melting_ratio(id: str) -> None:
    """Tg/Tm of most polymers is 0.5 to 0.8 in kelvin (Boyer and Beaman; van Krevelen ch. 6)."""
    ratio = _value(id, "glass_transition").typical / _value(id, "melting_point").typical
    assert (0.33 if id in ("hdpe", "xlpe", "pom", "tpu") else 0.5) < ratio < 0.85


@pytest.mark.parametrize("id", BENT_TWICE)
def test_deflection_at_the_higher_load_is_lower(id: str) -> None:
    heavy, light = _value(id, "deflection_temperature_180"), _value(id, "deflection_temperature_045")
    assert heavy.typical <= light.typical
    assert heavy.low <= light.low
    assert heavy.high <= light.high


@pytest.mark.parametrize("id", _with(POLYMERS, "melting_point"))
def test_no_deflection_temperature_beyond_melting(id: str) -> None:
    melting = _value(id, "melting_point").high
    for load in ("045", "180"):
        value = MATERIALS.value(id, f"deflection_temperature_{load}")
        assert value is None or value.high <= melting


@pytest.mark.parametrize("id", BENDING)
def test_amorphous_polymer_bends_near_its_glass_transition(id: str) -> None:
    """Without crystals nothing holds above Tg: deflection lies at most a few kelvin above it, and not far below."""
    assert -45 < _value(id, "deflection_temperature_180").typical - _value(id, "glass_transition").typical < 8


@pytest.mark.parametrize("id", PRINTED)
def test_no_printing_temperature_in_a_glass_transition_cell(id: str) -> None:
    """A nozzle temperature given as 'the temperature' of a filament is a usual slip of copied tables."""
    nozzle, glass = _value(id, "nozzle_temperature"), _value(id, "glass_transition")
    assert glass.high < nozzle.low - 20
    melting = MATERIALS.value(id, "melting_point")
    if melting is not None:
        assert nozzle.high > melting.typical
    bed = _value(id, "bed_temperature")
    assert bed.typical < nozzle.low
    assert bed.high <= max(glass.high, melting.typical if melting else 0.0) + 30


@pytest.mark.parametrize("id", _with(MATERIALS.printable, "nozzle_temperature", "decomposition_onset"))
def test_prints_below_decomposition(id: str) -> None:
    assert _value(id, "nozzle_temperature").typical < _value(id, "decomposition_onset").typical


@pytest.mark.parametrize("id", _with(MATERIALS.printable, "chamber_temperature", "glass_transition"))
def test_chamber_is_cooler_than_the_part_softens(id: str) -> None:
    softening = MATERIALS.value(id, "melting_point") or _value(id, "glass_transition")
    assert _value(id, "chamber_temperature").high < softening.typical + 5


def test_conductivity_of_polymers() -> None:
    assert _within("thermal_conductivity", 0.1, 1.5, MADE_OF_POLYMER) == []


def test_heat_capacity_of_polymers() -> None:
    assert _within("heat_capacity", 800, 3200, MADE_OF_POLYMER) == []
    mains = [MATERIALS.value(id, "heat_capacity") for id in POLYMERS]
    assert all(value is None or 800 <= value.typical <= 2500 for value in mains)


def test_densities() -> None:
    assert _within("density", 850, 2300, MADE_OF_POLYMER) == []
    assert _within("density", 2500, 9100, list(MATERIALS.with_role("metal"))) == []


def test_expansion_of_polymers_and_metals() -> None:
    assert _within("thermal_expansion", 2e-6, 330e-6, MADE_OF_POLYMER) == []
    assert _within("thermal_expansion", 5e-6, 30e-6, list(MATERIALS.with_role("metal"))) == []


def test_shares_are_shares() -> None:
    for property in ("crystallinity", "char_yield", "abrasive"):
        assert _within(property, 0, 1, list(MATERIALS.ids)) == []
    assert _within("layer_adhesion", 0.1, 1.15, list(MATERIALS.printable)) == []


def test_gasification_heat_and_decomposition() -> None:
    assert _within("gasification_heat", 0.5e6, 7e6, POLYMERS) == []
    assert _within("decomposition_onset", 450, 950, POLYMERS) == []


@pytest.mark.parametrize("id", FILLED_IN_FULL)
def test_filled_is_stiffer_denser_and_bends_later(id: str) -> None:
    base = MATERIALS.get(id).base
    assert _value(id, "tensile_modulus").typical > 1.1 * _value(base, "tensile_modulus").typical
    assert _value(id, "density").typical > _value(base, "density").typical
    assert _value(id, "deflection_temperature_180").typical >= _value(base, "deflection_temperature_180").typical
    assert _value(id, "thermal_expansion").typical < _value(base, "thermal_expansion").typical
    assert _value(id, "elongation_at_break").typical < _value(base, "elongation_at_break").typical


@pytest.mark.parametrize("id", _with(FILLED, "density", of_base=True))
def test_density_of_filled_follows_the_mixture(id: str) -> None:
    """1/rho = w_f/rho_f + (1 - w_f)/rho_p; carbon fibre 1.8, glass 2.55 g/cm3 (usual values); up to 10 % voids."""
    material = MATERIALS.get(id)
    filler = {"carbon fibre": 1800.0, "glass fibre": 2550.0}[material.filler]
    share = material.filler_mass_fraction
    mixture = 1 / (share / filler + (1 - share) / _value(material.base, "density").typical)
    assert _value(id, "density").typical == pytest.approx(mixture, rel=0.10)


@pytest.mark.parametrize("id", FILLED)
def test_filler_wears_the_nozzle_and_does_not_move_the_glass_transition(id: str) -> None:
    assert _value(id, "abrasive").typical == 1.0
    base = MATERIALS.get(id).base
    assert abs(_value(id, "glass_transition").typical - _value(base, "glass_transition").typical) <= 12
    assert MATERIALS.get(id).morphology == MATERIALS.get(base).morphology


@pytest.mark.parametrize("id", [id for id in MATERIALS.ids if MATERIALS.value(id, "glass_transition_wet")])
def test_water_lowers_the_glass_transition(id: str) -> None:
    assert _value(id, "glass_transition_wet").typical < _value(id, "glass_transition").typical


@pytest.mark.parametrize("id", HOT)
def test_expansion_rises_above_the_glass_transition(id: str) -> None:
    assert _value(id, "thermal_expansion_hot").typical >= _value(id, "thermal_expansion").typical


@pytest.mark.parametrize("id", MEASURED)
def test_strength_falls_along_a_measured_curve(id: str) -> None:
    points = MATERIALS.get(id).curve("tensile_strength")
    by_state: dict[tuple[str, str], list[Value]] = {}
    for point in points:
        by_state.setdefault((point.source, point.condition), []).append(point)
    for rows in by_state.values():
        strengths = [row.typical for row in rows]
        assert all(b <= a * 1.02 for a, b in pairwise(strengths)), rows


def test_rubbers_are_rubbers_at_room_temperature() -> None:
    for id in (id for id in MATERIALS.ids if MATERIALS.get(id).morphology == "elastomer"):
        assert _value(id, "glass_transition").high < to_si(10, "degC"), id
        assert 1e-14 < 10 ** _value(id, "diffusion_liquid").typical < 1e-8


def test_drying_is_cooler_than_softening() -> None:
    for id in MATERIALS.printable:
        drying = MATERIALS.value(id, "drying_temperature")
        if drying is not None:
            limit = MATERIALS.value(id, "melting_point") or _value(id, "glass_transition")
            assert drying.typical < limit.typical, id


def test_strength_of_a_polymer_says_its_bars() -> None:
    """A row whose condition names moulded or printed bars alone says the same in its column; no other property has any."""
    raw = read_table("properties")
    of_polymers = raw["material"].isin(MADE_OF_POLYMER) & (raw["property"] == "tensile_strength")
    assert set(raw[~of_polymers]["bars"]) == {""}
    rows = raw[of_polymers]
    assert set(rows["bars"]) == {"printed", "moulded", "both", "not said"}
    alone = {word: rows["condition"].str.contains(word) for word in ("printed", "moulded")}
    assert set(rows[alone["printed"] & ~alone["moulded"]]["bars"]) == {"printed"}
    assert set(rows[~alone["printed"] & alone["moulded"]]["bars"]) <= {"moulded", "both"}
    assert set(rows[~alone["printed"] & ~alone["moulded"]]["bars"]) <= {"printed", "not said"}
