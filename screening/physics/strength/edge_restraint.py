"""How firmly does the ring belt hold the edge of the crown, and what is that worth?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import lambertw

from screening.physics.curves.shares import refuse_outside_share
from screening.physics.curves.temperature_curve import FloatArray


def edge_factor(restraint: ArrayLike) -> FloatArray:
    """Return the edge factor k of the limit load of a circular plate whose edge carries part of M_p.

    Holds for a thin rigid-plastic Tresca plate under even pressure: exact between simply supported (m = 0,
    k = 6) and clamped (m = 1, k = 11.26).

        p_limit = k M_p/R^2;  ln y - 3 y + 3 + 2 m = 0, y = k/6  =>  k = -2 W_-1(-3 exp(-3 - 2 m))

    Parameters
    ----------
    restraint : [1] m, moment the edge can carry over the plate's own M_p, 0 to 1, (n_draw,)

    Returns
    -------
    [1] (n_draw,)

    References
    ----------
    Hopkins, H. G., Prager, W. (1953), J. Mech. Phys. Solids 2, 1-13, for m = 0 and 1 (from memory). Between:
    equilibrium r M_r' = M_t - M_r - p r^2/2 with M_t = M_p inside and M_t - M_r = M_p outside, M_r(R) = -m
    M_p, solved here.

    Example
    -------
    >>> edge_factor([0.0, 1.0]).round(2).tolist()
    [6.0, 11.26]
    """
    share = np.asarray(restraint, dtype=float)
    refuse_outside_share("restraint", share)
    return np.asarray(-2.0 * lambertw(-3.0 * np.exp(-3.0 - 2.0 * share), k=-1).real)
