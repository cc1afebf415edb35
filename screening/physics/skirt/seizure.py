"""When does the skirt seize: when does its grip on the bore cost more power than the engine has to spare?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.physics.curves.first_crossing import first_crossing


def radial_interference(
    part_diameter: ArrayLike,
    part_strain: ArrayLike,
    bore_diameter: ArrayLike,
    bore_strain: ArrayLike,
    swelling: ArrayLike = 0.0,
) -> FloatArray:
    """Return the depth to which the free skirt would stand into the bore wall, on the radius; below 0 it is clear of it.

    Holds for round, concentric parts.

        d = (D_p (1 + e_p)(1 + s) - D_b (1 + e_b))/2

    Parameters
    ----------
    part_diameter : [m] D_p, cold, (n_draw,)
    part_strain : [1] e_p, thermal growth from cold, (n_time, n_draw)
    bore_diameter : [m] D_b, cold, (n_draw,)
    bore_strain : [1] e_b, thermal growth from cold, (n_time, n_draw)
    swelling : [1] s, linear, (n_draw,) or (n_time, n_draw)

    Returns
    -------
    [m] (n_time, n_draw)

    Example
    -------
    >>> round(1e6 * float(radial_interference(0.05595, 60e-6 * 60, 0.056, 11e-6 * 60)), 1)
    57.2
    """
    part, part_growth, bore, bore_growth, swelled = (
        np.asarray(v, dtype=float) for v in (part_diameter, part_strain, bore_diameter, bore_strain, swelling)
    )
    return np.asarray((part * (1.0 + part_growth) * (1.0 + swelled) - bore * (1.0 + bore_growth)) / 2.0)


def seizure_time(times: ArrayLike, interference: ArrayLike, threshold: ArrayLike) -> FloatArray:
    """Return the time at which the interference first reaches the seizing one.

    Holds as `first_crossing`.

    Parameters
    ----------
    times : [s] (n_time,), rising from 0 or more
    interference : [m] (n_time, n_draw) or (n_time,)
    threshold : [m] (n_draw,)

    Returns
    -------
    [s] (n_draw,); inf if never

    Example
    -------
    >>> round(float(seizure_time([0.0, 10.0, 20.0], [-30e-6, -10e-6, 20e-6], [5e-6])[0]), 2)
    14.14
    """
    history, limit = np.asarray(interference, dtype=float), np.asarray(threshold, dtype=float)
    if limit.ndim and history.ndim == 1:
        history = history[:, None]
    return first_crossing(times, history - limit)
