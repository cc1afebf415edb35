"""How heat that falls on a whole metal crown gets to the rings at its rim: a thin disc drained at its edge.

The crown is computed through its depth alone, as the mean over its face. Its rings draw at the rim, so the way there is
a resistance in series with them, and the centre is hotter than the mean.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import special

Floats = NDArray[np.float64]
_FLATTEST = 1e-3  # below this m R the forms are at their limits, to ten digits


def drained_at_rim(
    rim: ArrayLike, film: ArrayLike, radius: ArrayLike, thickness: ArrayLike, conductivity: ArrayLike
) -> tuple[Floats, Floats]:
    """Return the conductance from the disc's mean to what drains its rim, and how far its centre stands out.

    A settled thin disc with a film on its faces, T - T_film = C I0(m r) with m^2 = h/(k t):

        1/G = 1/G_rim + (z I0(z)/(2 I1(z)) - 1)/h,    z = m R
        (T_centre - T_mean)/(T_mean - T_drain) = G/h (1 - z/(2 I1(z)))

    For a good conductor they are R^2/(8 k t) in series and G R^2/(8 k t): the parabola under an even flux, whose mean
    is halfway between rim and centre.

    Parameters
    ----------
    rim : conductance from the rim to what drains it, referred to the face [W/(m2 K)]
    film : h of both faces together [W/(m2 K)]
    radius, thickness : of the disc [m]
    conductivity : [W/(m K)]

    Returns
    -------
    conductance : G, referred to the face [W/(m2 K)]
    centre_excess : [1]

    References
    ----------
    Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, section 3.6.4 (annular fins; from memory).
    """
    h, outer = np.asarray(film, float), np.asarray(rim, float)
    sideways = np.asarray(radius, float) ** 2 / (np.asarray(conductivity, float) * np.asarray(thickness, float))
    z = np.maximum(np.sqrt(h * sideways), _FLATTEST)
    first = special.i1(z)
    whole = outer / (1 + outer * sideways * (z * special.i0(z) / (2 * first) - 1) / z**2)
    return np.asarray(whole), np.asarray(whole * sideways * (1 - z / (2 * first)) / z**2)
