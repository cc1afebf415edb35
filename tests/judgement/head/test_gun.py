"""A gun's reading off a named surface, with its range and the advice that goes with it."""

from __future__ import annotations

import json
import math

import pytest

from screening.errors import OutOfRange, UnknownName
from screening.judgement.head.gun import MIRROR, PAINT, read_gun
from screening.records.tables.surfaces import load_surfaces
from screening.report.head.gun_text import gun_document, gun_sheet

ROOM = 293.15


def test_bare_metal_is_far_hotter_than_it_reads_and_hardly_known() -> None:
    found = read_gun(333.15, "bare_cast_aluminium", 0.95, ROOM, ROOM)
    assert found.low < found.typical < found.high
    assert found.typical - found.reading > 60
    assert found.high - found.low > 50
    assert (found.advice[0], found.advice[-1]) == (PAINT, MIRROR)
    ends = [f"{kelvin - 273.15:.0f}" for kelvin in (found.low, found.high)]
    assert f"{ends[0]} to {ends[1]} °C" in str(found.advice[1]), (
        "paint of the gun's own setting reads the temperature itself"
    )


def test_black_paint_is_nearly_right_and_needs_no_advice() -> None:
    found = read_gun(333.15, "matt_black_paint", 0.95, ROOM, ROOM)
    assert found.typical == pytest.approx(333.15, abs=0.01)
    assert found.high - found.low < 5
    assert found.advice == ()


def test_a_polished_surface_is_hardly_known_though_its_emissivity_is_small() -> None:
    found = read_gun(368.15, "polished_aluminium", 0.95, ROOM, ROOM)
    assert found.high - found.low > 100
    assert (found.advice[0], found.advice[-1]) == (PAINT, MIRROR)
    assert "emissivity about 0.05 (0.03 to 0.1)" in gun_sheet(found)
    assert max(map(len, gun_sheet(found).splitlines())) <= 100


def test_tape_past_its_limit_is_warned_of() -> None:
    assert not read_gun(350.0, "masking_tape", 0.95, ROOM, ROOM).advice
    assert "stands about 100 °C" in str(read_gun(380.0, "masking_tape", 0.95, ROOM, ROOM).advice[-1])


@pytest.mark.parametrize("surface", sorted(load_surfaces()))
def test_every_surface_makes_a_sheet_and_a_document(surface: str) -> None:
    found = read_gun(320.0, surface, 0.95, ROOM, ROOM)
    assert found.low <= found.typical <= found.high
    document = gun_document(found)
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    assert document["reading_C"] == 46.85
    assert "The gun, set to 0.95, shows 46.85 °C." in gun_sheet(found)
    assert found.surface.name in gun_sheet(found)


def test_mirrored_and_taken_off_stand_apart_in_sheet_and_document() -> None:
    found = read_gun(353.15, "cast_iron", 0.95, 313.15, 298.15)
    assert "The surface mirrors 40 °C; the gun takes that to be 25 °C." in gun_sheet(found)
    assert (gun_document(found)["surroundings_C"], gun_document(found)["gun_compensates_for_C"]) == (40.0, 25.0)


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"reading": 200.0}, "reading: got -73.15 °C; must be -60 to 1500 °C"),
        ({"reading": math.nan}, "reading: got nan"),
        ({"surroundings": 2000.0}, "surroundings: got 1726.85 °C"),
        ({"compensated_for": 2000.0}, "what the gun compensates for: got 1726.85 °C"),
        ({"gun_emissivity": 0.0}, "gun emissivity: got 0; must be above 0 and at most 1"),
        ({"gun_emissivity": math.nan}, "gun emissivity: got nan"),
        ({"reading": 250.0, "surface": "polished_aluminium"}, "no surface of that emissivity can give it"),
    ],
)
def test_refusals(change: dict[str, float], text: str) -> None:
    good = {
        "reading": 333.15,
        "surface": "bare_cast_aluminium",
        "gun_emissivity": 0.95,
        "surroundings": ROOM,
        "compensated_for": ROOM,
    }
    with pytest.raises(OutOfRange, match=text):
        read_gun(**(good | change))  # type: ignore[arg-type]


def test_an_unknown_surface_is_met_with_the_nearest() -> None:
    with pytest.raises(UnknownName, match="nearest known: bare_cast_aluminium"):
        read_gun(333.15, "bare_cast_aluminum", 0.95, ROOM, ROOM)
