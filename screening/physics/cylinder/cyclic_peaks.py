"""The highest peak among so many cycles: peaks scatter from cycle to cycle, and none passes what its charge can give."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import betaincinv

from screening.arrays import FloatArray


def highest_peak(
    mean_peak: ArrayLike, motored_peak: ArrayLike, bound: ArrayLike, variation: ArrayLike, cycles: ArrayLike
) -> FloatArray:
    """Return the peak pressure that one cycle in so many passes.

    The peak's place between the motored peak and the bound of `pressure_bound` follows a beta distribution, so that no peak
    lies outside. Holds for a mean well inside; a scatter wider than the place allows is narrowed to what it can hold.

        x = (p - p_c)/(p_cv - p_c),   x ~ Beta(mean x, s),   s = COV p/(p_cv - p_c)
        p_highest = p_c + Q(1 - 1/N) (p_cv - p_c)

    Parameters
    ----------
    mean_peak : [Pa] p, of the mean cycle, (n_draw,)
    motored_peak : [Pa] p_c, compressed without burning, (n_draw,)
    bound : [Pa] p_cv, burned at once at top dead centre, (n_draw,)
    variation : [1] COV, standard deviation of the peak over its mean, (n_draw,)
    cycles : [1] N, two or more, (n_draw,)

    Returns
    -------
    [Pa] (n_draw,), the motored peak where the mean does not pass it

    References
    ----------
    Cyclic variation of peak pressure: Heywood 1988, section 9.4 (from memory). The beta distribution is ours: the simplest
    with two ends.

    Examples
    --------
    >>> round(float(highest_peak(32.6e5, 11e5, 59e5, 0.10, 25.0)) / 1e5, 1)
    38.4
    """
    mean, low, high, scatter, n = (
        np.asarray(v, dtype=float) for v in (mean_peak, motored_peak, bound, variation, cycles)
    )
    room = high - low
    with np.errstate(invalid="ignore", divide="ignore"):
        x = np.clip((mean - low) / room, 0.0, 1.0)
        spread = np.minimum((scatter * mean / room) ** 2, 0.99 * x * (1 - x))
        strength = x * (1 - x) / spread - 1
        quantile = betaincinv(x * strength, (1 - x) * strength, 1 - 1 / n)
    quantile = np.where((x <= 0) | (x >= 1), x, quantile)
    return low + quantile * room
