"""Where does a warming body settle, and how fast: a robust first-order fit to times and temperatures."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import stats
from scipy.optimize import OptimizeResult, least_squares

from screening.arrays import FloatArray
from screening.errors import OutOfRange

_FEWEST = 4  # points: three parameters and one to spare
_ROUNDS = 3
_HOTTEST = 3000.0  # K


@dataclass(frozen=True)
class FitRules:
    """What a fit goes by where the readings themselves do not say it.

    Parameters
    ----------
    outlier : [1] robust standard deviations from the curve beyond which a reading has no say
    settled_after : [1] time constants that a log must last to count as settled (after 2 the curve is within 14 % of the
        rise from its end)
    end_sharpness : [1] share of the rise within which the end must be known to count as read
    smallest_rise : [1] robust standard deviations: a smaller rise is none, and the log was settled all along
    least_spread : [K] spread of readings below which the thermometer does not tell them apart
    constant_spread : [1] standard deviation of the logarithm of the time constant before anything was read

    Raises
    ------
    OutOfRange : anything that is not above 0
    """

    outlier: float
    settled_after: float
    end_sharpness: float
    smallest_rise: float
    least_spread: float
    constant_spread: float

    def __post_init__(self) -> None:
        for field in fields(self):
            if not getattr(self, field.name) > 0:
                raise OutOfRange(f"{field.name}: got {getattr(self, field.name):g}; must be above 0")


@dataclass(frozen=True)
class WarmUp:
    """The fit T(t) = settled - (settled - start) exp(-t / time_constant).

    Parameters
    ----------
    settled : [K]
    time_constant : [s]
    start : [K]
    settled_interval : ([K], [K]) 90 % interval
    time_constant_interval : ([s], [s]) 90 % interval
    outliers : bool (n_time,), readings far from the curve; they have no say in the last rounds of the fit
    is_settled : whether the log is long enough for `settled` to be a reading rather than an extrapolation
    residual_spread : [K] robust standard deviation of the readings about the curve
    """

    settled: float
    time_constant: float
    start: float
    settled_interval: tuple[float, float]
    time_constant_interval: tuple[float, float]
    outliers: NDArray[np.bool_]
    is_settled: bool
    residual_spread: float


def fit_first_order(time: ArrayLike, temperature: ArrayLike, rules: FitRules) -> WarmUp:
    """Return the first-order approach to a settled temperature that fits readings best, outliers set aside.

    Holds for one dominant time constant; several masses in series show as a drift of the residuals. Minimises the
    sum of s^2 (sqrt(1 + (r/s)^2) - 1) over the residuals r, with s their robust spread, which is fitted with them.

        T = T_settled - (T_settled - T_start) exp(-t/tau)

    Parameters
    ----------
    time : [s] (n_time,), rising, at least 4 points
    temperature : [K] (n_time,)
    rules : FitRules

    Returns
    -------
    WarmUp

    Raises
    ------
    OutOfRange : fewer than 4 points, times that do not rise, or anything that is not a finite number

    Notes
    -----
    Intervals come from the covariance of a fit with a robust loss, s^2 mean(psi^2) / mean(psi')^2 (J^T J)^-1, and
    Student's t, the time constant's in the logarithm. They leave out that the model itself may be too simple. A log
    that shows hardly any rise says nothing of the time constant: a wide prior on its logarithm
    (`constant_spread`) keeps the interval finite. Time constants from 1/100 to 20 times the log's length are searched.

    References
    ----------
    Huber, Robust Statistics (1981), section 7.6: covariance of regression estimates (from memory).

    Example
    -------
    >>> rules = FitRules(3.5, 2.0, 0.1, 2.0, least_spread=0.05, constant_spread=2.0)
    >>> seconds = np.arange(0.0, 901.0, 30.0)
    >>> fit = fit_first_order(seconds, 350.0 - 57.0 * np.exp(-seconds / 150.0), rules)
    >>> round(fit.settled, 1), round(fit.time_constant, 1), fit.is_settled
    (350.0, 150.0, True)
    """
    t, kelvin = _checked(time, temperature)
    shortest, longest = np.log(np.ptp(t) / 100), np.log(np.ptp(t) * 20)
    curve, spread, outliers = _robust_fit(t, kelvin, (shortest, longest), rules)
    settled, start, log_constant = (float(value) for value in curve)
    kept = ~outliers
    residual = _curve(curve, t[kept]) - kelvin[kept]
    half = _half_widths(_jacobian(curve, t[kept]), residual, spread, rules).tolist()
    rise = abs(settled - start)
    constant = float(np.exp(log_constant))
    long_enough = np.ptp(t) >= rules.settled_after * constant and half[0] < rules.end_sharpness * rise
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
        is_settled=bool(long_enough or rise <= rules.smallest_rise * spread),
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
    t: FloatArray, kelvin: FloatArray, log_limits: tuple[float, float], rules: FitRules
) -> tuple[FloatArray, float, NDArray[np.bool_]]:
    """Return (settled, start, log of time constant), the residuals' robust spread, and which points lie far off."""
    low, high = [0.0, 0.0, log_limits[0]], [_HOTTEST, _HOTTEST, log_limits[1]]

    def fitted(begin: FloatArray, scale: float, kept: NDArray[np.bool_]) -> OptimizeResult:
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
    spread = max(_robust_spread(steps - np.median(steps)) / np.sqrt(2), rules.least_spread)
    starts = [np.array([tail, kelvin[0], np.log(np.ptp(t) / part)]) for part in (8, 3, 1)]
    curve = min((fitted(start, spread, kept) for start in starts), key=lambda fit: float(fit.cost)).x
    correction = np.sqrt(t.size / (t.size - 3))  # three parameters make the residuals smaller than the noise
    for _ in range(_ROUNDS):  # the loss needs the spread, and the spread the fit
        residual = np.abs(_curve(curve, t) - kelvin)
        spread = max(_robust_spread(residual) * correction, rules.least_spread)
        kept = residual <= rules.outlier * spread
        kept |= np.count_nonzero(kept) < _FEWEST
        curve = fitted(curve, spread, kept).x
    return curve, spread, ~kept


def _half_widths(jacobian: FloatArray, residual: FloatArray, spread: float, rules: FitRules) -> FloatArray:
    """Return half the width of the 90 % interval of each parameter (3,)."""
    weight = 1 / np.sqrt(1 + (residual / spread) ** 2)
    freedom = residual.size - 3
    pull = np.sum((residual * weight) ** 2) / freedom
    variance = max(pull / np.mean(weight**3) ** 2, rules.least_spread**2)
    information = jacobian.T @ jacobian / variance + np.diag([1e-12, 1e-12, 1 / rules.constant_spread**2])
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
