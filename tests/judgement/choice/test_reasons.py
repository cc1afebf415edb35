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


@pytest.mark.parametrize(("id", "told"), [("pa66", "It grows"), ("pa6_gf", "reckoned dry"), ("abs", "")])
def test_moist_polyamide_says_what_it_is_reckoned_with(id: str, told: str) -> None:
    """The table has a moist strength of polyamide 66, none of one filled with glass; ABS takes up next to nothing."""
    document = load_case("cyclopentanone_blend").to_dict()
    document["piston"]["polyamide_state"] = "conditioned"
    said = " ".join(map(worded, screen(load_case(document), 10, materials=[id]).material(id).reasons))
    assert ("takes up water from the air" in said) is bool(told)
    assert told in said
    assert ("reckoned dry" in said) is (told == "reckoned dry")


def test_load_sentence_tells_burst_run_and_start(result: Screening) -> None:
    """One number of the cold proof in both places, and both loads."""
    story = result.material("pa66")
    assert story.bursts_at is not None
    said = " ".join(map(worded, story.reasons))
    assert f"bursts at about {story.bursts_at[1] / 1e5:.0f} bar" in said
    start = np.quantile(result.gas["start_load"], (0.5, 0.95)) / 1e5
    assert f"the start strikes it with up to {start[0]:.0f} bar ({start[1]:.0f} in one draw of twenty)" in said
