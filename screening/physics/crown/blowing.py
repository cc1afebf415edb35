"""Vapour that leaves a face pushes the film of hot gas away from it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def blown_film_share(mass_flux: ArrayLike, film_coefficient: ArrayLike, vapour_heat_capacity: ArrayLike) -> FloatArray:
    """Return the share of a film coefficient that is left while vapour leaves the face.

    The film theory of transpiration: one-dimensional, constant properties, vapour at the face's temperature.

        h/h0 = f/(e^f - 1),   f = m'' c_v/h0

    Parameters
    ----------
    mass_flux : [kg/(m2 s)] m'', 0 or more
    film_coefficient : [W/(m2 K)] h0, of the face that gives off nothing
    vapour_heat_capacity : [J/(kg K)] c_v, of the vapour

    Returns
    -------
    [1], 1 where nothing leaves

    References
    ----------
    Bird, Stewart and Lightfoot, Transport Phenomena, chapter 21 (from memory).

    Examples
    --------
    >>> round(float(blown_film_share(5e-3, 75.0, 2000.0)), 3)
    0.935
    """
    flux, film, capacity = (np.asarray(v, dtype=float) for v in (mass_flux, film_coefficient, vapour_heat_capacity))
    f = flux * capacity / film
    with np.errstate(invalid="ignore"):
        return np.where(f > 1e-9, f / np.expm1(np.maximum(f, 1e-9)), 1.0)
