"""At which pressure does a cold crown burst when it is pressed slowly?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.physics.strength.plate import TRESCA_SHEAR


def yielding_burst(
    strength: ArrayLike,
    thickness: ArrayLike,
    radius: ArrayLike,
    edge_factor: ArrayLike,
    shear_ratio: float = TRESCA_SHEAR,
) -> FloatArray:
    """Return the pressure at which a crown of one strength through its depth yields as a plate, or shears at its rim.

    Holds for a slow pressure, so without a gain of strength for rate, and for small deflection: a tough crown that bulges
    carries somewhat more.

        p = min(k sigma t^2/(4 R^2), 2 s sigma t/R)

    Parameters
    ----------
    strength : [Pa] sigma, of the print, cold
    thickness, radius : [m] t, R, of the crown within its ring belt
    edge_factor : [1] k, see `screening.physics.strength.crown_edge`
    shear_ratio : [1] s, shear over tensile yield stress

    Returns
    -------
    [Pa] (n_draw,)

    References
    ----------
    Hopkins and Prager 1953, as in `screening.physics.strength.plate`.

    Examples
    --------
    35 MPa, 6 mm, R = 21.3 mm, k = 10.5: by hand 10.5 x 35e6 x 0.006^2/(4 x 0.0213^2) = 72.9 bar.

    >>> round(float(yielding_burst(35e6, 6e-3, 21.3e-3, 10.5)) / 1e5, 1)
    72.9
    """
    sigma, t, r, k = (np.asarray(v, dtype=float) for v in (strength, thickness, radius, edge_factor))
    return np.minimum(k * sigma * t**2 / (4 * r**2), 2 * shear_ratio * sigma * t / r)


def cracking_burst(
    breaking_strength: ArrayLike, thickness: ArrayLike, radius: ArrayLike, centre_factor: ArrayLike
) -> FloatArray:
    """Return the pressure at which a brittle crown cracks at the centre of its underside.

        p = sigma_b (t/R)^2/c

    Parameters
    ----------
    breaking_strength : [Pa] sigma_b, in bending, of a face as large as the crown's, slow
    thickness, radius : [m] t, R
    centre_factor : [1] c, see `screening.physics.strength.crown_edge.centre_stress_factor`

    Returns
    -------
    [Pa] (n_draw,)

    References
    ----------
    Timoshenko and Woinowsky-Krieger 1959, article 16 (from memory).

    Examples
    --------
    c = 0.91, 50 MPa, 6 mm, R = 22.2 mm: by hand 50e6 x (6/22.2)^2/0.91 = 40.1 bar.

    >>> round(float(cracking_burst(50e6, 6e-3, 22.2e-3, 0.91)) / 1e5, 1)
    40.1
    """
    sigma, t, r, c = (np.asarray(v, dtype=float) for v in (breaking_strength, thickness, radius, centre_factor))
    return np.asarray(sigma * (t / r) ** 2 / c)
