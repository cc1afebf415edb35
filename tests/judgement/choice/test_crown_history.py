"""A crown's heat summed up over twenty made-up draws: each answer is reckoned in its test."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from judgement.piston.made_up_crown import TIMES, heat, warming

from screening.judgement.choice.crown_history import crown_history

TWENTY = np.arange(1.0, 21.0)


def part(face: np.ndarray, recession: np.ndarray | None = None) -> Any:
    """Return one part of a run whose draws are each as hot as `face` (20,) [K] says, all the time."""
    warm = heat(warming() * 0 + face, recession)
    rows = np.ones((TIMES.size, 1))
    return cast(
        Any,
        SimpleNamespace(
            heat=warm,
            load=SimpleNamespace(running=1e5 * TWENTY),
            softened_depth=1e-4 * TWENTY * rows,
            softening=400 + TWENTY,
            swing=TWENTY,
            centre=None,
        ),
    )


def test_quantiles_are_the_first_tenth_and_nineteenth_of_twenty() -> None:
    """Faces of 401 to 420 K, loads of 1 to 20 bar, softened depths of 0.1 to 2 mm, limits of 10 to 200 bar."""
    history = crown_history(part(400 + TWENTY), 1e6 * TWENTY * np.ones((TIMES.size, 1)))
    assert history.surface[:, 3].tolist() == [401.0, 410.0, 419.0]
    assert history.temperature[:, 3, 200].tolist() == [401.0, 410.0, 419.0]
    assert history.load.tolist() == [1e5, 10e5, 19e5]
    assert history.softened_depth[:, 3] == pytest.approx([1e-4, 10e-4, 19e-4])
    assert history.limit_pressure[:, 3].tolist() == [1e6, 10e6, 19e6]
    assert (history.thickness, history.depth_share[100]) == pytest.approx((0.004, 0.25))


def test_what_has_burned_away_counts_as_hottest() -> None:
    """Two of twenty are gone: the nineteenth is, the first and the tenth are those of the others, 403 and 412 K."""
    face = 400 + TWENTY
    face[:2] = np.nan
    history = crown_history(part(face), np.ones((TIMES.size, 20)))
    assert history.surface[:2, 3].tolist() == [403.0, 412.0]
    assert np.isnan(history.surface[2, 3])
