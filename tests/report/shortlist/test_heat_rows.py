"""The numbers beside the drawings: what is gone is said to be gone, ranges keep their unit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from screening import load_case, screen
from screening.judgement.choice.crown_history import CrownHistory
from screening.report.shortlist.heat_rows import heat_rows, median_and_range


@pytest.fixture(scope="module")
def history() -> CrownHistory:
    found = screen(load_case("cyclopentanone_blend"), 20, materials=["abs"]).material("abs").history
    assert found is not None
    return found


def test_a_row_tells_face_and_underside_and_what_is_carried(history: CrownHistory) -> None:
    first = heat_rows(history, [1, 10])[0]
    assert list(first) == ["after", "gas-side face", "underside", "softened", "carries", "must carry"]
    assert "unknown" not in first.values()
    assert " mm" in first["softened"]
    assert first["carries"].endswith(" bar")


def test_a_crown_that_is_used_up_is_gone(history: CrownHistory) -> None:
    nothing = np.full_like(history.surface, np.nan)
    for row in heat_rows(replace(history, surface=nothing, back=nothing), [1, 10]):
        assert row["gas-side face"] == row["underside"] == row["softened"] == "gone"
        assert row["carries"] == "nothing"
        assert "unknown" not in row.values()


@pytest.mark.parametrize(
    ("kelvin", "words"),
    [
        ((400.15, 450.15, 500.15), "177 °C (127 to 227 °C)"),
        ((400.15, 450.15, np.nan), "177 °C (127 °C to gone)"),
        ((400.15, np.nan, np.nan), "gone"),
    ],
)
def test_range_of_a_temperature(kelvin: tuple[float, float, float], words: str) -> None:
    assert str(median_and_range(kelvin)) == words
