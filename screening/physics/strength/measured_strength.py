"""How strong is a hot polymer whose strength was measured at one or a few temperatures?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.curves.temperature_curve import read_curve
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import ROOM_TEMPERATURE


def measured_strength(temperature: ArrayLike, share: ArrayLike, default: StrengthCurve) -> StrengthCurve:
    """Return the default curve scaled so that it passes through measured shares of the strength at 23 degC.

    Holds from 23 degC to the default's end. The factor runs in straight lines from 1 at 23 degC over the points and
    stays at the last one's beyond it, so that the shape and the end of the curve are the default's. Draws that differ
    in their shape meet at the points, where they differ by the points' own spread alone, and part again away from them.

        sigma(T) = d(T) r(T);  r(23 degC) = 1;  r(T_i) = m_i sigma_23/d(T_i)

    Parameters
    ----------
    temperature : [K] (n_point,), above 23 degC, rising; one at or above the default's end counts as nothing left
    share : [1] (n_point,) or (n_point, n_draw), measured strength over the measured one at 23 degC, 0 or more
    default : StrengthCurve that holds the draw's strength at 23 degC, the shape and the end of the curve

    Returns
    -------
    StrengthCurve of n_point + n_default knots; it never rises with temperature

    Raises
    ------
    OutOfRange : points at or below 23 degC or that do not rise, a share below 0, or not one share a point

    Example
    -------
    >>> default = StrengthCurve([296.15, 430.0], [60e6, 0.0])
    >>> curve = measured_strength([373.15], [0.5], default)
    >>> round(float(curve.at(373.15)) / 1e6, 6)
    30.0
    """
    points, shares = np.asarray(temperature, dtype=float), np.asarray(share, dtype=float)
    if points.ndim != 1 or shares.shape[:1] != points.shape or np.any(np.diff(points, prepend=ROOM_TEMPERATURE) <= 0):
        raise OutOfRange(
            "measured strength: temperatures must be (n_point,), above 23 degC and rising, a share for each"
        )
    if np.any(shares < 0):
        raise OutOfRange(f"measured strength: got a share of {np.nanmin(shares):g}, must be 0 or more")
    n_draw = np.broadcast_shapes(default.temperature.shape[1:], default.strength.shape[1:], shares.shape[1:])
    knots = np.concatenate([_a_draw(default.temperature, n_draw), _a_draw(points, n_draw)])
    knots = np.sort(np.minimum(knots, _a_draw(default.temperature, n_draw)[-1]), axis=0)
    level = default.at(np.full(n_draw, ROOM_TEMPERATURE))
    at_points = default.at(_a_draw(points, n_draw))
    ratio = _a_draw(shares, n_draw) * level / np.where(at_points > 0, at_points, np.inf)
    measured_at = _a_draw(np.array([ROOM_TEMPERATURE, *points, np.inf]), n_draw)
    factor = read_curve(knots, measured_at, np.concatenate([np.ones((1, *n_draw)), ratio, ratio[-1:]]))
    return StrengthCurve(knots, np.minimum.accumulate(default.at(knots) * factor, axis=0))


def _a_draw(rows: FloatArray, n_draw: tuple[int, ...]) -> FloatArray:
    """Rows (n,) or (n, n_draw) as (n, n_draw)."""
    return np.broadcast_to(rows if rows.ndim > len(n_draw) else rows[:, None], (rows.shape[0], *n_draw))
