"""The open tables: valid by an independent validator, and refused with one clear sentence when they are not."""

from __future__ import annotations

import shutil
import warnings
from collections.abc import Callable
from pathlib import Path

import pytest

from screening.errors import DataError, UnknownName
from screening.records.materials.materials import load_materials
from screening.records.tables.package import (
    data_digest,
    data_folder,
    read_rows,
    read_table,
    table_description,
    table_names,
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the tables that a test may break."""
    shutil.copytree(data_folder(), tmp_path / "tables")
    return tmp_path / "tables"


def _change(folder: Path, table: str, old: str, new: str) -> None:
    path = folder / f"{table}.csv"
    text = path.read_text(encoding="utf-8")
    assert old in text, f"the test expects {old!r} in {table}.csv"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def _append(folder: Path, table: str, line: str) -> None:
    with (folder / f"{table}.csv").open("a", encoding="utf-8") as file:
        file.write(line + "\n")


def test_frictionless_finds_nothing_wrong() -> None:
    """Every CSV fits its Table Schema, keys, number of rows and digest included, by the reference library.

    A row added, taken out or mended: its table's `rows` and `hash` in datapackage.json are to follow, see the message.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from frictionless import Package, Resource

        package = Package(str(data_folder() / "datapackage.json"))
        report = package.validate()
    errors = report.flatten(["name", "rowNumber", "fieldName", "message"])
    assert report.valid, errors[:10]
    assert len(package.resources) >= 12
    assert all(isinstance(resource, Resource) for resource in package.resources)


def test_package_lists_every_csv() -> None:
    assert {path.stem for path in data_folder().glob("*.csv")} == set(table_names())


def test_package_is_described() -> None:
    """Each table says what its rows are, each column what it holds; a number column names its unit."""
    for name in table_names():
        described = table_description(name)
        assert len(described["description"]) > 20, name
        for field in described["schema"]["fields"]:
            assert field["description"], (name, field["name"])


@pytest.mark.parametrize("name", table_names())
def test_table_reads(name: str) -> None:
    frame = read_table(name)
    assert len(frame) > 0
    assert len(read_rows(name)) == len(frame)
    for field in table_description(name)["schema"]["fields"]:
        if field["type"] == "string":
            assert not frame[field["name"]].isna().any(), "a gap in a text column is an empty text"


def test_read_table_returns_a_copy() -> None:
    first = read_table("materials")
    first.loc[:, "name"] = "spoiled"
    assert "spoiled" not in set(read_table("materials")["name"])


def test_digest_follows_the_values(folder: Path) -> None:
    before = data_digest(folder)
    assert before == data_digest()
    _append(folder, "sources", "a_source,,,A title,,,,paper,")
    assert data_digest(folder) != before


def test_unknown_table_offers_near_names() -> None:
    with pytest.raises(UnknownName, match="unknown table 'material'; nearest known: materials"):
        read_table("material")


def test_an_edited_table_that_fits_is_read(folder: Path) -> None:
    _append(folder, "surfaces", "mirror,a mirror,0.02,0.03,0.05,,trade_practice,common practice,silvered")
    edited, whole = read_table("surfaces", folder), read_table("surfaces")
    assert edited.iloc[:-1].equals(whole)
    assert edited["high"].iloc[-1] == 0.05
    assert edited.index[-1] == len(whole) + 2


@pytest.mark.parametrize(
    ("kept", "told"),
    [
        (
            lambda text: "".join(text.splitlines(keepends=True)[:9]),
            "row 9: the table ends here with 8 rows, should have 26",
        ),
        (lambda text: text[:-3], "the table ends within this row, should end with a line end: it was cut short"),
        (lambda text: "", "row 1: column 'surface' is missing"),
        (lambda text: text.rstrip().rpartition(",")[0].rpartition(",")[0] + "\n", "8 cells, should be 9"),
    ],
)
def test_a_table_cut_short_is_refused(folder: Path, kept: Callable[[str], str], told: str) -> None:
    path = folder / "surfaces.csv"
    path.write_text(kept(path.read_text(encoding="utf-8")), encoding="utf-8")
    with pytest.raises(DataError, match=rf"surfaces\.csv, row \d+: .*{told.partition(': ')[2] or told}"):
        read_table("surfaces", folder)


def test_a_table_that_is_not_there_is_named(folder: Path) -> None:
    (folder / "surfaces.csv").unlink()
    with pytest.raises(DataError, match=r"surfaces\.csv: cannot be read"):
        read_table("surfaces", folder)


def test_a_fault_of_a_table_referred_to_is_named(folder: Path) -> None:
    """A table of the digest described is not read when the sources it names are damaged."""
    path = folder / "sources.csv"
    path.write_text("".join(path.read_text(encoding="utf-8").splitlines(keepends=True)[:40]), encoding="utf-8")
    with pytest.raises(DataError, match=r"sources\.csv, row 40: the table ends here with 39 rows"):
        read_table("surfaces", folder)


@pytest.mark.parametrize("number", ["nan", "-inf", "Infinity"])
def test_a_number_that_is_none_is_named(folder: Path, number: str) -> None:
    _append(folder, "properties", f"abs,density,1000,{number},1100,kg/m3,20,x,,other,mark_2007,looked up,,")
    with pytest.raises(DataError, match=rf"column typical: is {number}, should be a finite number"):
        read_table("properties", folder)


def test_missing_column_is_named(folder: Path) -> None:
    _change(folder, "properties", "temperature_C", "temperature")
    with pytest.raises(
        DataError, match=r"properties\.csv, row 1: column 'temperature_C' is missing.*'temperature' is not"
    ):
        read_table("properties", folder)


def test_text_in_a_number_is_named(folder: Path) -> None:
    _append(folder, "properties", "abs,density,1e3,about 1050,1100,kg/m3,20,x,,other,mark_2007,looked up,,")
    rows = len((folder / "properties.csv").read_text(encoding="utf-8").splitlines())
    with pytest.raises(
        DataError, match=rf"properties\.csv, row {rows}, column typical: is 'about 1050', should be a number"
    ):
        load_materials(folder)


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("abs,crystallinity,0,0,5,1,1,,,,other,mark_2007,looked up,,", "15 cells, should be 14"),  # a decimal comma
        (
            "peeek,density,1000,1050,1100,kg/m3,20,,,other,mark_2007,looked up,,",
            r"column material: is 'peeek', should be a id of materials\.csv \(nearest: peek",
        ),
        (
            "abs,density,1000,1050,1100,kg/m3,20,,,other,hearsay,looked up,,",
            r"column source: is 'hearsay', should be a id of sources\.csv",
        ),
        (
            "abs,density,1000,1050,1100,kg/m3,20,,,other,mark_2007,guessed,,",
            "column how: is 'guessed', should be one of those described, such as: looked up",
        ),
        (
            "abs,density,1000,1051,1100,kg/m3,20,twin,,main,mark_2007,looked up,,",
            "column use: a second main row of density of abs",
        ),
        (
            "abs,density,1200,1051,1100,kg/m3,20,x,,other,mark_2007,looked up,,",
            "low 1200, typical 1051, high 1100, should rise from low to high",
        ),
        (
            "abs,density,1,1.05,1.1,GPa,20,x,,other,mark_2007,looked up,,",
            "column unit: density in GPa, should be in kg/m3",
        ),
    ],
)
def test_fault_of_a_row_is_named(folder: Path, row: str, told: str) -> None:
    _append(folder, "properties", row)
    with pytest.raises(DataError, match=told):
        load_materials(folder)


def test_repeated_key_is_named(folder: Path) -> None:
    first = (folder / "materials.csv").read_text(encoding="utf-8").splitlines()[1]
    _append(folder, "materials", first)
    with pytest.raises(DataError, match=r"repeats an earlier row \(id pla\)"):
        load_materials(folder)


def test_value_out_of_range_is_named(folder: Path) -> None:
    _append(folder, "surfaces", "mirror,a mirror,0.1,0.2,1.3,,trade_practice,common practice,")
    with pytest.raises(DataError, match=r"column high: is 1\.3, should be between 0\.01 and 1"):
        read_table("surfaces", folder)


def test_many_faults_are_counted(folder: Path) -> None:
    for i in range(9):
        _append(folder, "properties", f"nothing_{i},density,1,2,3,kg/m3,20,,,other,mark_2007,looked up,,")
    with pytest.raises(DataError, match="and 4 more"):
        load_materials(folder)


def test_not_utf8_is_named(folder: Path) -> None:
    (folder / "surfaces.csv").write_bytes("surface,größe".encode("latin-1"))
    with pytest.raises(DataError, match=r"surfaces\.csv: cannot be read as UTF-8"):
        read_table("surfaces", folder)


def test_broken_description_is_named(folder: Path) -> None:
    (folder / "datapackage.json").write_text("{", encoding="utf-8")
    with pytest.raises(DataError, match="not a readable data package"):
        read_table("surfaces", folder)
