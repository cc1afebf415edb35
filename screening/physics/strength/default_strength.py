"""How strong is a hot polymer whose strength is published at 23 degC alone?

The shapes are fits to data that are remembered rather than looked up (about 30 % either way); measured points replace
them where there are any. What a shape keeps at its knots is handed down; where the knots lie is part of what is kept.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.curves.shares import refuse_outside_share
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import ROOM_TEMPERATURE

_BELOW_GLASS = 5.0  # K below Tg, where `AmorphousShape.retained` is read
_ABOVE_GLASS, _BELOW_MELTING, _NEAR_MELTING = 50.0, 60.0, 10.0  # K, where the shares of `CrystallineShape` are read
_ROOM_FOR_KNOTS = 130.0  # K between Tg and Tm: closer together they squeeze the knots' distances in proportion


@dataclass(frozen=True)
class AmorphousShape:
    """What an amorphous polymer keeps of its strength near its glass transition Tg.

    Parameters
    ----------
    retained : [1] share of the strength at 23 degC that is left 5 K below Tg, 0 to 1, a number or (n_draw,)
    gone_above : [K] how far above Tg nothing is left, above 0, a number or (n_draw,)

    Raises
    ------
    OutOfRange : a share outside 0 to 1, nothing left at or below Tg
    """

    retained: ArrayLike
    gone_above: ArrayLike

    def __post_init__(self) -> None:
        refuse_outside_share("retained", np.asarray(self.retained, dtype=float))
        if np.any(np.asarray(self.gone_above) <= 0):
            raise OutOfRange("gone_above: must be above 0 K")


@dataclass(frozen=True)
class CrystallineShape:
    """What a semicrystalline polymer keeps of its strength between its glass transition Tg and its melting point Tm.

    Parameters
    ----------
    at_glass, above_glass, below_melting, near_melting : [1] shares of the strength at 23 degC that are left at Tg, at
        Tg + 50 K, at Tm - 60 K and at Tm - 10 K, for a Tg far above 23 degC, 0 to 1, numbers or (n_draw,)
    glassy_span : [K] a Tg nearer to 23 degC than this has lost only its part of the first share, and the second goes
        with it: 1 - (1 - f) (Tg - 23 degC)/glassy_span, above 0
    decay : [K] temperature over which the strength falls by e where Tg lies below 23 degC, above 0
    factor : [1] multiplies all the shares together; no share passes 1, above 0

    Raises
    ------
    OutOfRange : a share outside 0 to 1, a span, decay or factor of 0 or less
    """

    at_glass: ArrayLike
    above_glass: ArrayLike
    below_melting: ArrayLike
    near_melting: ArrayLike
    glassy_span: ArrayLike
    decay: ArrayLike
    factor: ArrayLike = 1.0

    def __post_init__(self) -> None:
        for name in ("at_glass", "above_glass", "below_melting", "near_melting"):
            refuse_outside_share(name, np.asarray(getattr(self, name), dtype=float))
        for name in ("glassy_span", "decay", "factor"):
            if np.any(np.asarray(getattr(self, name)) <= 0):
                raise OutOfRange(f"{name}: must be above 0")


def amorphous_strength(strength_23: ArrayLike, glass_transition: ArrayLike, shape: AmorphousShape) -> StrengthCurve:
    """Return the default strength curve of an amorphous polymer.

    Holds between room temperature and the glass transition at 0.01 to 0.1 strain per second; the yield stress
    of a glass falls about in a straight line with temperature (Eyring) and is gone a little above the
    transition.

        sigma(23 degC) = sigma_23;  sigma(Tg - 5 K) = r sigma_23;  sigma(Tg + d) = 0

    Parameters
    ----------
    strength_23 : [Pa] strength at 23 degC, (n_draw,)
    glass_transition : [K] Tg, (n_draw,); below 28 degC the fall starts at 23 degC at once, and at or below
        23 degC - d the polymer is a rubber at room temperature: NaN
    shape : AmorphousShape, r and d

    Returns
    -------
    StrengthCurve of 3 knots

    References
    ----------
    Bauwens-Crowet, C., Bauwens, J.-C., Homes, G. (1972), J. Mater. Sci. 7, 176-183: yield of polycarbonate in
    tension and compression from -120 to 120 degC follows a modified Eyring theory (abstract seen; the falling
    straight line near the transition from memory).

    Example
    -------
    >>> float(amorphous_strength(60e6, 420.0, AmorphousShape(retained=0.35, gone_above=10.0)).at(415.0)) / 1e6
    21.0
    """
    strength, transition, share, gone = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (strength_23, glass_transition, shape.retained, shape.gone_above))
    )
    end = np.where(transition + gone > ROOM_TEMPERATURE, transition + gone, np.nan)
    knee = np.maximum(transition - _BELOW_GLASS, ROOM_TEMPERATURE)
    # a knee pushed up to room temperature keeps the whole strength there: sigma_23 was measured so
    height = np.where(transition - _BELOW_GLASS > ROOM_TEMPERATURE, share, 1.0) * strength
    room = np.full_like(knee, ROOM_TEMPERATURE)
    return StrengthCurve(np.stack([room, knee, end]), np.stack([strength, height, 0.0 * strength]))


def semicrystalline_strength(
    strength_23: ArrayLike, glass_transition: ArrayLike, melting_point: ArrayLike, shape: CrystallineShape
) -> StrengthCurve:
    """Return the default strength curve of a semicrystalline polymer.

    Holds from room temperature to the melting point at 0.01 to 0.1 strain per second. With Tg above 23 degC the
    strength passes the shape's shares of sigma_23 at Tg, Tg + 50 K, Tm - 60 K, Tm - 10 K and is nothing at Tm; with
    Tg below 23 degC it falls exponentially to Tm - 60 K and then to the same end. Transitions closer together than
    130 K squeeze the 50, 60 and 10 K in proportion.

        sigma = sigma_23 exp(-(T - 23 degC)/decay) for Tg below 23 degC

    Parameters
    ----------
    strength_23 : [Pa] (n_draw,)
    glass_transition : [K] Tg, (n_draw,), below Tm
    melting_point : [K] Tm, (n_draw,); at or below 23 degC: NaN
    shape : CrystallineShape

    Returns
    -------
    StrengthCurve of 6 knots

    Raises
    ------
    OutOfRange : a glass transition at or above the melting point

    Notes
    -----
    The shares suit a Tg near 143 degC. Taken as they stand for a polyamide with Tg at 50 degC they lose 45 % in the first
    27 K, and a draw whose Tg crosses 23 degC would jump by as much; `glassy_span` makes the curve continuous there.

    Example
    -------
    >>> shape = CrystallineShape(0.55, 0.28, 0.12, 0.06, glassy_span=120.0, decay=73.0)
    >>> round(float(semicrystalline_strength(100e6, 416.15, 616.15, shape).at(466.15)) / 1e6, 6)
    28.0
    """
    given = (strength_23, glass_transition, melting_point, *(getattr(shape, field.name) for field in fields(shape)))
    strength, glass, melt, *kept = np.broadcast_arrays(*(np.asarray(value, dtype=float) for value in given))
    drawn = _DrawnShape(*kept)
    if np.any((glass > ROOM_TEMPERATURE) & (melt > ROOM_TEMPERATURE) & (glass >= melt)):
        raise OutOfRange("strength: the glass transition must lie below the melting point")
    melt = np.where(melt > ROOM_TEMPERATURE, melt, np.nan)
    glassy, rubbery = _above_room(glass, melt, drawn), _below_room(melt, drawn)
    shares = np.where(glass > ROOM_TEMPERATURE, glassy[1], rubbery[1])
    shares[1:] = np.minimum(shares[1:] * drawn.factor, 1.0)
    shares = np.minimum.accumulate(shares, axis=0)
    knots = np.where(np.isnan(glass), np.nan, np.where(glass > ROOM_TEMPERATURE, glassy[0], rubbery[0]))
    return StrengthCurve(knots, shares * strength)


class _DrawnShape(NamedTuple):
    """A `CrystallineShape` whose fields are arrays of the draws' shape."""

    at_glass: FloatArray
    above_glass: FloatArray
    below_melting: FloatArray
    near_melting: FloatArray
    glassy_span: FloatArray
    decay: FloatArray
    factor: FloatArray


def _above_room(glass: FloatArray, melt: FloatArray, shape: _DrawnShape) -> tuple[FloatArray, FloatArray]:
    """Return temperatures [K] and shares [1], (6, n_draw), of a polymer with its glass transition above 23 degC."""
    squeeze, ones = np.minimum(1.0, (melt - glass) / _ROOM_FOR_KNOTS), np.ones_like(melt)
    near_room = np.clip((glass - ROOM_TEMPERATURE) / shape.glassy_span, 0.0, 1.0)
    first = 1.0 - (1.0 - shape.at_glass) * near_room
    second = first * shape.above_glass / shape.at_glass
    lower = (ROOM_TEMPERATURE * ones, glass, glass + _ABOVE_GLASS * squeeze)
    upper = (melt - _BELOW_MELTING * squeeze, melt - _NEAR_MELTING * squeeze, melt)
    return np.stack([*lower, *upper]), np.stack(
        [ones, first, second, shape.below_melting, shape.near_melting, 0 * ones]
    )


def _below_room(melt: FloatArray, shape: _DrawnShape) -> tuple[FloatArray, FloatArray]:
    """Return temperatures [K] and shares [1], (6, n_draw), of a polymer with its glass transition below 23 degC."""
    tail = np.minimum(_BELOW_MELTING, (melt - ROOM_TEMPERATURE) / 2)
    steps = [ROOM_TEMPERATURE + (melt - tail - ROOM_TEMPERATURE) * part / 3 for part in range(4)]
    fallen = [np.exp(-(step - ROOM_TEMPERATURE) / shape.decay) for step in steps]
    near = melt - tail * _NEAR_MELTING / _BELOW_MELTING
    return np.stack([*steps, near, melt]), np.stack([*fallen, shape.near_melting, np.zeros_like(melt)])
