"""Surfaces, printer classes, assumptions, cautions, spheres and observations."""

from __future__ import annotations

import math
import shutil
from pathlib import Path

import pytest

from screening.errors import DataError, UnknownName
from screening.quantities import to_si
from screening.records.hazards.cautions import fuel_cautions, load_cautions, material_cautions, work_cautions
from screening.records.liquids.find_fuel import known_fuels
from screening.records.materials.materials import load_materials
from screening.records.materials.spheres import OUTCOMES, load_observations, load_spheres
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.package import data_folder, read_table
from screening.records.tables.printers import load_printer_classes, printer_class
from screening.records.tables.surfaces import find_surface, load_surfaces


def test_surfaces_bare_metal_radiates_little_and_paint_much() -> None:
    assert find_surface("bare_cast_aluminium").high < 0.5
    assert find_surface("Matt black high-temperature paint").low >= 0.9
    assert find_surface("masking tape, paper").highest_temperature == pytest.approx(373.15)
    assert math.isnan(find_surface("soot").highest_temperature)
    with pytest.raises(UnknownName, match="nearest known: bare_cast_aluminium"):
        find_surface("cast_aluminium")
    assert len(load_surfaces()) >= 20


def test_printer_classes_grow_hotter() -> None:
    nozzles = [row.nozzle for row in load_printer_classes().values()]
    assert nozzles == sorted(nozzles)
    assert printer_class("heated_chamber").chamber_heated
    assert not printer_class("open_frame").chamber_heated
    with pytest.raises(UnknownName, match="open_frame"):
        printer_class("open_fram")


def test_assumptions_are_si_and_in_order() -> None:
    assumptions = load_assumptions()
    assert assumptions["speed"].typical == pytest.approx(50.0)
    assert assumptions["ambient"].typical == pytest.approx(293.15)
    for row in assumptions.values():
        assert row.low <= row.typical <= row.high, row.name
        assert row.distribution != "lognormal" or row.low > 0, row.name
        assert row.meaning, row.name


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("odd,1,2,3,furlong,normal,never,run,x,trade_practice,common practice,", "column unit: is 'furlong'"),
        ("odd,3,2,1,K,normal,never,run,x,trade_practice,common practice,", "should rise from low to high"),
        ("odd,0,2,3,K,lognormal,never,run,x,trade_practice,common practice,", "should be above zero for a lognormal"),
        ("odd,1,2,3,K,gamma,never,run,x,trade_practice,common practice,", "column distribution: is 'gamma'"),
    ],
)
def test_a_wrong_assumption_is_named(tmp_path: Path, line: str, message: str) -> None:
    folder = Path(shutil.copytree(data_folder(), tmp_path / "tables"))
    with (folder / "assumptions.csv").open("a", encoding="utf-8") as file:
        file.write(line + "\n")
    with pytest.raises(DataError, match=message):
        load_assumptions(folder)


@pytest.mark.parametrize("id", load_materials().printable)
def test_every_printable_material_is_warned_of(id: str) -> None:
    hazards = " ".join(caution.hazard for caution in material_cautions(id))
    assert "carbon monoxide" in hazards


@pytest.mark.parametrize(
    ("id", "fume"),
    [
        ("abs", "hydrogen cyanide"), ("asa", "hydrogen cyanide"), ("pa6", "hydrogen cyanide"),
        ("nbr", "hydrogen cyanide"),
        ("pvdf", "hydrogen fluoride"), ("ptfe", "hydrogen fluoride"), ("fkm", "hydrogen fluoride"),
        ("pvc", "hydrogen chloride"), ("pom", "formaldehyde"), ("tpu", "isocyanates"), ("pps", "sulphur oxides"),
        ("pps_cf", "sulphur oxides"), ("ppsu", "sulphur oxides"), ("hips", "styrene"), ("pa6_cf", "caprolactam"),
    ],
)  # fmt: skip
def test_known_fumes_are_named(id: str, fume: str) -> None:
    assert any(fume in caution.hazard for caution in material_cautions(id))


def test_fumes_start_no_later_than_decomposition_shows() -> None:
    """A warning may come early, never more than 40 K after the table's typical decomposition onset."""
    late = []
    for caution in load_cautions():
        if caution.subject_kind == "polymer" and caution.hazard == "carbon monoxide":
            onset = load_materials().value(caution.subject, "decomposition_onset")
            if onset is not None and caution.onset > onset.typical + 40:
                late.append(caution.subject)
    assert late == []


def test_every_known_fuel_but_water_is_warned_of() -> None:
    assert [name for name in known_fuels() if not fuel_cautions(name)] in ([], ["water"])


def test_fire_warnings_are_not_above_the_flash_point() -> None:
    table = read_table("fuel_properties")
    flash = table[table["property"] == "flash_point"].set_index("fuel")["typical"]
    for name, value in flash.items():
        for caution in fuel_cautions(str(name)):
            if caution.hazard.startswith("fire") and math.isfinite(caution.onset):
                assert caution.onset <= to_si(float(value), "degC") + 4, name


def test_work_cautions() -> None:
    topics = [caution.subject for caution in work_cautions()]
    assert topics[0] == "rules first"
    for topic in (
        "how to stop",
        "fragments",
        "no bystanders",
        "extinguisher",
        "ventilation",
        "gloves",
        "static",
        "hot metal",
    ):
        assert topic in topics
    assert "fuel AND air" in work_cautions("how to stop")[0].first_advice
    with pytest.raises(UnknownName, match="extinguisher"):
        work_cautions("extingisher")


def test_spheres_and_observations() -> None:
    spheres, observations = load_spheres(), load_observations()
    assert sum(len(rows) for rows in spheres.values()) >= 45
    rows = [row for found in observations.values() for row in found]
    assert len(rows) >= 200
    assert {row.outcome for row in rows} <= set(OUTCOMES)
    for row in rows:
        assert math.isnan(row.temperature) or 200 < row.temperature < 500
        if math.isfinite(row.volume_change) and row.outcome == "none":
            assert abs(row.volume_change) <= 0.0201, (row.material, row.fluid)
