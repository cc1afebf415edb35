"""Draws: one in each stratum, the right percentiles, and independent of what else is drawn."""

from __future__ import annotations

import numpy as np
import pytest

from screening.judgement.draws.sampling import drawn, drawn_assumption, drawn_value, stratified
from screening.records.materials.materials import load_materials
from screening.records.tables.assumptions import load_assumptions

N = 1000


def test_one_draw_in_each_stratum() -> None:
    chance = stratified("speed", N, 0)
    assert np.array_equal(np.sort(np.floor(chance * N)), np.arange(N))
    assert chance.min() > 0
    assert chance.max() < 1


def test_same_seed_same_draws_and_nothing_else_matters() -> None:
    first = drawn("speed", 40, 50, 60, "normal", N, 3)
    drawn("ambient", 280, 293, 300, "normal", N, 3)
    assert np.array_equal(first, drawn("speed", 40, 50, 60, "normal", N, 3))
    assert not np.array_equal(first, drawn("speed", 40, 50, 60, "normal", N, 4))
    assert not np.array_equal(first, drawn("spee", 40, 50, 60, "normal", N, 3))


def test_names_are_independent() -> None:
    """The correlation of two permutations of 1,000 has a standard deviation of 0.032: four of them at most."""
    names = [f"quantity_{i}" for i in range(20)]
    table = np.corrcoef([stratified(name, N, 0) for name in names])
    assert np.abs(table - np.eye(20)).max() < 4 / np.sqrt(N - 1)


@pytest.mark.parametrize(
    ("distribution", "low", "typical", "high"),
    [("normal", 2.0, 5.0, 6.0), ("lognormal", 2.0, 5.0, 30.0), ("normal", -1.0, 0.0, 1.0)],
)
def test_low_typical_high_are_percentiles(distribution: str, low: float, typical: float, high: float) -> None:
    draws = drawn("x", low, typical, high, distribution, 4000, 0)
    assert np.quantile(draws, [0.05, 0.5, 0.95]) == pytest.approx([low, typical, high], rel=5e-3, abs=5e-3)
    assert np.all(np.isfinite(draws))


def test_ends_and_shapes_of_the_bounded_ones() -> None:
    uniform = drawn("x", 2.0, 3.0, 6.0, "uniform", 4000, 0)
    assert np.quantile(uniform, [0, 0.25, 0.75, 1]) == pytest.approx([2, 3, 5, 6], abs=5e-3)
    triangular = drawn("x", 2.0, 3.0, 6.0, "triangular", 4000, 0)
    assert 2 <= triangular.min() < triangular.max() <= 6
    assert triangular.mean() == pytest.approx((2 + 3 + 6) / 3, rel=1e-3)


def test_tails_are_cut() -> None:
    draws = drawn("x", -1.645, 0.0, 1.645, "normal", 10_000, 0)
    assert np.abs(draws).max() == pytest.approx(2.5, rel=1e-3)


def test_a_fixed_value_is_fixed() -> None:
    assert np.all(drawn("x", 5.0, 5.0, 5.0, "lognormal", 10, 0) == 5.0)


def test_every_assumption_and_every_main_value_can_be_drawn() -> None:
    for assumption in load_assumptions().values():
        draws = drawn_assumption(assumption, 200, 0)
        assert np.all(np.isfinite(draws)), assumption.name
        assert assumption.low <= np.median(draws) <= assumption.high, assumption.name
    materials = load_materials()
    for id in materials.ids:
        for name in materials.get(id).values:
            value = materials.value(id, name)
            if value is not None:
                draws = drawn_value(f"{id}.{name}", value, 50, 0)
                assert np.all(np.isfinite(draws)), (id, name)
                assert value.low <= 0 or np.all(draws > 0), (id, name)
