"""How is a property that changes with temperature written down, one curve a draw, and read off?"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange


def checked_knots(temperature: ArrayLike, values: ArrayLike, name: str) -> tuple[FloatArray, FloatArray]:
    """Return the knots of a curve as arrays, refused unless they make one.

    Temperatures must not fall from knot to knot (equal ones make a step); values must not be negative.
    NaN is let through, so that an unknown property stays unknown in its draw.

    Parameters
    ----------
    temperature : [K] (n_knot,) or (n_knot, n_draw)
    values : [any unit] (n_knot,) or (n_knot, n_draw)
    name : of the property, for what is said when it is refused

    Returns
    -------
    (temperature [K], values [any unit]) as arrays

    Raises
    ------
    OutOfRange : fewer than two knots, different numbers of them, a temperature that falls, a value below 0

    Example
    -------
    >>> knots, heights = checked_knots([300.0, 400.0], [50e6, 0.0], "strength")
    >>> knots.shape, heights.dtype.name
    ((2,), 'float64')
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

    Example
    -------
    >>> read_curve([250.0, 350.0, 450.0], np.array([300.0, 400.0]), np.array([50.0, 40.0])).tolist()
    [50.0, 45.0, 0.0]
    """
    wanted = np.asarray(temperature, dtype=float)
    draws = np.broadcast_shapes(knots.shape[1:], heights.shape[1:])
    shape = np.broadcast_shapes(wanted.shape, draws)
    count = draws[0] if draws else 1
    rows = (np.broadcast_to(row.reshape(row.shape[0], -1), (row.shape[0], count)) for row in (knots, heights))
    level = np.ascontiguousarray(np.broadcast_to(wanted, shape)).reshape(-1, count)
    values: FloatArray = _read(level, *(np.ascontiguousarray(row, dtype=float) for row in rows)).reshape(shape)
    return values


@njit(cache=True, nogil=True, error_model="numpy")
def _read(level: FloatArray, knots: FloatArray, heights: FloatArray) -> FloatArray:
    """Values of curves (n_knot, n_draw) at temperatures (n, n_draw); at a step, the value above it."""
    values, last = np.empty(level.shape), knots.shape[0] - 1
    for i in range(level.shape[0]):
        for d in range(level.shape[1]):
            wanted = level[i, d]
            values[i, d] = np.nan if np.isnan(wanted + knots[last, d]) else max(heights[0, d], 0.0)
            for j in range(last):
                if wanted < knots[j, d]:
                    break
                width = knots[j + 1, d] - knots[j, d]
                share = (wanted - knots[j, d]) / width if wanted < knots[j + 1, d] else 1.0
                values[i, d] = max(heights[j, d] + share * (heights[j + 1, d] - heights[j, d]), 0.0)
            if wanted > knots[last, d]:
                values[i, d] = 0.0
            for j in range(last + 1):
                if np.isnan(knots[j, d] + heights[j, d]):
                    values[i, d] = np.nan
    return values
