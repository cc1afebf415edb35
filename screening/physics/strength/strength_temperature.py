"""Up to which temperature does a polymer keep a given strength?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.physics.curves.temperature_curve import FloatArray
from screening.physics.strength.strength import StrengthCurve


def temperature_at_strength(curve: StrengthCurve, strength: ArrayLike) -> FloatArray:
    """Return the highest temperature at which a curve still holds a strength.

    Holds for any piecewise linear curve; the inverse of `StrengthCurve.at` where strength falls with temperature.

    Parameters
    ----------
    curve : StrengthCurve
    strength : [Pa] (n_draw,) or a number, above 0

    Returns
    -------
    [K] (n_draw,) or a number; 0 where the curve never holds it, the last knot where it still does there

    Example
    -------
    >>> float(temperature_at_strength(StrengthCurve([300.0, 400.0], [50e6, 0.0]), 10e6))
    380.0
    """
    wanted = np.asarray(strength, dtype=float)
    knots, heights = curve.temperature, curve.strength
    found = np.where(heights[0] >= wanted, knots[0], 0.0)
    for cold, hot, above, below in zip(knots[:-1], knots[1:], heights[:-1], heights[1:], strict=True):
        fall = above - below
        share = np.clip((above - wanted) / np.where(fall > 0, fall, 1.0), 0.0, 1.0)
        crossing = np.where(fall > 0, cold + share * (hot - cold), hot)
        held = np.maximum(above, below) >= wanted
        found = np.where(held, np.where(below >= wanted, hot, crossing), found)
    unknown = np.isnan(knots).any(axis=0) | np.isnan(heights).any(axis=0) | np.isnan(wanted)
    return np.where(unknown, np.nan, found)[()]
