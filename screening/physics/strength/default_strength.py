"""How strong is a hot polymer whose strength is published at 23 degC alone?

The shapes are fits to data that are remembered rather than looked up (about 30 % either way); measured points replace
them where there are any.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.curves.shares import refuse_outside_share
from screening.physics.curves.temperature_curve import ROOM_TEMPERATURE, FloatArray
from screening.physics.strength.strength_curve import StrengthCurve


def amorphous_strength(
    strength_23: ArrayLike,
    glass_transition: ArrayLike,
    retained: ArrayLike = 0.35,
) -> StrengthCurve:
    """Return the default strength curve of an amorphous polymer.

    Holds between room temperature and the glass transition at 0.01 to 0.1 strain per second; the yield stress
    of a glass falls about in a straight line with temperature (Eyring) and is gone a little above the
    transition.

        sigma(23 degC) = sigma_23;  sigma(Tg - 5 K) = r sigma_23;  sigma(Tg + 10 K) = 0

    Parameters
    ----------
    strength_23 : [Pa] strength at 23 degC, (n_draw,)
    glass_transition : [K] Tg, (n_draw,); below 33 degC the fall starts at 23 degC at once, and at or below
        13 degC the polymer is a rubber at room temperature: NaN
    retained : [1] r, the share of strength_23 left at Tg - 5 K, about 0.2 to 0.45

    Returns
    -------
    StrengthCurve of 3 knots

    Notes
    -----
    r = 0.35 (0.2 to 0.45) is the project's own fit to remembered yield data of PC, PMMA, PS and PSU.

    References
    ----------
    Bauwens-Crowet, C., Bauwens, J.-C., Homes, G. (1972), J. Mater. Sci. 7, 176-183: yield of polycarbonate in
    tension and compression from -120 to 120 degC follows a modified Eyring theory (abstract seen; the falling
    straight line near the transition from memory).

    Example
    -------
    >>> float(amorphous_strength(60e6, 420.0).at(415.0)) / 1e6
    21.0
    """
    strength, transition, share = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (strength_23, glass_transition, retained))
    )
    refuse_outside_share("retained", share)
    end = np.where(transition + 10 > ROOM_TEMPERATURE, transition + 10, np.nan)
    knee = np.maximum(transition - 5, ROOM_TEMPERATURE)
    # a knee pushed up to room temperature keeps the whole strength there: sigma_23 was measured so
    height = np.where(transition - 5 > ROOM_TEMPERATURE, share, 1.0) * strength
    room = np.full_like(knee, ROOM_TEMPERATURE)
    return StrengthCurve(np.stack([room, knee, end]), np.stack([strength, height, 0.0 * strength]))


def semicrystalline_strength(
    strength_23: ArrayLike,
    glass_transition: ArrayLike,
    melting_point: ArrayLike,
    *,
    factor: ArrayLike = 1.0,
    decay: ArrayLike = 73.0,
    fractions: tuple[float, float, float, float] = (0.55, 0.28, 0.12, 0.06),
    glassy_span: float = 120.0,
) -> StrengthCurve:
    """Return the default strength curve of a semicrystalline polymer.

    Holds from room temperature to the melting point at 0.01 to 0.1 strain per second. With Tg above 23 degC
    the strength passes `fractions` of sigma_23 at Tg, Tg + 50 K, Tm - 60 K, Tm - 10 K and is nothing at Tm;
    with Tg below 23 degC it falls as exp(-(T - 23 degC)/decay) to Tm - 60 K and then to the same end.
    Transitions closer together than 130 K squeeze the 50 and 60 K in proportion.

    Parameters
    ----------
    strength_23, glass_transition, melting_point : [Pa], [K], [K], (n_draw,); Tm at or below 23 degC: NaN
    factor : [1] (n_draw,) multiplies all the fractions together (their uncertainty, about 0.7 to 1.3); no
        fraction passes 1
    decay : [K] (n_draw,) 65 to 82
    fractions : [1] the four shares of sigma_23
    glassy_span : [K] a Tg nearer to 23 degC than this has lost only its part of the first fraction, and the
        second goes with it: 1 - (1 - f) (Tg - 23 degC)/glassy_span; 0 takes `fractions` as they stand

    Returns
    -------
    StrengthCurve of 6 knots

    Notes
    -----
    Fits to remembered data, about 30 % either way; see `measured_strength`. The fractions suit a Tg near
    143 degC. Taken as they stand for a polyamide with Tg at 50 degC they lose 45 % in the first 27 K, and a
    draw whose Tg crosses 23 degC would jump by as much; `glassy_span` makes the curve continuous there.

    Example
    -------
    >>> round(float(semicrystalline_strength(100e6, 416.15, 616.15).at(466.15)) / 1e6, 6)
    28.0
    """
    strength, glass, melt, scale, fall = np.broadcast_arrays(
        *(np.asarray(v, dtype=float) for v in (strength_23, glass_transition, melting_point, factor, decay))
    )
    if np.any(scale <= 0) or np.any(fall <= 0):
        raise OutOfRange("strength: factor and decay must be above 0")
    for fraction in fractions:
        refuse_outside_share("fractions", np.asarray(fraction))
    melt = np.where(melt > ROOM_TEMPERATURE, melt, np.nan)
    room = np.full_like(melt, ROOM_TEMPERATURE)
    glass_case = glass > ROOM_TEMPERATURE
    squeeze = np.minimum(1.0, (melt - glass) / 130.0)
    first, second = _glassy_fractions(glass, fractions, glassy_span)
    ones = np.ones_like(melt)
    hard = (
        np.stack([room, glass, glass + 50 * squeeze, melt - 60 * squeeze, melt - 10 * squeeze, melt]),
        np.stack([ones, first, second, fractions[2] * ones, fractions[3] * ones, 0 * ones]),
    )
    tail = np.minimum(60.0, (melt - room) / 2)
    steps = [room + (melt - tail - room) * part / 3 for part in range(4)]
    soft = (
        np.stack([*steps, melt - tail / 6, melt]),
        np.stack([*(np.exp(-(step - room) / fall) for step in steps), fractions[3] * ones, 0 * ones]),
    )
    shares = np.where(glass_case, hard[1], soft[1])
    shares[1:] = np.minimum(shares[1:] * scale, 1.0)
    shares = np.minimum.accumulate(shares, axis=0)
    knots = np.where(np.isnan(glass), np.nan, np.where(glass_case, hard[0], soft[0]))
    if np.any(glass_case & (glass >= melt)):
        raise OutOfRange("strength: the glass transition must lie below the melting point")
    return StrengthCurve(knots, shares * strength)


def _glassy_fractions(
    glass: FloatArray, fractions: tuple[float, float, float, float], span: float
) -> tuple[FloatArray, FloatArray]:
    """Return the shares at Tg and at Tg + 50 K, eased for a Tg that lies near room temperature."""
    part = np.ones_like(glass) if span <= 0 else np.clip((glass - ROOM_TEMPERATURE) / span, 0.0, 1.0)
    first = 1.0 - (1.0 - fractions[0]) * part
    return first, first * fractions[1] / fractions[0]
