"""Ring land softens: the top ring sinks into its land."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.strength.ring_land import ring_land_time
from screening.physics.strength.strength_curve import temperature_at_strength


def time_of_ring_sinking(draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat) -> FloatArray:
    """Return the time at which the top ring sinks into its land, (n_draw,) [s].

    The land is as warm as the crown at the groove's depth at most; the bore's cooling delays it by a factor that the
    section study in the tests brackets. With the groove in metal the polymer beneath has no ring to carry.
    """
    if stack.groove_in_metal:
        return np.full(draws.n_draw, np.inf)
    softened = temperature_at_strength(polymer.strength, draws["ring_land_strength_share"] * polymer.cold_strength)
    depth = np.minimum(draws["ring_groove_depth"], heat.depth[-1])
    return ring_land_time(heat.time_to_reach(softened, depth), draws["ring_land_side_cooling"] - 1)
