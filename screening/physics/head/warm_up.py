"""How a warming body settles: a robust first-order fit to times and temperatures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import stats
from scipy.optimize import OptimizeResult, least_squares

from screening.errors import OutOfRange

FloatArray = np.ndarray
_OUTLIER = 3.5  # robust standard deviations from the curve
_SETTLED_AFTER = 2.0  # time constants: the curve is then within 14 % of the rise from its end
_SHARP = 0.1  # of the rise: how well the end must be known to count as read
_NO_RISE = 2.0  # robust standard deviations: a smaller rise is none, and the log was settled all along
_FEWEST = 4  # points: three parameters and one to spare
_LEAST_SPREAD = 0.05  # kelvin: guns show tenths
_WIDE_LOG = 2.0  # standard deviation of the prior on the logarithm of the time constant
_ROUNDS = 3
_HOTTEST = 3000.0  # kelvin


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
        Readings far from the curve; they stay in the log, marked, and have no say in the last rounds of the fit.
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

    Holds for one dominant time constant; several masses in series show as a drift of the residuals. Minimises the
    sum of s^2 (sqrt(1 + (r/s)^2) - 1) over the residuals r, with s their robust spread, found along with the fit.

    Parameters
    ----------
    time : array_like (n_time,)
        [s], rising, at least 4 points.
    temperature : array_like (n_time,)
        [K]

    Returns
    -------
    WarmUp

    Raises
    ------
    OutOfRange
        Fewer than 4 points, times that do not rise, or anything that is not a finite number.

    Notes
    -----
    Intervals come from the covariance of a fit with a robust loss, s^2 mean(psi^2) / mean(psi')^2 (J^T J)^-1, and
    Student's t, the time constant's in the logarithm. They leave out that the model itself may be too simple. A log
    that shows hardly any rise says nothing of the time constant: a wide prior on its logarithm (standard deviation 2)
    keeps the interval finite. Time constants from 1/100 to 20 times the log's length are searched.

    References
    ----------
    Huber, Robust Statistics (1981), section 7.6: covariance of regression estimates (from memory).

    Examples
    --------
    >>> seconds = np.arange(0.0, 901.0, 30.0)
    >>> fit = fit_first_order(seconds, 350.0 - 57.0 * np.exp(-seconds / 150.0))
    >>> round(fit.settled, 1), round(fit.time_constant, 1), fit.is_settled
    (350.0, 150.0, True)
    """
    t, kelvin = _checked(time, temperature)
    shortest, longest = np.log(np.ptp(t) / 100), np.log(np.ptp(t) * 20)
    found, spread, outliers = _robust_fit(t, kelvin, (shortest, longest))
    settled, start, log_constant = (float(value) for value in found)
    kept = ~outliers
    half = _half_widths(_jacobian(found, t[kept]), _curve(found, t[kept]) - kelvin[kept], spread).tolist()
    rise = abs(settled - start)
    constant = float(np.exp(log_constant))
    long_enough = np.ptp(t) >= _SETTLED_AFTER * constant and half[0] < _SHARP * rise
    return WarmUp(
        settled=settled,
        time_constant=constant,
        start=start,
        settled_interval=(max(settled - half[0], 0.0), min(settled + half[0], _HOTTEST)),
        time_constant_interval=(
            float(np.exp(max(log_constant - half[2], shortest))),
            float(np.exp(min(log_constant + half[2], longest))),
        ),
        outliers=outliers,
        is_settled=bool(long_enough or rise <= _NO_RISE * spread),
        residual_spread=spread,
    )


def _checked(time: ArrayLike, temperature: ArrayLike) -> tuple[FloatArray, FloatArray]:
    t, kelvin = np.asarray(time, dtype=float), np.asarray(temperature, dtype=float)
    if t.ndim != 1 or t.shape != kelvin.shape or t.size < _FEWEST:
        raise OutOfRange(
            f"warm-up: got {t.size} times and {kelvin.size} temperatures; must be equally many, at least {_FEWEST}"
        )
    if not (np.all(np.isfinite(t)) and np.all(np.isfinite(kelvin))):
        raise OutOfRange("warm-up: times and temperatures must all be finite numbers")
    if np.any(np.diff(t) <= 0):
        raise OutOfRange(f"warm-up: the time after {t[np.argmax(np.diff(t) <= 0)]:g} s does not rise")
    if np.any((kelvin < 0) | (kelvin > _HOTTEST)):
        raise OutOfRange(f"warm-up: temperatures must lie between 0 and {_HOTTEST:g} K")
    return t, kelvin


def _robust_fit(
    t: FloatArray, kelvin: FloatArray, log_limits: tuple[float, float]
) -> tuple[FloatArray, float, FloatArray]:
    """Return (settled, start, log of time constant), the residuals' robust spread, and which points lie far off."""
    low, high = [0.0, 0.0, log_limits[0]], [_HOTTEST, _HOTTEST, log_limits[1]]

    def fitted(begin: FloatArray, scale: float, kept: FloatArray) -> OptimizeResult:
        return least_squares(
            lambda p: _curve(p, t[kept]) - kelvin[kept],
            np.clip(begin, low, high),
            jac=lambda p: _jacobian(p, t[kept]),
            bounds=(low, high),
            loss="soft_l1",
            f_scale=scale,
            x_scale=[10, 10, 0.3],
            method="dogbox",
            ftol=1e-6,
            xtol=1e-6,
        )

    kept = np.ones(t.size, dtype=bool)
    tail = float(np.median(kelvin[-max(3, len(t) // 5) :]))
    steps = np.diff(kelvin)
    spread = max(_robust_spread(steps - np.median(steps)) / np.sqrt(2), _LEAST_SPREAD)
    starts = [np.array([tail, kelvin[0], np.log(np.ptp(t) / part)]) for part in (8, 3, 1)]
    found = min((fitted(start, spread, kept) for start in starts), key=lambda fit: float(fit.cost)).x
    correction = np.sqrt(t.size / (t.size - 3))  # three parameters make the residuals smaller than the noise
    for _ in range(_ROUNDS):  # the loss needs the spread, and the spread the fit
        residual = np.abs(_curve(found, t) - kelvin)
        spread = max(_robust_spread(residual) * correction, _LEAST_SPREAD)
        kept = residual <= _OUTLIER * spread
        kept |= np.count_nonzero(kept) < _FEWEST
        found = fitted(found, spread, kept).x
    return found, spread, ~kept


def _half_widths(jacobian: FloatArray, residual: FloatArray, spread: float) -> FloatArray:
    """Return half the width of the 90 % interval of each parameter (3,)."""
    weight = 1 / np.sqrt(1 + (residual / spread) ** 2)
    freedom = residual.size - 3
    pull = np.sum((residual * weight) ** 2) / freedom
    variance = max(pull / np.mean(weight**3) ** 2, _LEAST_SPREAD**2)
    information = jacobian.T @ jacobian / variance + np.diag([1e-12, 1e-12, 1 / _WIDE_LOG**2])
    deviation = np.sqrt(np.diag(np.linalg.inv(information)))
    return np.asarray(stats.t.ppf(0.95, freedom) * deviation)


def _curve(p: FloatArray, t: FloatArray) -> FloatArray:
    return p[0] - (p[0] - p[1]) * np.exp(-t / np.exp(p[2]))


def _jacobian(p: FloatArray, t: FloatArray) -> FloatArray:
    decay = np.exp(-t / np.exp(p[2]))
    return np.stack([1 - decay, decay, -(p[0] - p[1]) * decay * t / np.exp(p[2])], axis=-1)


def _robust_spread(values: FloatArray) -> float:
    """Median absolute value scaled to a normal standard deviation."""
    return float(np.median(np.abs(values)) / stats.norm.ppf(0.75))
