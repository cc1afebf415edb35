"""How much of the solid polymer's strength does a printed part keep?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.physics.curves.shares import refuse_outside_share


def printed_strength_factor(
    layer_adhesion: ArrayLike,
    across_layers: ArrayLike = 0.0,
    infill: ArrayLike = 1.0,
    infill_exponent: ArrayLike = 1.5,
) -> FloatArray:
    """Return the share of the solid in-plane strength that a printed part keeps.

    Holds for filament and powder parts with open or closed infill. A crown printed flat bends within its
    layers (across_layers near 0); printed on its side it is pulled apart across them (1).

        factor = ((1 - a) + a z) f^n

    Parameters
    ----------
    layer_adhesion : [1] z, strength across the layers over that within them, 0 to 1
    across_layers : [1] a, share of the deciding stress that crosses the layers, 0 to 1
    infill : [1] f, solid share of the section, 0 to 1 (1: printed solid)
    infill_exponent : [1] n: 1 when the infill lies along the stress (bound), 1.5 when its cells bend

    Returns
    -------
    [1] (n_draw,)

    Raises
    ------
    OutOfRange : a share outside 0 to 1

    References
    ----------
    Gibson, L. J., Ashby, M. F. (1997), Cellular Solids, 2nd ed., ch. 5: plastic collapse of open cells goes
    as relative density to the power 1.5; from memory. The straight mix over `a` is the project's choice.

    Example
    -------
    >>> float(printed_strength_factor(0.6, across_layers=0.5))
    0.8
    """
    adhesion, across, solid = (np.asarray(v, dtype=float) for v in (layer_adhesion, across_layers, infill))
    for name, value in (("layer_adhesion", adhesion), ("across_layers", across), ("infill", solid)):
        refuse_outside_share(name, value)
    return np.asarray((1.0 - across + across * adhesion) * solid ** np.asarray(infill_exponent, dtype=float))
