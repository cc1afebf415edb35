"""How is a property that changes with temperature written down, one curve a draw, and read off?"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange

FloatArray = NDArray[np.float64]

ROOM_TEMPERATURE = 296.15
"""23 degC [K], at which data sheets give the strength and the modulus."""


def checked_knots(temperature: ArrayLike, values: ArrayLike, name: str) -> tuple[FloatArray, FloatArray]:
    """Return knots `(n_knot,)` or `(n_knot, n_draw)` as arrays, refused unless they make a curve.

    Temperatures must not fall from knot to knot (equal ones make a step); values must not be negative.
    NaN is let through, so that an unknown property stays unknown in its own draw.
    """
    knots = np.asarray(temperature, dtype=float)
    heights = np.asarray(values, dtype=float)
    if knots.ndim not in (1, 2) or heights.ndim not in (1, 2) or knots.shape[0] != heights.shape[0]:
        raise OutOfRange(
            f"{name}: temperature {knots.shape} and {name} {heights.shape} must both be (n_knot,) or "
            "(n_knot, n_draw) with the same number of knots"
        )
    if knots.shape[0] < 2:
        raise OutOfRange(f"{name}: a curve needs 2 knots or more, got {knots.shape[0]}")
    if np.any(np.diff(knots, axis=0) < 0):
        raise OutOfRange(f"{name}: the temperatures of a curve must rise from knot to knot")
    if np.any(heights < 0):
        raise OutOfRange(f"{name}: got {np.nanmin(heights):g}, must be 0 or more at every knot")
    return knots, heights


def read_curve(temperature: ArrayLike, knots: FloatArray, heights: FloatArray) -> FloatArray:
    """Return the piecewise linear curve at `temperature`: flat below the first knot, zero above the last.

    Parameters
    ----------
    temperature : [K] shape (..., n_draw), or any shape when the curve has no draws
    knots : [K] (n_knot,) or (n_knot, n_draw)
    heights : [any unit] (n_knot,) or (n_knot, n_draw)

    Returns
    -------
    [unit of heights] the broadcast of `temperature` with one knot's shape
    """
    wanted = np.asarray(temperature, dtype=float)
    result: Any = heights[0] + 0.0 * wanted
    for index in range(knots.shape[0] - 1):
        width = knots[index + 1] - knots[index]
        share = np.where(
            width > 0,
            np.clip((wanted - knots[index]) / np.where(width > 0, width, 1.0), 0.0, 1.0),
            wanted >= knots[index],
        )
        result = result + share * (heights[index + 1] - heights[index])
    above = np.where(np.isnan(result), np.nan, 0.0)
    result = np.where(wanted > knots[-1], above, np.maximum(result, 0.0))
    return np.where(np.isnan(knots).any(axis=0) | np.isnan(wanted), np.nan, result)
