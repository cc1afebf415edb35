"""What a case adds to the table is its base in everything that it does not state: what decides by kind is inherited."""

from __future__ import annotations

from dataclasses import fields

import pytest

from screening import load_case, load_materials
from screening.judgement.case.case import Case
from screening.judgement.draws.polymer import case_material

STATED = {"id", "name", "base", "values"}


def adding(base: str) -> Case:
    material = {"id": "mine", "name": "mine", "based_on": base, "values": {"density": 1100}}
    return load_case(load_case("petrol_baseline").to_dict() | {"own_materials": [material]})


@pytest.mark.parametrize("base", load_materials().ids)
def test_kind_is_that_of_the_base(base: str) -> None:
    """Amorphous or crystalline, free chains or a network, annealed or not, family, filler and roles."""
    listed, mine = load_materials().get(base), case_material(adding(base), "mine")
    for field in fields(listed):
        if field.name not in STATED:
            assert getattr(mine, field.name) == getattr(listed, field.name), field.name
    assert mine.base == listed.base
    assert {name for name in mine.values if mine.values[name] != listed.values.get(name)} == {"density"}
    assert mine.value("density").typical == 1100.0
