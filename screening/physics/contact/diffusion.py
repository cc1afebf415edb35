"""How deep does a liquid get into a polymer, and how full is it, after a time?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy import constants

from screening.arrays import FloatArray
from screening.quantities import ROOM_TEMPERATURE


def diffusion_at(
    coefficient: ArrayLike, activation: ArrayLike, temperature: ArrayLike, reference: float = ROOM_TEMPERATURE
) -> FloatArray:
    """Return the diffusion coefficient at a temperature from that at another.

    Holds for one activation energy, so not through a glass transition.

        D = D_ref exp(-E/R (1/T - 1/T_ref))

    Parameters
    ----------
    coefficient : [m2/s] D_ref
    activation : [J/mol] E
    temperature : [K] T
    reference : [K] T_ref

    Returns
    -------
    [m2/s] the broadcast of all

    Example
    -------
    At 80 kJ/mol ten kelvin nearly treble it:

    >>> round(float(diffusion_at(1e-12, 8e4, 306.15) / 1e-12), 2)
    2.89
    """
    inverse = 1 / np.asarray(temperature, dtype=float) - 1 / reference
    return np.asarray(coefficient, dtype=float) * np.exp(-np.asarray(activation, dtype=float) / constants.R * inverse)


def penetration_depth(coefficient: ArrayLike, time: ArrayLike) -> FloatArray:
    """Return the depth at which a thick part has reached erfc(1/2) = 48 % of what its surface holds.

        x = sqrt(D t)

    Parameters
    ----------
    coefficient : [m2/s] D, constant
    time : [s] t

    Returns
    -------
    [m] the broadcast of both

    References
    ----------
    Crank, J. (1975), The Mathematics of Diffusion, 2nd ed., eq. 3.13; from memory.

    Example
    -------
    >>> float(penetration_depth(1e-12, 1e4))
    0.0001
    """
    return np.sqrt(np.asarray(coefficient, dtype=float) * np.asarray(time, dtype=float))


def slab_filled_share(coefficient: ArrayLike, time: ArrayLike, thickness: ArrayLike, terms: int = 60) -> FloatArray:
    """Return the share of the final uptake that a slab wet on both faces has reached.

    Holds for a constant coefficient and faces that are full at once.

        M/M_inf = 1 - 8/pi^2 sum exp(-(2n+1)^2 pi^2 D t/l^2)/(2n+1)^2

    Parameters
    ----------
    coefficient : [m2/s] D
    time : [s] t
    thickness : [m] l
    terms : of the sum; early on M/M_inf = 4 sqrt(D t/(pi l^2)) takes its place

    Returns
    -------
    [1] the broadcast of all

    References
    ----------
    Crank (1975), eq. 4.18 and 4.20; from memory.

    Example
    -------
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
    """Return the time at which a slab wet on both faces is half full.

        t = 0.04919 l^2/D

    Parameters
    ----------
    coefficient : [m2/s] D, constant
    thickness : [m] l

    Returns
    -------
    [s] the broadcast of both

    References
    ----------
    Crank (1975), eq. 10.2; from memory.

    Example
    -------
    >>> round(float(half_time(1e-12, 1e-3)))
    49190
    """
    return 0.04919 * np.asarray(thickness, dtype=float) ** 2 / np.asarray(coefficient, dtype=float)


def front_depth(velocity: ArrayLike, time: ArrayLike) -> FloatArray:
    """Return the way that the sharp front of a dissolving glass has moved.

    An order of magnitude only: v runs from nanometres to tenths of a micrometre a second near room temperature.

        x = v t

    Parameters
    ----------
    velocity : [m/s] v
    time : [s] t

    Returns
    -------
    [m] the broadcast of both

    References
    ----------
    Thomas, N. L., Windle, A. H. (1982), Polymer 23, 529 (case II); from memory.

    Example
    -------
    >>> float(front_depth(1e-8, 1000.0))
    1e-05
    """
    return np.asarray(velocity, dtype=float) * np.asarray(time, dtype=float)
