"""How does a liquid that has soaked in move the strength of a polymer?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.strength import StrengthCurve


def softened_curve(
    curve: StrengthCurve,
    shift: ArrayLike,
    glass_transition: ArrayLike = np.nan,
    melting_point: ArrayLike = np.nan,
) -> StrengthCurve:
    """Return the curve of a polymer whose glass transition an absorbed liquid has lowered by `shift`.

    Holds for a glass or semicrystalline polymer that the liquid has reached (a depth of about sqrt(D t)).
    Yield stress of a glass goes with its distance from the transition, so the curve slides down the
    temperature axis; crystals do not dissolve, so with a melting point given the slide fades to nothing
    between Tg and Tm.

        sigma_wet(T) = sigma_dry(T + shift f(T)),  f = 1 below Tg, falling linearly to 0 at Tm

    Parameters
    ----------
    curve : StrengthCurve, dry
    shift : [K] 0 or more, (n_draw,)
    glass_transition, melting_point : [K] (n_draw,) both, for a semicrystalline polymer; else left out

    Returns
    -------
    StrengthCurve with the same strengths at lower temperatures

    Notes
    -----
    The slide is the project's own rule; mixtures can be tougher or weaker at equal distance from Tg.
    """
    amount = np.asarray(shift, dtype=float)
    if np.any(amount < 0):
        raise OutOfRange(f"shift: got {np.nanmin(amount):g} K, must be 0 or more")
    knots = curve.temperature
    glass, melt = np.asarray(glass_transition, dtype=float), np.asarray(melting_point, dtype=float)
    if knots.ndim == 1 and max(amount.ndim, glass.ndim, melt.ndim) > 0:
        knots = knots[:, None]
    fade = np.where(np.isnan(melt - glass), 1.0, np.clip((melt - knots) / (melt - glass), 0.0, 1.0))
    heights = curve.strength
    if heights.ndim == 1 and knots.ndim == 2:
        heights = heights[:, None]
    return StrengthCurve(knots - amount * fade, heights)
