"""Is the crown's surface hot enough to light the charge?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.temperature_curve import FloatArray


def hot_surface_excess(mean_temperature: ArrayLike, swing: ArrayLike, threshold: ArrayLike) -> FloatArray:
    """Return by how much the surface, at the top of its swing, passes the temperature that lights a charge.

    Holds for a surface swept by fresh charge once a cycle, for milliseconds; the autoignition temperature of
    tables, with minutes of delay, is not this threshold.

        excess = T_mean + swing - T_threshold

    Parameters
    ----------
    mean_temperature : [K] cycle mean of the surface, (n_time, n_draw)
    swing : [K] peak above the mean within a cycle, 0 or more, (n_draw,)
    threshold : [K] (n_draw,)

    Returns
    -------
    [K] (n_time, n_draw); above zero: it lights. `first_crossing` gives the time.

    Example
    -------
    >>> float(hot_surface_excess(860.0, 60.0, 900.0))
    20.0
    """
    swinging = np.asarray(swing, dtype=float)
    if np.any(swinging < 0):
        raise OutOfRange(f"swing: got {np.nanmin(swinging):g} K, must be 0 or more")
    return np.asarray(mean_temperature, dtype=float) + swinging - np.asarray(threshold, dtype=float)
