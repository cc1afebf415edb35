"""What does the fuel vapour in the cylinder offer to a surface: its activity against crank angle?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def mean_and_peak_activity(vapour_pressure: ArrayLike, saturation_pressure: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return the mean and the peak activity of a vapour at a surface over the cycle.

    Holds for an ideal vapour; 1 means that the wall is wet from the vapour alone.

        a = min(1, p/p_sat(T_surface))

    Parameters
    ----------
    vapour_pressure : [Pa] p, partial pressure of the unburned fuel at equal crank steps, (n_angle, ...); 0 once burned
    saturation_pressure : [Pa] p_sat, vapour pressure of the fuel at the surface's temperature, (...)

    Returns
    -------
    (mean [1], peak [1]), each (...)

    Example
    -------
    >>> [float(activity) for activity in mean_and_peak_activity([0.0, 2e3, 4e4], 8e3)]
    [0.4166666666666667, 1.0]
    """
    ratio = np.asarray(vapour_pressure, dtype=float) / np.asarray(saturation_pressure, dtype=float)
    activity = np.minimum(ratio, 1.0)
    return activity.mean(axis=0), activity.max(axis=0)


def compressed_vapour_pressure(
    peak: ArrayLike, compression_ratio: ArrayLike, n_angle: int = 144, exponent: float = 1.3
) -> FloatArray:
    """Return a plain trace over the cycle of the fuel's partial pressure, for a stated charge where no cycle was solved.

    Holds roughly: intake at constant pressure, compression with p V^n constant, nothing once burned (from top dead centre
    on), harmonic motion of the piston.

        p = p_peak (V/V_clearance)^-n

    Parameters
    ----------
    peak : [Pa] highest partial pressure, at the end of compression, (...)
    compression_ratio : [1] (...)
    n_angle : equal steps of crank angle over 720 degrees from firing top dead centre
    exponent : [1] n

    Returns
    -------
    [Pa] (n_angle, ...)

    Example
    -------
    >>> compressed_vapour_pressure(1e5, 8.0, n_angle=4).round().tolist()
    [0.0, 0.0, 6699.0, 6699.0]
    """
    top = np.asarray(peak, dtype=float)
    ratio = np.asarray(compression_ratio, dtype=float)
    angle = np.linspace(0.0, 4 * np.pi, n_angle, endpoint=False).reshape(-1, *(1,) * max(top.ndim, ratio.ndim))
    volume = 1 + (ratio - 1) * (1 - np.cos(angle)) / 2
    compressing = top * volume ** (-exponent)
    intake = top * ratio ** (-exponent)
    return np.where(angle < 2 * np.pi, 0.0, np.where(angle < 3 * np.pi, intake, compressing))
