"""Does a share lie between 0 and 1?"""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.errors import OutOfRange


def refuse_outside_share(name: str, value: FloatArray) -> None:
    """Refuse a share that is not between 0 and 1; NaN is let through.

    Parameters
    ----------
    name : of the share, for what is said when it is refused
    value : [1] any shape

    Raises
    ------
    OutOfRange : a value below 0 or above 1

    Example
    -------
    >>> refuse_outside_share("solid_share", np.array([0.2, 1.4]))
    Traceback (most recent call last):
    screening.errors.OutOfRange: solid_share: got 0.2 to 1.4, must be 0 to 1
    """
    if np.any((value < 0) | (value > 1)):
        raise OutOfRange(f"{name}: got {np.nanmin(value):g} to {np.nanmax(value):g}, must be 0 to 1")
