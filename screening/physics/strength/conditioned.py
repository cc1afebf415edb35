"""How strong is a polymer that has taken up water from the air?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.physics.curves.shares import refuse_outside_share
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import ROOM_TEMPERATURE


def conditioned_strength(dry: StrengthCurve, share: ArrayLike, felt_until: ArrayLike) -> StrengthCurve:
    """Return the strength curve of a conditioned polymer out of that of the dry one.

    Holds for polyamides at rest with air of about half humidity. Water does what heat does: it loosens the same bonds,
    so it takes much of a glassy polyamide's strength and little of one that is above its transition anyway. The strength
    falls in the dry curve's shape from its share at 23 degC to where that is met, and never passes it. The water
    stays for the run: at a diffusion coefficient of some 1e-12 m2/s it leaves 2 sqrt(D t) = 0.01 mm of the face in
    half a minute; a hot face dries faster, but there the two curves have met.

        sigma(T) = q d_23 - (d_23 - d(T)) (q d_23 - d_met)/(d_23 - d_met);  d(T) from T_met on

    Parameters
    ----------
    dry : StrengthCurve
    share : [1] q, conditioned over dry strength at 23 degC, 0 to 1, a number or (n_draw,)
    felt_until : [K] T_met, above 23 degC, a number or (n_draw,)

    Returns
    -------
    StrengthCurve of n_dry + 1 knots; above T_met too it is no stronger than q sigma_23

    Raises
    ------
    OutOfRange : a share outside 0 to 1

    References
    ----------
    SAE paper 2000-01-1319 (2000): polyamide 6 from -40 to 150 degC, dry as moulded and at 50 % relative humidity
    (abstract seen; the meeting of the curves from memory). The diffusion coefficient is from memory.

    Example
    -------
    >>> dry = StrengthCurve([296.15, 396.15], [80e6, 20e6])
    >>> (conditioned_strength(dry, 0.5, 376.15).at([296.15, 376.15, 386.15]) / 1e6).round(6).tolist()
    [40.0, 32.0, 26.0]
    """
    left, met = np.asarray(share, dtype=float), np.asarray(felt_until, dtype=float)
    refuse_outside_share("share", left)
    n_draw = np.broadcast_shapes(dry.temperature.shape[1:], dry.strength.shape[1:], left.shape, met.shape)
    knots = dry.temperature if dry.temperature.ndim > len(n_draw) else dry.temperature[:, None]
    knots = np.broadcast_to(knots, (knots.shape[0], *n_draw)) if n_draw else dry.temperature
    met = np.broadcast_to(met, n_draw)
    knots = np.sort(np.concatenate([knots, np.minimum(met, knots[-1])[None]]), axis=0)
    dry_cold, heights = dry.at(np.full(n_draw, ROOM_TEMPERATURE)), dry.at(knots)
    cold, fall = left * dry_cold, dry_cold - dry.at(met)
    slope = np.maximum(cold - dry.at(met), 0.0) / np.where(fall > 0, fall, np.inf)
    below = cold - (dry_cold - heights) * slope
    return StrengthCurve(knots, np.where(knots < met, below, np.minimum(heights, cold)))
