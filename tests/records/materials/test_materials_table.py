"""The materials: reach, one main value each, sources, gaps that stay gaps, SI values."""

from __future__ import annotations

import math

import pytest

from screening.errors import UnknownName
from screening.quantities import known_units, si_unit
from screening.records.materials.materials import Material, Value, known_properties, load_materials
from screening.records.tables.package import read_table
from screening.records.tables.sources import load_sources, source

PRINTABLE = [
    "pla",
    "pla_annealed",
    "petg",
    "pctg",
    "abs",
    "asa",
    "hips",
    "pc",
    "pc_abs",
    "pmma",
    "pa6",
    "pa6_66",
    "pa66",
    "pa12",
    "pa11",
    "ppa",
    "pp",
    "pom",
    "pvdf",
    "pps",
    "psu",
    "ppsu",
    "pesu",
    "pei",
    "peek",
    "peek_amorphous",
    "pekk",
    "tpi",
    "tpu",
    "petg_cf",
    "abs_gf",
    "pc_cf",
    "pa6_cf",
    "pa6_gf",
    "pa12_cf",
    "ppa_cf",
    "pps_cf",
    "pps_gf",
    "pei_cf",
    "pei_gf",
    "peek_cf",
    "peek_gf",
]
SEALS = ["nbr", "hnbr", "fkm", "ffkm", "epdm", "cr", "vmq", "fvmq", "acm", "au", "eu", "eco", "iir", "nr"]
IN_FUEL = ["hdpe", "xlpe", "pp", "pa11", "pa12", "pvc", "pvc_plasticised", "pom", "ptfe", "pet"]
NEEDED_TO_RUN = (
    "density", "glass_transition", "thermal_conductivity", "heat_capacity", "thermal_expansion", "tensile_modulus",
    "tensile_strength", "decomposition_onset", "nozzle_temperature", "bed_temperature", "chamber_temperature",
    "drying_temperature", "abrasive", "moisture_uptake", "layer_adhesion",
)  # fmt: skip


def test_reach() -> None:
    materials = load_materials()
    assert set(PRINTABLE) <= set(materials.printable)
    assert set(SEALS) <= set(materials.with_role("seal")) | set(materials.with_role("hose"))
    in_fuel = {id for role in ("tank", "hose", "float", "bucket", "seal") for id in materials.with_role(role)}
    assert set(IN_FUEL) <= in_fuel
    assert {"pai", "pi"} <= set(materials.with_role("reference"))
    assert {"aluminium", "cast_iron", "steel"} <= set(materials.with_role("metal"))
    assert len(materials.printable) >= 34


def test_references_are_not_printable() -> None:
    materials = load_materials()
    assert not set(materials.with_role("reference")) & set(materials.printable)


@pytest.mark.parametrize("id", PRINTABLE)
def test_printable_material_has_what_a_run_needs(id: str) -> None:
    material = load_materials().get(id)
    assert [name for name in NEEDED_TO_RUN if material.value(name) is None] == []
    if material.morphology == "semicrystalline":
        assert material.value("melting_point") is not None


@pytest.mark.parametrize("id", SEALS)
def test_seal_has_what_swelling_needs(id: str) -> None:
    material = load_materials().get(id)
    needed = ("density", "glass_transition", "crosslink_density", "diffusion_liquid", "diffusion_activation",
              "thermal_expansion", "service_temperature")  # fmt: skip
    assert [name for name in needed if material.value(name) is None] == []


def test_one_main_row_or_a_gap() -> None:
    """No property has two main rows; the few that only have rows of another state count as gaps."""
    raw = read_table("properties")
    mains = raw.assign(main=raw["use"] == "main").groupby(["material", "property"])["main"].sum()
    assert mains[mains > 1].to_dict() == {}
    assert set(mains[mains == 0].index) <= {("pla", "compressive_strength"), ("tpu", "deflection_temperature_045")}


def test_curve_rows_have_a_temperature() -> None:
    raw = read_table("properties")
    assert raw[(raw["use"] == "curve") & raw["temperature_C"].isna()].index.tolist() == []


def test_filler_and_base_agree() -> None:
    materials = load_materials()
    for id in materials.ids:
        material = materials.get(id)
        assert bool(material.filler) == (material.filler_mass_fraction > 0), id
        assert materials.get(material.base).base == material.base, f"{id}: its base is itself a variant"
        if material.filler:
            assert material.base != id


def test_symbols_of_filled_grades_carry_the_fraction() -> None:
    """ISO 1043-2: code letter of the filler, then its mass percentage."""
    for material in (load_materials().get(id) for id in load_materials().printable):
        if material.filler:
            assert material.symbol.endswith(f"{material.filler_mass_fraction * 100:.0f}"), material.symbol


def test_values_are_in_si() -> None:
    materials = load_materials()
    units = set(materials.table["unit"])
    assert units <= {si_unit(unit) for unit in known_units()}
    glass = materials.value("pc", "glass_transition")
    assert glass is not None
    assert glass.unit == "K"
    assert 410 < glass.low <= glass.typical <= glass.high < 440
    raw = read_table("properties")
    row = raw[(raw["material"] == "pc") & (raw["property"] == "tensile_strength") & (raw["use"] == "main")].iloc[0]
    strength = materials.value("pc", "tensile_strength")
    assert strength is not None
    assert strength.typical == pytest.approx(row["typical"] * 1e6, rel=1e-12)


def test_a_gap_is_none_and_an_unknown_name_is_an_error() -> None:
    materials = load_materials()
    assert materials.value("pc", "melting_point") is None, "an amorphous polymer does not melt"
    with pytest.raises(UnknownName, match="nearest known: peek"):
        materials.get("peeek")
    with pytest.raises(LookupError, match="unknown property 'glass_transitoin'; nearest known: glass_transition"):
        materials.value("pc", "glass_transitoin")


def test_value_rows_main_curve_and_others() -> None:
    def row(use: str, temperature: float, typical: float) -> Value:
        return Value(typical, typical, typical, "Pa", temperature, "", "", "", "", "", use)

    rows = (row("curve", 400.0, 2.0), row("main", math.nan, 5.0), row("curve", 300.0, 4.0), row("other", math.nan, 7.0))
    material = Material(
        "x", "x", "X", "", "amorphous", "free", "as made", (), "x", "", 0.0, "filament", "", {"tensile_strength": rows}
    )
    value = material.value("tensile_strength")
    assert value is not None
    assert value.typical == 5.0
    assert [point.typical for point in material.curve("tensile_strength")] == [4.0, 2.0]
    assert [other.typical for other in material.others("tensile_strength")] == [7.0]
    assert material.value("density") is None


def test_table_is_tidy_and_protected() -> None:
    materials = load_materials()
    table = materials.table
    assert {"material", "name", "property", "low", "typical", "high", "unit", "condition", "source", "how"} <= set(
        table
    )
    table.loc[:, "typical"] = 0.0
    assert (materials.table["typical"] != 0.0).any()
    assert set(table["property"]) <= set(known_properties())


def test_every_row_has_source_and_how() -> None:
    raw = read_table("properties")
    assert (raw["source"] != "").all()
    assert set(raw["how"]) <= {"looked up", "handbook, from memory", "common practice"}
    assert set(raw["source"]) <= set(load_sources())


def test_looked_up_rows_say_where() -> None:
    """What is said to be looked up can be looked up again: its source has an address."""
    sources = load_sources()
    for name in ("properties", "hansen_spheres", "contact_observations", "surfaces"):
        raw = read_table(name)
        looked_up = set(raw[raw["how"] == "looked up"]["source"])
        assert sorted(id for id in looked_up if not sources[id].address) == [], name


def test_sources_of_practice_are_not_cited_as_read() -> None:
    raw = read_table("properties")
    practice = {id for id, row in load_sources().items() if row.kind == "common practice"}
    assert raw[(raw["how"] == "looked up") & raw["source"].isin(practice)].index.tolist() == []


def test_citation_reads_as_one_line() -> None:
    assert source("heywood_1988").citation.startswith("Heywood J B (1988), Internal Combustion Engine Fundamentals")
    with pytest.raises(UnknownName, match="nearest known: heywood_1988"):
        source("heywood_1989")
