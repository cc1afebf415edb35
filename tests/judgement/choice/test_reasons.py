"""The reasons in words: what has burned away is gone, not unknown."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from screening import Screening, load_case, screen
from screening.judgement.choice.reasons import _heat_sentence
from screening.sentences import Units, worded


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("cyclopentanone_blend"), 20, materials=["pa66"])


def test_a_face_that_is_there_is_told_with_its_range(result: Screening) -> None:
    story = result.material("pa66")
    assert story.history is not None
    said = str(_heat_sentence(story.material, story.history, 3.0))
    assert "the gas-side face is at about" in said
    assert "unknown" not in said
    assert "gone" not in said


def test_temperatures_are_worded_in_the_unit_asked_for(result: Screening) -> None:
    """Polyamide 66 melts at 255 to 268 °C by the table of materials, 491 to 514 °F."""
    story = result.material("pa66")
    assert story.history is not None
    said = worded(_heat_sentence(story.material, story.history, 3.0), Units("°F"))
    assert "°C" not in said
    melts = said.partition("melts at ")[2].partition(" °F")[0]
    assert 491 <= float(melts) <= 514


def test_a_crown_burned_through_is_gone(result: Screening) -> None:
    story = result.material("pa66")
    assert story.history is not None
    nothing = np.full_like(story.history.surface, np.nan)
    said = str(_heat_sentence(story.material, replace(story.history, surface=nothing, back=nothing), 3.0))
    assert "it is gone" in said
    assert "unknown" not in said


def test_the_hot_end_may_be_gone_while_half_still_stand(result: Screening) -> None:
    story = result.material("pa66")
    assert story.history is not None
    surface = story.history.surface.copy()
    surface[2] = np.nan
    said = str(_heat_sentence(story.material, replace(story.history, surface=surface), 3.0))
    assert "to gone where it burned through" in said
    assert "unknown" not in said
