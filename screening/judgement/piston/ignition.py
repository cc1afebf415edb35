"""Surface ignition: glowing char lights the charge before the spark."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.hot_crown import first_reached
from screening.physics.crown.crown_heat import CrownHeat

CHAR_THAT_GLOWS = 0.05
"""Share of the polymer's mass kept as char from which the char can glow as a hot spot [1] (the project's own choice)."""


def time_of_surface_ignition(draws: Conditions, polymer: Polymer, heat: CrownHeat, swing: FloatArray) -> FloatArray:
    """Return the time at which retained char glows hot enough to light the charge, (n_draw,) [s].

    Bare polymer is gone before. The face is hottest in the cycle by the `swing` (n_draw,) [K] above its mean.
    """
    holds = polymer.char_yield * draws["char_retained"]
    surface = np.where(heat.recession > 0, np.nan_to_num(heat.surface_temperature), heat.surface_temperature)
    glowing = surface + swing - draws["hot_spot_ignition"]  # a crown that is used up glows no more
    return np.where(holds > CHAR_THAT_GLOWS, first_reached(heat, glowing), np.inf)
