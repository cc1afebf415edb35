"""When does the top ring land let go of its ring?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.temperature_curve import FloatArray


def ring_land_time(straight_down: ArrayLike, side_cooling: ArrayLike) -> FloatArray:
    """Return when the top ring groove reaches its softening temperature, with the bore cooling its side.

    Holds for a groove whose depth below the crown face is of the order of its distance from the bore. Heat
    going straight down gives the earliest time; the bore takes some of it sideways.

        t = t_down (1 + f)

    Parameters
    ----------
    straight_down : [s] time at the groove's depth from the one-dimensional crown, inf if never, (n_draw,)
    side_cooling : [1] f, 0 or more, (n_draw,)

    Returns
    -------
    [s] (n_draw,)

    Notes
    -----
    The section study in `tests/physics/test_ring_land_side_cooling.py` gives f for a small piston.

    Example
    -------
    >>> float(ring_land_time(20.0, 0.3))
    26.0
    """
    share = np.asarray(side_cooling, dtype=float)
    if np.any(share < 0):
        raise OutOfRange(f"side_cooling: got {np.nanmin(share):g}, must be 0 or more")
    return np.asarray(straight_down, dtype=float) * (1.0 + share)
