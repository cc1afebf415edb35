"""What is checked against published values is counted: no row goes unnoticed, and no check covers fewer of them."""

from __future__ import annotations

import csv
import importlib.util
import re
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import prod
from pathlib import Path
from types import ModuleType

import pytest

TESTS = Path(__file__).parent


@dataclass(frozen=True)
class Checked:
    """How many `rows` a published table has, and how many of them each test of a file runs through.

    A test that takes its rows by `parametrize` has as many cases; of one that goes through them by itself `covered`
    counts them, all but the `not_covered`.
    """

    rows: int
    file: str
    tests: dict[str, int]
    covered: Callable[[ModuleType], int] | None = None
    not_covered: int = 0


def _named(quantities: str) -> Callable[[ModuleType], int]:
    """Return what counts the quantities of a table that the text of the checking file names."""

    def counted(module: ModuleType) -> int:
        text = Path(str(module.__file__)).read_text("utf-8")
        return sum(f'"{row["quantity"]}"' in text for row in rows_of(quantities))

    return counted


CHECKED = {
    "black_body_fractions.csv": Checked(
        9, "physics/head/test_thermometry.py", {"test_share_of_all_radiation_below_a_wavelength": 9}
    ),
    "conduction_examples.csv": Checked(3, "physics/crown/test_crown_conduction.py", {"test_worked_example": 3}),
    "conduction_heat_capacity.csv": Checked(
        5, "physics/crown/test_heat_capacity.py", {"test_slopes_of_van_krevelen": 5}
    ),
    "conduction_plane_wall.csv": Checked(
        3, "physics/crown/test_crown_conduction.py", {"test_first_root_of_the_series_is_the_published_one": 3}
    ),
    "contact_clear_pairs.csv": Checked(
        518,
        "judgement/contact/test_contact_record.py",
        {"test_frozen_list_is_what_the_rule_chose": 1, "test_record_with_what_was_seen_left_out": 2},
        lambda module: len(module.clear_pairs().merge(module.pd.read_csv(module.FROZEN), on=["material", "fluid"])),
        not_covered=1,  # silicone rubber in propylene carbonate: looked up since, where the word is a translation
    ),
    "contact_interaction_parameters.csv": Checked(
        48,
        "physics/contact/test_interaction.py",
        {"test_published_interaction_parameters": 1},
        lambda module: len(module._pairs()),
    ),
    "contact_known_pairs.csv": Checked(22, "judgement/contact/test_contact.py", {"test_known_pairs_are_foretold": 22}),
    "contact_misses.csv": Checked(
        111, "judgement/contact/test_contact_record.py", {"test_every_miss_has_its_cause_listed": 2}
    ),
    "film_by_hand.csv": Checked(3, "physics/cylinder/test_film.py", {"test_coefficients_by_hand": 3}),
    "flame_turns_b1.csv": Checked(
        5, "physics/cylinder/test_combustion.py", {"test_flame_temperature_of_turns_table_b1": 5}
    ),
    "fuel_tables.csv": Checked(
        67, "records/liquids/test_fuels_published.py", {"test_value_is_that_of_the_published_table": 67}
    ),
    "materials_second_source.csv": Checked(
        38, "records/tables/test_second_source.py", {"test_typical_value_lies_in_the_second_sources_range": 38}
    ),
    "network_swelling.csv": Checked(
        9,
        "physics/contact/test_flory.py",
        {"test_chain_mass_of_a_published_exercise": 1, "test_one_liquid_foretells_another": 1},
        _named("network_swelling.csv"),
    ),
    "plate_limit_loads.csv": Checked(
        4, "physics/strength/test_plate.py", {"test_published_edge_factors_come_out_of_limit_analysis": 4}
    ),
    "thermal_growth.csv": Checked(2, "physics/skirt/test_fit.py", {"test_worked_examples_of_growth": 2}),
}
"""Published table -> its rows and the tests that go through them: to be changed only together with the table."""


def rows_of(name: str) -> list[dict[str, str]]:
    """Return the rows of a published table."""
    with (TESTS / "published" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@lru_cache(maxsize=32)
def module_of(file: str) -> ModuleType:
    """Return a file of tests as a module."""
    path = TESTS / file
    spec = importlib.util.spec_from_file_location(f"checked_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def cases_of(module: ModuleType, test: str) -> int:
    """Return how often a test runs, by its marks."""
    marks = getattr(getattr(module, test), "pytestmark", [])
    return prod(len(list(mark.args[1])) for mark in marks if mark.name == "parametrize")


def test_every_published_table_is_counted() -> None:
    assert {path.name for path in (TESTS / "published").glob("*.csv")} == set(CHECKED)


@pytest.mark.parametrize("name", sorted(CHECKED))
def test_table_has_its_rows_and_each_test_its_cases(name: str) -> None:
    checked, module = CHECKED[name], module_of(CHECKED[name].file)
    assert len(rows_of(name)) == checked.rows
    assert {test: cases_of(module, test) for test in checked.tests} == checked.tests
    if checked.covered is not None:
        assert checked.covered(module) == checked.rows - checked.not_covered
    assert name.removesuffix(".csv") in (TESTS / checked.file).read_text("utf-8") or checked.covered is not None


def test_only_what_the_machine_lacks_is_skipped() -> None:
    """What does not apply is not collected, so that a skip always says that something was not checked."""
    skipping = re.compile(r"pytest\.(skip|importorskip|mark\.skip|mark\.skipif|mark\.xfail|xfail)\b")
    found = {
        path.relative_to(TESTS).as_posix()
        for path in TESTS.rglob("*.py")
        if path != Path(__file__) and skipping.search(path.read_text("utf-8"))
    }
    assert found == {
        "app/conftest.py",  # no Chromium
        "judgement/case/test_case_file.py",  # no device files
    }
