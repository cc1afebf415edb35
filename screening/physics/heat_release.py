"""How fast the charge burns: Wiebe's function of the crank angle."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray


def wiebe_fraction(
    crank_angle: ArrayLike,
    start: ArrayLike,
    duration: ArrayLike,
    efficiency: ArrayLike = 5.0,
    shape: ArrayLike = 2.0,
) -> NDArray[np.float64]:
    """Return the mass fraction burned at a crank angle.

    x = 1 - exp(-a ((theta - start)/duration)^(m+1)) after the start, 0 before; not cut off at start +
    duration, where it is 1 - exp(-a) (0.9933 for a = 5) and runs smoothly on to 1.

    Parameters
    ----------
    crank_angle, start : from firing top dead centre [rad]
    duration : [rad], above 0
    efficiency : a [1]
    shape : m [1]

    Returns
    -------
    fraction : [1], the inputs broadcast

    References
    ----------
    Heywood 1988, eq. 9.27 (a = 5, m = 2 fit spark-ignition engines; from memory).

    Examples
    --------
    >>> round(float(wiebe_fraction(0.5, 0.0, 1.0)), 4)
    0.4647
    """
    progress = np.maximum((np.asarray(crank_angle, float) - start) / np.asarray(duration, float), 0.0)
    return np.asarray(-np.expm1(-np.asarray(efficiency, float) * progress ** (np.asarray(shape, float) + 1.0)))


def wiebe_angle(
    fraction: ArrayLike,
    start: ArrayLike,
    duration: ArrayLike,
    efficiency: ArrayLike = 5.0,
    shape: ArrayLike = 2.0,
) -> NDArray[np.float64]:
    """Return the crank angle at which a fraction has burned; the inverse of `wiebe_fraction`.

    theta = start + duration (-ln(1 - x)/a)^(1/(m+1)).

    Parameters
    ----------
    fraction : 0 to below 1 [1]
    start : [rad]
    duration : [rad]
    efficiency, shape : a and m [1]

    Returns
    -------
    crank_angle : [rad], the inputs broadcast
    """
    progress = (-np.log1p(-np.asarray(fraction, float)) / np.asarray(efficiency, float)) ** (
        1.0 / (np.asarray(shape, float) + 1.0)
    )
    return np.asarray(np.asarray(start, float) + np.asarray(duration, float) * progress)
