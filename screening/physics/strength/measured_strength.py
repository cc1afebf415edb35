"""How strong is a hot polymer whose strength was measured at some temperatures?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.curves.temperature_curve import checked_knots, read_curve
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import ROOM_TEMPERATURE


def measured_strength(temperature: ArrayLike, strength: ArrayLike, default: StrengthCurve) -> StrengthCurve:
    """Return a curve through measured points, carried on beyond the last of them by the default shape.

    Holds inside the measured range; beyond it the default curve is scaled to meet the last point, so it ends
    where the default ends. The measured *shape* is kept and its level is the draw's strength at 23 degC, so the spread between makes and prints is not lost.

        sigma(T) = sigma_23 m(T)/m(23 degC) up to the last point, then sigma(T_last) d(T)/d(T_last)

    Parameters
    ----------
    temperature : [K] (n_point,), rising, the first at or below 23 degC or taken as flat down to it
    strength : [Pa] (n_point,), above 0 at 23 degC
    default : StrengthCurve that holds the draw's strength at 23 degC, and the end of the curve

    Returns
    -------
    StrengthCurve of n_point + n_default knots; points at or above the default's end count as nothing left

    Raises
    ------
    OutOfRange : points that make no curve, or one curve a draw

    Example
    -------
    >>> default = StrengthCurve([296.15, 430.0], [60e6, 0.0])
    >>> curve = measured_strength([296.15, 373.15], [50e6, 25e6], default)
    >>> float(curve.at(373.15)) / 1e6
    30.0
    """
    points, heights = checked_knots(temperature, strength, "measured strength")
    if points.ndim != 1 or heights.ndim != 1:
        raise OutOfRange("measured strength: points must be (n_point,), one measured curve for all draws")
    shares = heights / read_curve(ROOM_TEMPERATURE, points, heights)
    n_draw = np.broadcast_shapes(default.temperature.shape[1:], default.strength.shape[1:])
    default_knots, default_heights = (
        np.broadcast_to(item if item.ndim > len(n_draw) else item[:, None], (item.shape[0], *n_draw))
        for item in (default.temperature, default.strength)
    )
    level = default.at(np.full(n_draw, ROOM_TEMPERATURE))
    end = default_knots[-1]
    last = np.minimum(points[-1], end)
    inside = points[-1] < end
    at_last = default.at(last)
    trailing = (slice(None),) + (None,) * len(n_draw)
    measured = np.where(points[trailing] < end, shares[trailing] * level, 0.0 * level)
    meeting = np.where(inside, shares[-1] * level, 0.0 * level)
    ratio = meeting / np.where(at_last > 0, at_last, np.inf)
    beyond = np.where(default_knots > last, default_heights * ratio, meeting)
    knots = np.concatenate([np.minimum(points[trailing], end), np.maximum(default_knots, last)])
    return StrengthCurve(knots, np.concatenate([measured, beyond]))
