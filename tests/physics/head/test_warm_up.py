"""The warm-up fit against synthetic logs of known end and time constant (simulation, seeded)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.head.warm_up import FitRules, WarmUp, fit_first_order

SETTLED, START, NOISE = 350.0, 293.0, 0.7
RULES = FitRules(3.5, 2.0, 0.1, 2.0, least_spread=0.05, constant_spread=2.0)


def fitted(time: ArrayLike, temperature: ArrayLike) -> WarmUp:
    return fit_first_order(time, temperature, RULES)


def _log(
    seed: int, constant: float = 150.0, rows: int = 31, span: float = 600.0, outliers: int = 2
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return times, noisy temperatures, and which of them are off by 8 to 20 K."""
    generator = np.random.default_rng(seed)
    time = np.linspace(0.0, span, rows)
    temperature = SETTLED - (SETTLED - START) * np.exp(-time / constant) + generator.normal(0, NOISE, rows)
    off = generator.choice(rows, outliers, replace=False)
    temperature[off] += generator.choice([-1, 1], outliers) * generator.uniform(8, 20, outliers)
    return time, temperature, np.isin(np.arange(rows), off)


@pytest.mark.parametrize("constant", [60.0, 150.0, 250.0])
def test_exact_logs_are_recovered(constant: float) -> None:
    time = np.linspace(0, 600, 21)
    fit = fitted(time, SETTLED - (SETTLED - START) * np.exp(-time / constant))
    assert fit.settled == pytest.approx(SETTLED, abs=1e-4)
    assert fit.start == pytest.approx(START, abs=1e-4)
    assert fit.time_constant == pytest.approx(constant, rel=1e-5)
    assert not fit.outliers.any()


def test_a_noisy_log_with_outliers_is_recovered() -> None:
    errors = []
    for seed in range(20):
        time, temperature, off = _log(seed)
        fit = fitted(time, temperature)
        assert fit.is_settled
        assert np.all(fit.outliers[off])
        assert fit.outliers.sum() <= off.sum() + 1
        errors.append((fit.settled - SETTLED, np.log(fit.time_constant / 150.0)))
    bias = np.mean(errors, axis=0)
    assert abs(bias[0]) < 0.3
    assert abs(bias[1]) < 0.03


@pytest.mark.slow
@pytest.mark.parametrize("outliers", [0, 2])
def test_intervals_cover_what_they_should(outliers: int) -> None:
    """Over 500 seeded logs a 90 % interval holds the truth in 90 %, give or take three standard errors (4 %)."""
    held = np.zeros(2)
    for seed in range(500):
        time, temperature, _ = _log(1000 + seed, outliers=outliers)
        fit = fitted(time, temperature)
        held[0] += fit.settled_interval[0] <= SETTLED <= fit.settled_interval[1]
        held[1] += fit.time_constant_interval[0] <= 150.0 <= fit.time_constant_interval[1]
    assert held / 500 == pytest.approx(0.90, abs=0.04)


def test_a_least_squares_fit_would_be_pulled_away() -> None:
    """Three readings 60 K too high near the end of the log move the fit by less than half a kelvin."""
    time, temperature, _ = _log(3, outliers=0)
    spoiled = temperature.copy()
    spoiled[[25, 28, 30]] += 60.0
    clean, robust = fitted(time, temperature), fitted(time, spoiled)
    assert abs(robust.settled - clean.settled) < 0.5
    assert robust.outliers[[25, 28, 30]].all()


def test_a_log_that_stops_early_is_not_settled() -> None:
    short = fitted(*_log(4, constant=400.0, outliers=0)[:2])
    long = fitted(*_log(4, constant=400.0, outliers=0, span=2400.0)[:2])
    assert not short.is_settled
    assert long.is_settled
    assert np.ptp(short.settled_interval) > 3 * np.ptp(long.settled_interval)


def test_a_straight_rise_says_nothing_of_the_end() -> None:
    time = np.arange(0, 600, 30.0)
    temperature = START + 0.05 * time + np.random.default_rng(0).normal(0, 0.3, time.size)
    fit = fitted(time, temperature)
    assert not fit.is_settled
    assert np.all(np.isfinite([*fit.settled_interval, *fit.time_constant_interval]))
    assert np.ptp(fit.settled_interval) > 300.0


@pytest.mark.parametrize("noise", [0.0, 0.5])
def test_a_flat_log_is_settled_and_has_no_time_constant(noise: float) -> None:
    time = np.arange(0, 600, 30.0)
    fit = fitted(time, SETTLED + np.random.default_rng(0).normal(0, 1, time.size) * noise)
    assert fit.is_settled
    assert fit.settled == pytest.approx(SETTLED, abs=0.5)
    assert fit.time_constant_interval[1] / fit.time_constant_interval[0] > 50


def test_cooling_is_fitted_alike() -> None:
    time = np.arange(0, 600, 30.0)
    fit = fitted(time, START + 60 * np.exp(-time / 100))
    assert fit.settled == pytest.approx(START, abs=1e-4)
    assert fit.time_constant == pytest.approx(100.0, rel=1e-5)


@settings(max_examples=15, deadline=None)
@given(stretch=st.floats(0.1, 10.0), shift=st.floats(-20.0, 20.0))
def test_the_fit_scales_with_its_units(stretch: float, shift: float) -> None:
    time, temperature, _ = _log(5)
    plain, other = fitted(time, temperature), fitted(time * stretch, temperature + shift)
    assert other.time_constant == pytest.approx(plain.time_constant * stretch, rel=2e-3)
    assert other.settled == pytest.approx(plain.settled + shift, abs=0.05)
    assert np.array_equal(other.outliers, plain.outliers)


def test_each_rule_is_above_nothing() -> None:
    with pytest.raises(OutOfRange, match="outlier: got 0; must be above 0"):
        replace(RULES, outlier=0.0)


def test_rules_decide_what_counts_as_settled_and_as_far_off() -> None:
    """600 s of a time constant of 150 s are four of them; 8 K off at a spread of 0.7 K are eleven spreads."""
    time, temperature, _ = _log(0)
    assert not fit_first_order(time, temperature, replace(RULES, settled_after=5.0)).is_settled
    assert not fit_first_order(time, temperature, replace(RULES, end_sharpness=1e-4)).is_settled
    assert not fit_first_order(time, temperature, replace(RULES, outlier=100.0)).outliers.any()


@pytest.mark.parametrize(
    ("time", "temperature", "text"),
    [
        ([0, 1, 2], [300, 301, 302], "got 3 times and 3 temperatures; must be equally many, at least 4"),
        ([0, 1, 2, 3], [300, 301, 302], "got 4 times and 3 temperatures"),
        ([0, 1, 1, 3], [300, 301, 302, 303], "the time after 1 s does not rise"),
        ([0, 1, 2, 3], [300, np.nan, 302, 303], "must all be finite numbers"),
        ([0, 1, 2, np.inf], [300, 301, 302, 303], "must all be finite numbers"),
        ([0, 1, 2, 3], [300, -1, 302, 303], "must lie between 0 and 3000 K"),
    ],
)
def test_refusals(time: list[float], temperature: list[float], text: str) -> None:
    with pytest.raises(OutOfRange, match=text):
        fitted(time, temperature)
