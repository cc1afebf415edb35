"""When does the top ring land let go of its ring?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange


def ring_land_time(straight_down: ArrayLike, side_cooling: ArrayLike) -> FloatArray:
    """Return the time at which the top ring groove reaches its softening temperature, with the bore cooling its side.

    Holds for a groove whose depth below the crown face is of the order of its distance from the bore. The
    bore takes some of the heat sideways; an empty groove dams it, which can make f a little negative.

        t = t_down (1 + f)

    Parameters
    ----------
    straight_down : [s] time at the groove's depth from the one-dimensional crown, inf if never, (n_draw,)
    side_cooling : [1] f, above -1, (n_draw,)

    Returns
    -------
    [s] (n_draw,)

    Raises
    ------
    OutOfRange : a side cooling of -1 or less

    Notes
    -----
    A section by finite elements (tests/physics/strength/test_ring_land_side_cooling.py: 56 mm piston, bore at 320 K)
    gives, at the root of the top groove softening at 380 to 490 K: f = -0.05 to 0.2 when only the gas in
    the gap cools the land (an empty groove dams it); 0.35 to 1.1, or not in 600 s, when the ring takes 300
    W/m2K; not in 600 s at 1,000 W/m2K. How well the ring touches decides.

    Example
    -------
    >>> float(ring_land_time(20.0, 0.3))
    26.0
    """
    share = np.asarray(side_cooling, dtype=float)
    if np.any(share <= -1):
        raise OutOfRange(f"side_cooling: got {np.nanmin(share):g}, must be above -1")
    return np.asarray(straight_down, dtype=float) * (1.0 + share)
