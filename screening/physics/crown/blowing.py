"""Vapour that leaves a face pushes the film of hot gas away from it."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.crown.stage import film_flux

GENTLE = 1e-3
"""Blowing [1] below which a series, exact to a rounding error there, stands for the formula."""


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def film_share_left(blowing: float) -> tuple[float, float]:
    """Return the share of its coefficient that a film keeps while vapour leaves the face [1], and its slope.

    The film theory of transpiration: one-dimensional, constant properties, vapour at the face's temperature, f the blowing:

        h/h0 = f/(e^f - 1),   f = m'' c_v/h0

    Parameters
    ----------
    blowing : f, heat capacity of the vapour that leaves over the coefficient of the film without it, 0 or more [1]

    Returns
    -------
    share, slope : [1]; 1 and -1/2 where nothing leaves

    References
    ----------
    Bird, Stewart and Lightfoot 2002, Transport Phenomena, chapters 21 and 22 (from memory).

    Examples
    --------
    5 g/(m2 s) of 2 kJ/(kg K) through 75 W/(m2 K), by hand f = 0.133:

    >>> round(film_share_left(5e-3 * 2000.0 / 75.0)[0], 3)
    0.935
    """
    if blowing < GENTLE:
        return 1.0 - blowing / 2.0 + blowing * blowing / 12.0, -0.5 + blowing / 6.0
    share = blowing / np.expm1(blowing)
    return share, share * (1.0 - blowing - share) / blowing


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def blown_flux(film: NDArray[np.void], d: int, surface: float, vapour: float) -> tuple[float, float, float]:
    """Return the flux from one draw's film into a face that gives off vapour [W/m2], and its slopes.

    Radiation passes the vapour; what the gas conducts does so by the share of the film that is left.

    Parameters
    ----------
    film : of `FILM`
    d : the draw
    surface : temperature of the face [K]
    vapour : heat capacity of the vapour that leaves, m'' c_v [W/(m2 K)]

    Returns
    -------
    flux : [W/m2]
    slope : against the face's temperature [W/(m2 K)]
    thinning : against `vapour` [K]
    """
    flux, slope = film_flux(film, d, surface)
    side = film[d]
    apart = surface - side.feedback_at
    h = side.coefficient + side.coefficient_feedback * apart
    if not h > 0.0:
        return flux, slope, 0.0
    drive = side.temperature + side.feedback * apart - surface
    blowing = vapour / h
    share, fall = film_share_left(blowing)
    lost = 1.0 - share
    flux -= h * drive * lost
    slope -= h * (side.feedback - 1.0) * lost + side.coefficient_feedback * drive * (lost + blowing * fall)
    return flux, slope, drive * fall
