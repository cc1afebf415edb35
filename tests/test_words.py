"""Numbers in words."""

from __future__ import annotations

import math

import pytest

from screening.words import chance, duration, within


@pytest.mark.parametrize(
    ("share", "draws", "told"),
    [
        (0.0, 1000, "under 1 %"),
        (0.0, 250, "under 2 %"),
        (0.004, 250, "under 2 %"),
        (0.0, 16, "under 19 %"),
        (1.0, 1000, "over 99 %"),
        (1.0, 250, "over 98 %"),
        (0.5, 10, "50 %"),
        (0.95, 1000, "95 %"),
        (math.nan, 1000, "unknown"),
        (0.0, 2, "unknown"),
    ],
)
def test_no_chance_is_nought_or_certain(share: float, draws: int, told: str) -> None:
    assert chance(share, draws) == told


@pytest.mark.parametrize("draws", [10, 30, 100, 250, 1000])
def test_the_bound_is_no_tighter_than_the_exact_one(draws: int) -> None:
    """None of n draws: the exact 95 % bound is 1 - 0.05^(1/n) (Clopper and Pearson, Biometrika 26 (1934) 404)."""
    bound = float(chance(0.0, draws).split()[1]) / 100
    exact = 1 - 0.05 ** (1 / draws)
    assert exact <= bound < 1.25 * exact + 0.01


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0.049, "at once"),
        (0.06, "0.1 s"),
        (9.94, "9.9 s"),
        (9.96, "10 s"),
        (119.4, "119 s"),
        (119.6, "2 min"),
        (134.0, "2 min 10 s"),
        (595.1, "10 min"),
        (3569.0, "59 min"),
        (3590.0, "60 min"),  # not 0.997 h
        (5400.0, "1.5 h"),
        (math.inf, "over 1 h"),
        (math.nan, "unknown"),
    ],
)
def test_times_keep_two_figures_and_change_unit_at_the_borders(seconds: float, said: str) -> None:
    assert duration(seconds) == said


def test_what_is_over_at_once_is_not_within_at_once() -> None:
    assert (within(0.01), within(3.41)) == ("at once", "within 3.4 s")
