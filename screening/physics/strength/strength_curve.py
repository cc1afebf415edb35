"""How strong is a polymer at each temperature, and up to which temperature does it keep a given strength?

Yield strength against temperature as a piecewise linear curve, one a draw. Strength never follows modulus:
scaled so, polyetherimide and polyetheretherketone change places.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.arrays import FloatArray
from screening.physics.curves.temperature_curve import checked_knots, read_curve


@dataclass(frozen=True)
class StrengthCurve:
    """Yield (or breaking) strength against temperature; flat below the first knot, nothing above the last.

    Parameters
    ----------
    temperature : [K] (n_knot,) or (n_knot, n_draw), rising; two equal knots make a step
    strength : [Pa] (n_knot,) or (n_knot, n_draw), 0 or more
    """

    temperature: FloatArray
    strength: FloatArray

    def __post_init__(self) -> None:
        knots, heights = checked_knots(self.temperature, self.strength, "strength")
        object.__setattr__(self, "temperature", knots)
        object.__setattr__(self, "strength", heights)

    def at(self, temperature: ArrayLike) -> FloatArray:
        """Return the strength [Pa] at `temperature` [K], shape (..., n_draw)."""
        return read_curve(temperature, self.temperature, self.strength)

    def taken(self, part: slice | NDArray[np.intp]) -> StrengthCurve:
        """Return the curves of some draws; rows that are the same in all draws stay as they are."""
        return StrengthCurve(*(row if row.ndim == 1 else row[:, part] for row in (self.temperature, self.strength)))


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
    hottest = np.where(heights[0] >= wanted, knots[0], 0.0)
    for cold, hot, above, below in zip(knots[:-1], knots[1:], heights[:-1], heights[1:], strict=True):
        fall = above - below
        share = np.clip((above - wanted) / np.where(fall > 0, fall, 1.0), 0.0, 1.0)
        crossing = np.where(fall > 0, cold + share * (hot - cold), hot)
        held = np.maximum(above, below) >= wanted
        hottest = np.where(held, np.where(below >= wanted, hot, crossing), hottest)
    unknown = np.isnan(knots).any(axis=0) | np.isnan(heights).any(axis=0) | np.isnan(wanted)
    return np.where(unknown, np.nan, hottest)[()]
