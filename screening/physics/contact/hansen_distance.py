"""How near does a liquid lie to a polymer in Hansen space?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def hansen_distance_squared(liquid: ArrayLike, polymer: ArrayLike) -> FloatArray:
    """Return the squared Hansen distance between a liquid and a polymer.

    Holds for liquids without acid-base bonds to the polymer.

        Ra^2 = 4 (dD1 - dD2)^2 + (dP1 - dP2)^2 + (dH1 - dH2)^2

    Parameters
    ----------
    liquid : [MPa^0.5] dD, dP, dH on the last axis, (..., 3)
    polymer : [MPa^0.5] dD, dP, dH on the last axis, (..., 3)

    Returns
    -------
    [MPa] (...), the broadcast of both without the last axis

    References
    ----------
    Hansen, C. M. (2007), Hansen Solubility Parameters: A User's Handbook, 2nd ed., eq. 1.9; from memory.

    Example
    -------
    >>> float(hansen_distance_squared((15.0, 10.0, 7.0), (16.0, 10.0, 10.0)))
    13.0
    """
    difference = np.asarray(liquid, dtype=float) - np.asarray(polymer, dtype=float)
    return difference**2 @ np.array([4.0, 1.0, 1.0])


def distance_ratio(distance_squared: ArrayLike, radius: ArrayLike) -> FloatArray:
    """Return the relative energy difference RED: the distance from the sphere's centre over its radius.

    Holds for a sphere drawn from liquids of the usual size: below 1 they dissolve (or swell) the polymer.

        RED = Ra/R0

    Parameters
    ----------
    distance_squared : [MPa] Ra^2
    radius : [MPa^0.5] R0, above 0

    Returns
    -------
    [1] the broadcast of both

    References
    ----------
    Hansen (2007), eq. 1.10; from memory.

    Example
    -------
    >>> float(distance_ratio(36.0, 8.0))
    0.75
    """
    return np.sqrt(np.asarray(distance_squared, dtype=float)) / np.asarray(radius, dtype=float)
