"""Crown cracks: a brittle crown breaks before it yields, cold on the first full charges or as its soft face leaves the
bending to the cold depth."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.collapse import crown_plate
from screening.judgement.piston.hot_crown import carried_temperature, depth_of
from screening.judgement.piston.load import Load
from screening.judgement.piston.stack import CrownStack
from screening.judgement.piston.stiffness import stiffness_curve, stiffness_through
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.curves.first_crossing import first_crossing
from screening.physics.strength.brittle import brittle_limit_pressure, edge_stress
from screening.physics.strength.modulus import ModulusCurve

_NEVER_CRACKS = 1e15
"""Strength and pressure [Pa] of what yields instead."""
_STRIDE, _LOOKS = 2, 6  # every other moment is looked at, six at a time, and only what has not ended yet


def time_of_cold_cracking(draws: Conditions, polymer: Polymer, stack: CrownStack, load: Load) -> FloatArray:
    """Return 0 where a brittle crown cracks on the first full charges, else inf, (n_draw,) [s].

    It cracks where the bending stress at its edge exceeds its cold strength. Under a metal cap it is the metal that
    bends; what happens as the crown warms is `time_of_hot_cracking`.
    """
    if not polymer.brittle or stack.groove_in_metal:
        return np.full(draws.n_draw, np.inf)
    stress = edge_stress(load.starting, crown_plate(draws).radius, draws["crown_thickness"])
    return np.where(stress > polymer.cold_strength, 0.0, np.inf)


def time_of_hot_cracking(
    case: Case, draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, load: Load, until: FloatArray
) -> FloatArray:
    """Return the time at which a brittle crown cracks because its soft face leaves the bending to the cold depth.

    Near its transition the polymer yields instead. Without a modulus against temperature it is not computed.

    Parameters
    ----------
    until : each draw is looked at up to here, where something else has ended it, (n_draw,) [s]

    Returns
    -------
    (n_draw,) [s]; inf for what does not crack by `until`
    """
    cracks, stiffness = np.full(draws.n_draw, np.inf), stiffness_curve(polymer)
    if not polymer.brittle or stiffness is None or stack.groove_in_metal:
        return cracks
    followed = np.where(heat.followed < heat.times[-1], heat.followed, np.inf)
    still = np.flatnonzero(until > 0)
    for start in range(0, heat.times.size - 2, _LOOKS * _STRIDE):
        if still.size == 0:
            break
        looks = slice(start, start + _LOOKS * _STRIDE + 1, _STRIDE)
        times, polymer_still = heat.times[looks], polymer.taken(still)
        stiff = stiffness_curve(polymer_still)
        assert stiff is not None
        limit = _cracking_pressure(case, draws.taken(still), polymer_still, stiff, heat, looks, still)
        excess = np.where(times[:, None] >= followed[still], -_NEVER_CRACKS, load.running[still] - limit)
        cracks[still] = first_crossing(times, excess)
        still = still[np.isinf(cracks[still]) & (until[still] > times[-1])]
    return cracks


def _cracking_pressure(
    case: Case,
    draws: Conditions,
    polymer: Polymer,
    stiffness: ModulusCurve,
    heat: CrownHeat,
    looks: slice,
    few: NDArray[np.intp],
) -> FloatArray:
    """Return the pressure that cracks some draws' crowns at some moments, (n_look, n_few) [Pa]."""
    hot, depth = carried_temperature(heat, few, looks), depth_of(heat, few)
    breaks = hot < polymer["glass_transition"] - draws["brittle_below_transition"]
    strong = np.where(breaks, polymer.strength.at(hot), _NEVER_CRACKS)
    stiff = stiffness_through(case, stiffness, depth, hot)
    limit = brittle_limit_pressure(depth, stiff, strong, crown_plate(draws).radius, draws["poisson_ratio"])
    return np.minimum(limit, _NEVER_CRACKS)
