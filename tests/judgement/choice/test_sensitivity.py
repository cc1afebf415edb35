"""Shares of spread against functions whose first-order indices are known."""

from __future__ import annotations

import numpy as np
import pytest

from screening.judgement.choice.sensitivity import influences, input_orders
from screening.judgement.draws.sampling import stratified

N = 8000


def _shares(log_life: np.ndarray, inputs: dict[str, np.ndarray]) -> dict[str, float]:
    found = influences(np.exp(log_life), input_orders(inputs), horizon=1e30)
    return {influence.name: influence.share_of_spread for influence in found}


def test_a_linear_model() -> None:
    """y = sum of a_i x_i with x_i normal of unit spread: the index of x_i is a_i^2 / sum of a^2, exactly."""
    generator = np.random.default_rng(0)
    inputs = {name: generator.normal(size=N) for name in "abcd"}
    weights = {"a": 3.0, "b": 2.0, "c": 1.0, "d": 0.0}
    shares = _shares(sum((weights[name] * inputs[name] for name in inputs), np.full(N, 20.0)), inputs)
    total = sum(weight**2 for weight in weights.values())
    for name, weight in weights.items():
        assert shares[name] == pytest.approx(weight**2 / total, abs=0.03)
    assert list(shares) == sorted(shares, key=lambda name: -shares[name])


def test_ishigami_function() -> None:
    """First-order indices 0.3138, 0.4424 and 0 at a = 7, b = 0.1 (Ishigami and Homma 1990).

    Looked up: pytorch.org/botorch/api/_modules/botorch/test_functions/sensitivity_analysis.html. Ten bins smooth the
    second input, whose sine squared swings twice over its range: a bin's mean keeps sin(pi/5)/(pi/5) of the swing, so
    its index is to come out at 0.875 of the exact one.
    """
    x, y, z = (2 * np.pi * stratified(name, N, 1) - np.pi for name in ("x", "y", "z"))
    shares = _shares(np.sin(x) + 7 * np.sin(y) ** 2 + 0.1 * z**4 * np.sin(x) + 12, {"x": x, "y": y, "z": z})
    assert shares["x"] == pytest.approx(0.3138, abs=0.025)
    assert shares["y"] == pytest.approx(0.4424 * np.sinc(1 / 5) ** 2, abs=0.02)
    assert shares["z"] == pytest.approx(0.0, abs=0.01)


def test_noise_is_not_taken_for_influence() -> None:
    generator = np.random.default_rng(1)
    shares = _shares(generator.normal(size=300), {f"x{i}": generator.normal(size=300) for i in range(50)})
    assert np.mean(list(shares.values())) < 0.02


def test_narrowing_what_measures_it_and_what_is_left_out() -> None:
    value = np.random.default_rng(2).normal(size=N)
    inputs = {"speed": value, "peek.density": value, "fixed": np.ones(N), "gap": np.where(value > 0, value, np.nan)}
    found = {influence.name: influence for influence in influences(np.exp(value), input_orders(inputs), 1e30)}
    assert set(found) == {"speed", "peek.density"}
    speed = found["speed"]
    assert speed.narrowing == pytest.approx(1 - np.sqrt(1 - speed.share_of_spread))
    assert "tachometer" in speed.measure_by
    assert found["peek.density"].measure_by == "a better source for the material's value"


def test_horizon_and_too_few_draws() -> None:
    value = np.random.default_rng(3).normal(size=200)
    assert influences(np.full(200, np.inf), input_orders({"x": value}), 3600.0) == ()
    assert influences(np.exp(value[:40]), input_orders({"x": value[:40]}), 3600.0) == ()
    life = np.where(value > 0, np.inf, 10.0)
    assert influences(life, input_orders({"x": value}), 3600.0)[0].share_of_spread > 0.85  # the middle bin holds both


def test_what_follows_from_another_input_is_left_to_that_one() -> None:
    """The head's surface is worked out from the gun's reading and the emissivity: to measure is the emissivity."""
    value = np.random.default_rng(1).normal(size=50)
    inputs = {"emissivity": value, "head_surface": 2 * value, "head_wall": 2 * value + 1, "liner": 2 * value - 1}
    assert list(input_orders(inputs)) == ["emissivity"]
    assert list(input_orders(inputs | {"emissivity": np.ones(50)})) == ["head_surface"]
