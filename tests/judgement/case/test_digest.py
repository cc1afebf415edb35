"""A case has a digest of its own for each of its values, so that no answer is ever shown for another case."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

import pytest
from judgement.spied_cases import CAPPED, GIVEN, THROTTLED

from screening import load_case
from screening.errors import CaseError
from screening.judgement.case.case import Case

PROBE = {"kind": "piston probe", "temperature_C": 190, "uncertainty_K": 12, "depth_mm": 2, "time_s": 300}
MORE = {"probe": PROBE, "notes": "nothing"}
OTHER_TEXT = {
    "build": "metal crown on polymer skirt", "material": "silicone_ceramic_paint", "bore_material": "steel", "fuel": "isooctane",
    "print_direction": "crown flat on bed", "formula": "C3H8O", "surface": "soot", "kind": "temperature plug",
    "fluid": "methanol", "webs": "none", "start": "governed", "polyamide_state": "dry",
    "bundled": "cyclopentanone_blend_log", "based_on": "asa",
}  # fmt: skip


def places(value: Any, where: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield where each number, word and switch of a document stands."""
    if isinstance(value, dict | list):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from places(inner, (*where, key))
    elif where[0] not in ("format", "version"):
        yield where


def changed(document: dict[str, Any], where: tuple[Any, ...]) -> dict[str, Any]:
    """Return the document with another value in one place."""
    other = copy.deepcopy(document)
    part: Any = other
    for step in where[:-1]:
        part = part[step]
    value, key = part[where[-1]], where[-1]
    if isinstance(value, bool):
        part[key] = not value
    elif isinstance(value, str):
        part[key] = OTHER_TEXT.get(key, value.replace("60,", "61,") if key == "log" else f"{value}x")
    else:
        part[key] = round(value * 1.01, 6)
    return other


DOCUMENTS = {"given": GIVEN | MORE, "throttled": THROTTLED, "capped": CAPPED}
REFUSED = {("given", ("piston", "build")), ("given", ("own_materials", 0, "id"))}
"""Layers belong to another build, and a soak test to the material by its id: these do not change alone."""
PLACES = [(name, where) for name, document in DOCUMENTS.items() for where in places(document)]


def loaded(document: dict[str, Any]) -> Case | None:
    """Return the case, or None where it is refused."""
    try:
        return load_case(document)
    except CaseError:
        return None


@pytest.mark.parametrize(("name", "where"), PLACES, ids=["-".join(map(str, (n, *w))) for n, w in PLACES])
def test_another_value_is_another_case(name: str, where: tuple[Any, ...]) -> None:
    document = DOCUMENTS[name]
    case, other = load_case(document), loaded(changed(document, where))
    if (name, where) in REFUSED:
        assert other is None
        return
    assert other is not None
    assert other.digest != case.digest
    assert other != case


def test_order_of_keys_is_no_difference() -> None:
    turned = {key: GIVEN[key] for key in reversed(GIVEN)}
    assert load_case(turned).digest == load_case(GIVEN).digest
