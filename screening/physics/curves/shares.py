"""Shares lie between 0 and 1."""

from __future__ import annotations

import numpy as np

from screening.errors import OutOfRange

FloatArray = np.ndarray


def refuse_outside_share(name: str, value: FloatArray) -> None:
    """Raise OutOfRange when a share is not between 0 and 1."""
    if np.any((value < 0) | (value > 1)):
        raise OutOfRange(f"{name}: got {np.nanmin(value):g} to {np.nanmax(value):g}, must be 0 to 1")
