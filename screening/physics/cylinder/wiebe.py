"""How fast does the charge burn? Wiebe's curve of the burned share over the crank angle."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = float | NDArray[np.float64]


def burned_fraction(angle: Floats, start: Floats, duration: Floats, efficiency: Floats, shape: Floats) -> Floats:
    """Return the share of the fresh charge that has burned, 0 before the start.

    x = 1 - exp(-a y^(m + 1)),  y = (angle - start)/duration

    Parameters
    ----------
    angle, start, duration : crank angles from one reference [rad], broadcast; `duration` above 0
    efficiency : a, which sets the share burned after `duration`: 99.3 % for 5, 99.9 % for 6.9 [1]
    shape : m, the higher the later the bulk burns [1]

    Returns
    -------
    fraction : [1], the inputs broadcast; NaN where an input is NaN

    References
    ----------
    Heywood 1988, eq. 9.27, with a = 5 and m = 2 fitted to petrol engines (from memory).

    Examples
    --------
    10, 50 and 90 % have burned at 0.276, 0.518 and 0.772 of the duration:

    >>> [round(float(burned_fraction(y, 0.0, 1.0, 5.0, 2.0)), 2) for y in (0.276, 0.518, 0.772)]
    [0.1, 0.5, 0.9]
    """
    progress = np.maximum((angle - start) / duration, 0.0)
    return -np.expm1(-efficiency * progress ** (shape + 1.0))
