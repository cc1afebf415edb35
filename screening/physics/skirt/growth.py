"""How much does a part grow when it warms, evenly or unevenly?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import trapezoid

from screening.arrays import FloatArray
from screening.errors import OutOfRange


def expansion_strain(
    temperature: ArrayLike,
    reference: ArrayLike,
    expansion: ArrayLike,
    expansion_hot: ArrayLike = np.nan,
    transition: ArrayLike = np.nan,
) -> FloatArray:
    """Return the free thermal strain between a reference temperature and `temperature`.

    Holds for one coefficient below the glass transition and one above it; where the second or the transition
    is NaN the first is used throughout, which is then a lower bound above the transition.

        e = alpha (min(T, Tg) - T0) + alpha_hot max(T - Tg, 0)       (T0 below Tg)

    Parameters
    ----------
    temperature : [K] T, (..., n_draw)
    reference : [K] T0, (..., n_draw)
    expansion : [1/K] alpha, (n_draw,)
    expansion_hot : [1/K] alpha_hot, above the transition, (n_draw,)
    transition : [K] Tg, (n_draw,)

    Returns
    -------
    [1] (..., n_draw)

    Example
    -------
    >>> round(float(expansion_strain(373.15, 293.15, 90e-6)), 6)
    0.0072
    """
    warm, cold, slope, steep, glass = (
        np.asarray(v, dtype=float) for v in (temperature, reference, expansion, expansion_hot, transition)
    )
    bends = ~(np.isnan(steep) | np.isnan(glass))
    bend = np.where(bends, glass, np.inf)
    floor = np.where(bends, glass, 0.0)
    below = np.minimum(warm, bend) - np.minimum(cold, bend)
    over = np.maximum(warm, floor) - np.maximum(cold, floor)
    return slope * below + np.where(bends, steep, 0.0) * over


def shared_growth(depth: ArrayLike, strain: ArrayLike, modulus: ArrayLike) -> FloatArray:
    """Return the one strain that layers of different temperature share when they must stay together.

    Holds for an elastic disc or land whose layers cannot slide; soft layers follow the stiff ones.

        e = int E e(z) dz/int E dz

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw)
    strain : [1] (n_time, n_depth[, n_draw]), free strain at each depth
    modulus : [Pa] like `strain`

    Returns
    -------
    [1] (n_time[, n_draw]); NaN where nothing has any stiffness left

    Raises
    ------
    OutOfRange : shapes that do not fit together

    References
    ----------
    Timoshenko, S., Goodier, J. N. (1970), Theory of Elasticity, 3rd ed., art. 149 (uneven heating of a
    plate), weighted by modulus; from memory.

    Example
    -------
    Two even halves, the cold one nine times as stiff: by hand (1 x 0.01 + 9 x 0)/10

    >>> depth = [0.0, 0.002, 0.002, 0.004]
    >>> round(float(shared_growth(depth, [[0.01, 0.01, 0.0, 0.0]], [[1e9, 1e9, 9e9, 9e9]])[0]), 6)
    0.001
    """
    nodes, free, stiff = (np.asarray(v, dtype=float) for v in (depth, strain, modulus))
    if free.shape != stiff.shape or free.ndim not in (2, 3) or free.shape[1] != nodes.shape[0]:
        raise OutOfRange(
            f"depth {nodes.shape}, strain {free.shape} and modulus {stiff.shape}: must be "
            "(n_depth[, n_draw]) and twice (n_time, n_depth[, n_draw])"
        )
    nodes = nodes[:, None] if nodes.ndim == 1 and free.ndim == 3 else nodes
    whole = trapezoid(stiff, nodes, axis=1)
    return trapezoid(stiff * free, nodes, axis=1) / np.where(whole > 0, whole, np.nan)
