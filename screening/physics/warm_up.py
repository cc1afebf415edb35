"""How a warming body settles: a robust first-order fit to times and temperatures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import stats
from scipy.optimize import least_squares

FloatArray = np.ndarray
_OUTLIER = 3.5  # robust standard deviations from the curve
_SETTLED_AFTER = 2.0  # time constants: the curve is then within 14 % of the rise from its end


@dataclass(frozen=True)
class WarmUp:
    """The fit T(t) = settled - (settled - start) exp(-t / time_constant).

    Parameters
    ----------
    settled, start : float
        [K]
    time_constant : float
        [s]
    settled_interval, time_constant_interval : (float, float)
        90 % intervals [K], [s].
    outliers : array of bool (n_time,)
        Readings far from the curve; they are kept in the log and hardly pull at the fit.
    is_settled : bool
        Whether the log is long enough for `settled` to be a reading rather than an extrapolation.
    residual_spread : float
        Robust standard deviation of the readings about the curve [K].
    """

    settled: float
    time_constant: float
    start: float
    settled_interval: tuple[float, float]
    time_constant_interval: tuple[float, float]
    outliers: FloatArray
    is_settled: bool
    residual_spread: float


def fit_first_order(time: ArrayLike, temperature: ArrayLike) -> WarmUp:
    """Fit a first-order approach to a settled temperature with a soft-L1 loss.

    Holds for one dominant time constant; several masses in series show as a drift of the residuals.

    Parameters
    ----------
    time : array_like (n_time,)
        [s], rising, at least 4 points.
    temperature : array_like (n_time,)
        [K]

    Returns
    -------
    WarmUp

    Notes
    -----
    Intervals come from the Jacobian of the robust fit with the residual spread of the points that are not outliers
    and Student's t, the time constant's in the logarithm. They leave out that the model itself may be too simple.
    """
    t, kelvin = np.asarray(time, dtype=float), np.asarray(temperature, dtype=float)
    span = float(np.ptp(t))

    def misfit(p: FloatArray) -> FloatArray:
        return p[0] - (p[0] - p[1]) * np.exp(-t / np.exp(p[2])) - kelvin

    tail = float(np.median(kelvin[-max(3, len(t) // 5) :]))
    spread = max(_robust_spread(np.diff(kelvin)) / np.sqrt(2), 0.05)
    best = None
    for constant in (span / 8, span / 3, span):
        begin = np.array([tail, kelvin[0], np.log(constant)])
        low, high = [0.0, 0.0, np.log(span / 100)], [3000.0, 3000.0, np.log(span * 20)]
        for _ in range(3):  # the loss needs the spread, and the spread the fit
            fit = least_squares(
                misfit, begin, bounds=(low, high), loss="soft_l1", f_scale=spread, x_scale=[10, 10, 0.3]
            )
            spread, begin = max(_robust_spread(fit.fun), 0.02), fit.x
        cost = float(np.sum(np.hypot(1, fit.fun / spread)) * spread)
        if best is None or cost < best[0]:
            best = (cost, fit, spread)
    assert best is not None
    _, fit, spread = best
    outliers = np.abs(fit.fun) > _OUTLIER * spread
    kept = ~outliers
    freedom = max(int(kept.sum()) - 3, 1)
    jacobian = _jacobian(fit.x, t[kept])
    sigma = np.sqrt(np.sum(fit.fun[kept] ** 2) / freedom)
    deviation = sigma * np.sqrt(np.diag(np.linalg.pinv(jacobian.T @ jacobian)))
    half = float(stats.t.ppf(0.95, freedom)) * deviation
    settled, start, log_constant = fit.x
    constant = float(np.exp(log_constant))
    return WarmUp(
        settled=float(settled),
        time_constant=constant,
        start=float(start),
        settled_interval=(float(settled - half[0]), float(settled + half[0])),
        time_constant_interval=(float(constant * np.exp(-half[2])), float(constant * np.exp(half[2]))),
        outliers=outliers,
        is_settled=bool(span >= _SETTLED_AFTER * constant and half[0] < 0.1 * abs(settled - start)),
        residual_spread=float(spread),
    )


def _jacobian(p: FloatArray, t: FloatArray) -> FloatArray:
    decay = np.exp(-t / np.exp(p[2]))
    return np.stack([1 - decay, decay, -(p[0] - p[1]) * decay * t / np.exp(p[2])], axis=-1)


def _robust_spread(values: FloatArray) -> float:
    """Median absolute deviation scaled to a normal standard deviation."""
    return float(stats.median_abs_deviation(values, scale="normal"))
