"""A remark in a table is for people: reworded, it changes no number, no outcome and no life. Nor does a material's name decide."""

from __future__ import annotations

import ast
import csv
import shutil
import sys
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import screening
from screening import assess_contact, find_fuel, load_case, load_materials, screen
from screening.judgement.contact.pair import EXPOSURES
from screening.records.hazards.cautions import load_cautions
from screening.records.materials.spheres import load_near_polymers, load_observations, load_spheres
from screening.records.tables import package
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.printers import load_printer_classes
from screening.records.tables.surfaces import load_surfaces

SOURCE = Path(screening.__file__).parent
REMARKS = {"condition", "conditions", "method", "note", "meaning", "why"}
"""Columns that are words for people, in whatever table they stand."""
NAMED_IN_CODE = {
    "aluminium": "the bore where a case names none, and the cap that is tried where a piston has none",
}
FUELS = ("ethanol", "acetone", "petrol E0", "toluene")


def _forget() -> None:
    """Let every table be read anew."""
    for name, module in list(sys.modules.items()):
        if name.startswith("screening"):
            for value in list(vars(module).values()):
                if hasattr(value, "cache_clear"):
                    value.cache_clear()


@pytest.fixture
def reworded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Return a copy of the tables in which every remark says something else; all that is kept is forgotten."""
    folder = Path(shutil.copytree(package.data_folder(), tmp_path / "tables"))
    changed = 0
    for path in folder.glob("*.csv"):
        rows = list(csv.reader(path.read_text("utf-8").splitlines(keepends=True)))
        places = [i for i, name in enumerate(rows[0]) if name in REMARKS]
        for number, row in enumerate(rows[1:]):
            for i in places:
                row[i] = f"remark {number}"
                changed += 1
        with path.open("w", encoding="utf-8", newline="") as stream:
            csv.writer(stream, lineterminator="\n").writerows(rows)
    assert changed > 5000
    monkeypatch.setattr(package, "data_folder", lambda: folder)
    _forget()
    yield folder
    monkeypatch.undo()
    _forget()


def answers() -> dict[str, object]:
    """Outcomes and swells of every polymer in four fuels, and the lives of a few: what remarks must not move."""
    ids = [id for id in load_materials().ids if load_materials().get(id).morphology not in ("metal", "ceramic")]
    contacts = {
        (id, fuel, exposure): (c.outcome, c.volume_swell, c.evidence)
        for id in ids
        for fuel in FUELS
        for exposure in EXPOSURES
        for c in [assess_contact(id, find_fuel(fuel), exposure=exposure)]
    }
    result = screen(load_case("cyclopentanone_blend"), draws=20, materials=["abs", "pa66", "pps_gf", "tpu"])
    lives = {id: result.material(id).life.tolist() for id in result.materials}
    printing = {
        f"{id}, printed": [str(care) for care in result.material(id).printability.reasons] for id in result.materials
    }
    return {"contacts": contacts} | lives | printing


def typed_records() -> dict[str, list[object]]:
    """Everything that the tables' readers give, but for the remarks."""
    materials = load_materials()
    rows: list[object] = [materials.get(id) for id in materials.ids]
    values = [value for id in materials.ids for rows in materials.get(id).values.values() for value in rows]
    kept = {"materials": rows, "values": values, "cautions": load_cautions()}
    for name, load in (
        ("spheres", load_spheres), ("observations", load_observations), ("near", load_near_polymers),
        ("surfaces", load_surfaces), ("printers", load_printer_classes), ("assumptions", load_assumptions),
    ):  # fmt: skip
        kept[name] = [
            record for entry in load().values() for record in (entry if isinstance(entry, tuple) else (entry,))
        ]
    return {name: [_without_remarks(record) for record in records] for name, records in kept.items()}


def _without_remarks(record: Any) -> str:
    parted = {field.name: getattr(record, field.name) for field in fields(record)}
    return repr({name: value for name, value in parted.items() if name not in REMARKS | {"values"}})


def test_remarks_reworded_change_no_answer(request: pytest.FixtureRequest) -> None:
    before, records = answers(), typed_records()
    request.getfixturevalue("reworded")
    assert load_materials().get("abs").value("density").note.startswith("remark")
    after = answers()
    assert typed_records() == records
    for key, contact in before["contacts"].items():
        outcome, swell, evidence = after["contacts"][key]
        assert (outcome, evidence) == (contact[0], contact[2]), key
        np.testing.assert_equal(swell, contact[1])
    assert {k: v for k, v in after.items() if k != "contacts"} == {k: v for k, v in before.items() if k != "contacts"}


def test_one_metal_is_the_baseline_and_one_the_ring() -> None:
    """Which they are is the table's to say; a second row would leave it open."""
    assert [load_materials().with_role(role) for role in ("baseline", "ring")] == [("aluminium",), ("cast_iron",)]


def test_no_code_decides_by_a_materials_id() -> None:
    ids = set(load_materials().ids)
    named = set()
    for path in SOURCE.rglob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        in_words = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and node.value in ids and id(node) not in in_words:
                named.add(node.value)
    assert named - set(NAMED_IN_CODE) == set()
    assert set(NAMED_IN_CODE) <= named
