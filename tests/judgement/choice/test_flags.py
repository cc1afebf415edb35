"""The two warnings that people look for first, on made-up heat and contacts: each answer is reckoned in its test."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from judgement.piston.made_up_crown import material

from screening.judgement.choice.crown_history import CrownHistory
from screening.judgement.choice.flags import softening_flag, swelling_flag
from screening.judgement.choice.verdict import Standing
from screening.judgement.contact.pair import Contact
from screening.sentences import worded

TIMES = np.array([0.0, 5.0, 10.0, 20.0, 40.0])
SOFTENS = 473.15


def history(face: list[float], soft_mm: list[float]) -> CrownHistory:
    """Return the middle draw's heat of a crown of 6 mm that softens at 200 degC."""
    three = cast(Any, SimpleNamespace(
        times=TIMES, surface=np.array([face] * 3), softening=np.full(3, SOFTENS),
        softened_depth=np.array([soft_mm] * 3) / 1e3, thickness=6e-3,
    ))  # fmt: skip
    return cast(CrownHistory, three)


def half_gone_by(median: float) -> Standing:
    return cast(Standing, SimpleNamespace(median=median))


def test_face_that_passes_its_softening_says_when_and_how_deep_it_is_soft_at_half_time() -> None:
    """300, 400, 480 K: past 473.15 K at the look after 10 s; half are gone by 21 s, looked at after 20 s: 1.2 mm."""
    warm = history([300.0, 400.0, 480.0, 500.0, 520.0], [0.0, 0.0, 0.3, 1.2, 2.4])
    flag = worded(softening_flag(material(glass_transition=SOFTENS), warm, half_gone_by(21.0)))
    assert flag == "face past 200 °C after 10 s; 1.2 of 6.0 mm soft at half time"


def test_face_that_never_gets_there_says_so() -> None:
    cool = history([300.0, 350.0, 380.0, 390.0, 400.0], [0.0] * 5)
    flag = worded(softening_flag(material(glass_transition=SOFTENS), cool, half_gone_by(np.inf)))
    assert flag == "face stays below 200 °C"


def test_what_is_limp_in_a_warm_room_says_so_first() -> None:
    """A glass transition of 250 K; less than 0.05 mm is none."""
    warm = history([300.0, 480.0, 490.0, 500.0, 520.0], [0.0, 0.01, 0.02, 0.03, 0.04])
    flag = worded(softening_flag(material(glass_transition=250.0), warm, half_gone_by(10.0)))
    assert flag == "limp in a warm room; face past 200 °C after 5.0 s; none soft at half time"


def test_burned_through_counts_as_past_it() -> None:
    gone = history([300.0, np.nan, np.nan, np.nan, np.nan], [0.0, np.nan, np.nan, np.nan, np.nan])
    flag = worded(softening_flag(material(glass_transition=SOFTENS), gone, half_gone_by(5.0)))
    assert flag == "face past 200 °C after 5.0 s; none soft at half time"


def contacts(**outcomes: str) -> dict[str, Contact]:
    names = {"tank": "soak", "wet": "cold start", "running": "running", "sump": "sump"}
    return {
        names[key]: cast(Contact, SimpleNamespace(exposure=names[key], outcome=outcome, evidence="predicted"))
        for key, outcome in outcomes.items()
    }


@pytest.mark.parametrize(
    ("outcomes", "told"),
    [
        ({"tank": "none", "wet": "slight", "running": "none", "sump": "swells"}, "swells in the sump (predicted)"),
        (
            {"tank": "dissolves", "wet": "slight", "running": "none", "sump": "unknown"},
            "slight on a wet start (predicted); dissolves in the tank (predicted)",
        ),
        ({"tank": "slight", "wet": "slight", "running": "none", "sump": "none"}, "slight on a wet start (predicted)"),
    ],
)
def test_worst_in_the_engine_is_told_and_the_tank_only_where_it_is_worse(outcomes: dict[str, str], told: str) -> None:
    assert swelling_flag(contacts(**outcomes)) == told


def test_nothing_known_is_unknown() -> None:
    assert swelling_flag({}) == "unknown"
