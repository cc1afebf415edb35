"""What the fuel vapour in the cylinder offers to a surface: its activity against crank angle."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


def charge_activity(vapour_pressure: ArrayLike, saturation_pressure: ArrayLike) -> FloatArray:
    """Return a = min(1, p_fuel / p_sat(T_surface)) [1]; 1 means that the wall is wet from the vapour alone.

    Parameters
    ----------
    vapour_pressure : array_like
        Partial pressure of the unburned fuel [Pa]; 0 after it has burned.
    saturation_pressure : array_like
        Vapour pressure of the fuel at the surface's temperature [Pa].
    """
    ratio = np.asarray(vapour_pressure, dtype=float) / np.asarray(saturation_pressure, dtype=float)
    return np.minimum(ratio, 1.0)


def mean_and_peak_activity(vapour_pressure: ArrayLike, saturation_pressure: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return the mean and the peak activity over the cycle; equal crank steps on the first axis of `vapour_pressure`.

    `saturation_pressure` broadcasts against the remaining axes.
    """
    activity = charge_activity(vapour_pressure, saturation_pressure)
    return activity.mean(axis=0), activity.max(axis=0)


def compressed_vapour_pressure(
    peak: ArrayLike, compression_ratio: ArrayLike, n_angle: int = 144, exponent: float = 1.3
) -> FloatArray:
    """Return a plain trace (n_angle, ...) of the fuel's partial pressure [Pa] whose highest value is `peak`.

    Intake at constant pressure, compression with p V^n constant, nothing once burned (from top dead centre on); for a
    stated default charge where no cycle was solved. Crank motion is taken as harmonic.
    """
    top = np.asarray(peak, dtype=float)
    ratio = np.asarray(compression_ratio, dtype=float)
    angle = np.linspace(0.0, 4 * np.pi, n_angle, endpoint=False).reshape(-1, *(1,) * max(top.ndim, ratio.ndim))
    volume = 1 + (ratio - 1) * (1 - np.cos(angle)) / 2
    compressing = top * volume ** (-exponent)
    intake = top * ratio ** (-exponent)
    return np.where(angle < 2 * np.pi, 0.0, np.where(angle < 3 * np.pi, intake, compressing))
