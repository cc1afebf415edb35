"""How deep a liquid gets into a polymer, and how full it is, after a time."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants

FloatArray = NDArray[np.float64]


def diffusion_at(
    coefficient: ArrayLike, activation: ArrayLike, temperature: ArrayLike, reference: float = 296.15
) -> FloatArray:
    """Return D(T) = D_ref exp(-E/R (1/T - 1/T_ref)) [m2/s]; one activation energy, so not through a glass transition.

    Parameters
    ----------
    coefficient : array_like
        D at `reference` [m2/s].
    activation : array_like
        E [J/mol].
    temperature, reference : array_like
        [K]
    """
    inverse = 1 / np.asarray(temperature, dtype=float) - 1 / reference
    return np.asarray(coefficient, dtype=float) * np.exp(-np.asarray(activation, dtype=float) / constants.R * inverse)


def penetration_depth(coefficient: ArrayLike, time: ArrayLike) -> FloatArray:
    """Return sqrt(D t) [m], where a semi-infinite solid has reached erfc(1/2) = 48 % of its surface value."""
    return np.sqrt(np.asarray(coefficient, dtype=float) * np.asarray(time, dtype=float))


def slab_filled_share(coefficient: ArrayLike, time: ArrayLike, thickness: ArrayLike, terms: int = 60) -> FloatArray:
    """Return the share of the final uptake that a slab wet on both faces has reached; constant D.

    M/M_inf = 1 - 8/pi^2 sum exp(-(2n+1)^2 pi^2 D t / l^2) / (2n+1)^2

    Parameters
    ----------
    coefficient, time, thickness : array_like
        D [m2/s], t [s], l [m].

    References
    ----------
    Crank, J. (1975). The Mathematics of Diffusion, eq. 4.18, from memory.

    Examples
    --------
    >>> round(float(slab_filled_share(1e-12, 0.04919 * 1e-6 / 1e-12, 1e-3)), 3)
    0.5
    """
    fourier = (
        np.asarray(coefficient, dtype=float) * np.asarray(time, dtype=float) / np.asarray(thickness, dtype=float) ** 2
    )
    odd = 2 * np.arange(terms) + 1.0
    series = np.sum(np.exp(-(odd**2) * np.pi**2 * fourier[..., None]) / odd**2, axis=-1)
    early = 4 * np.sqrt(np.maximum(fourier, 0) / np.pi)
    return np.where(fourier < 0.01, early, 1 - 8 / np.pi**2 * series)


def half_time(coefficient: ArrayLike, thickness: ArrayLike) -> FloatArray:
    """Return when a slab wet on both faces is half full [s]: 0.04919 l^2 / D (Crank 1975, eq. 10.2, from memory)."""
    return 0.04919 * np.asarray(thickness, dtype=float) ** 2 / np.asarray(coefficient, dtype=float)


def front_depth(velocity: ArrayLike, time: ArrayLike) -> FloatArray:
    """Return v t [m], how far the sharp front of a dissolving glass has moved (case II, Thomas & Windle 1982).

    An order of magnitude only: v runs from nanometres to tenths of a micrometre a second near room temperature.
    """
    return np.asarray(velocity, dtype=float) * np.asarray(time, dtype=float)
