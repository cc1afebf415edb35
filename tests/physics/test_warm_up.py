"""Recovery of a known warm-up from noisy invented logs with outliers (simulation, seeded)."""

from __future__ import annotations

import numpy as np

from screening.physics.warm_up import fit_first_order

TIME = np.arange(0, 900, 20.0)


def log(rng: np.random.Generator) -> np.ndarray:
    kelvin = 430 - (430 - 295) * np.exp(-TIME / 200) + rng.normal(0, 2, TIME.size)
    kelvin[[5, 20]] += [40, -35]
    return kelvin


def test_intervals_cover_about_nine_in_ten() -> None:
    """90 % intervals over 300 logs: a binomial with p = 0.9 lies in 0.84 to 0.95 with 99.9 % certainty."""
    rng = np.random.default_rng(7)
    fits = [fit_first_order(TIME, log(rng)) for _ in range(300)]
    settled = np.mean([f.settled_interval[0] < 430 < f.settled_interval[1] for f in fits])
    constant = np.mean([f.time_constant_interval[0] < 200 < f.time_constant_interval[1] for f in fits])
    assert 0.84 < settled < 0.955
    assert 0.84 < constant < 0.955


def test_outliers_are_marked_and_a_short_log_is_not_settled() -> None:
    kelvin = log(np.random.default_rng(1))
    fit = fit_first_order(TIME, kelvin)
    assert fit.outliers[5]
    assert fit.outliers[20]
    assert fit.outliers.sum() <= 4
    assert fit.is_settled
    assert not fit_first_order(TIME[:10], kelvin[:10]).is_settled
