"""Crown cracks: a brittle crown breaks at the centre of its underside before it yields, cold on the first full charges or as
its soft, hot face leaves the bending to the cold depth and pulls on it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.crown_plate import CrownPlate, crown_plate
from screening.judgement.piston.growth import polymer_strain
from screening.judgement.piston.hot_crown import carried_temperature, depth_of
from screening.judgement.piston.load import Load
from screening.judgement.piston.stack import CrownStack
from screening.judgement.piston.stiffness import stiffness_curve, stiffness_through
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.curves.first_crossing import first_crossing
from screening.physics.strength.modulus import ModulusCurve
from screening.physics.strength.underside_tension import tension_of_bending, tension_of_warming

_NO_TENSION = -1e15
"""Excess of tension [Pa] where nothing can crack."""
_LOOKS = 8  # so many moments are looked at a time, and only what has not ended yet


def breaking_strength(draws: Conditions, strength: FloatArray) -> FloatArray:
    """Return the tension at which a brittle crown breaks at its underside, like `strength` [Pa].

    A brittle plastic stands more in bending than in a tensile bar, less the larger the stressed face, more in a stroke of
    milliseconds: q z g sigma, each drawn.
    """
    return np.asarray(draws["brittle_rate_gain"] * slow_breaking_strength(draws, strength))


def slow_breaking_strength(draws: Conditions, strength: FloatArray) -> FloatArray:
    """Return the tension at which a brittle crown breaks at its underside when it is pressed slowly: q z sigma [Pa]."""
    return np.asarray(draws["flexural_to_tensile"] * draws["brittle_size_share"] * strength)


def time_of_cold_cracking(draws: Conditions, polymer: Polymer, stack: CrownStack, pressure: FloatArray) -> FloatArray:
    """Return 0 where a brittle crown cracks cold under the start's `pressure` (n_draw,) [Pa], else inf, (n_draw,) [s].

    It cracks where the elastic tension at the centre of its underside, c p (R/t)^2, exceeds what it breaks at. Beneath a metal
    cap, which slides on it, it bears its share of the bending only, as its stiffness is to the whole; what happens as the crown
    warms is `time_of_hot_cracking`.
    """
    if stack.on_skirt:
        return np.full(draws.n_draw, np.inf)
    plate = crown_plate(draws, stack)
    tension = plate.centre_factor * pressure * (plate.radius / draws["crown_thickness"]) ** 2
    tension = tension * _share_of_bending(draws, polymer, stack)
    cracks = polymer.brittle & (tension > breaking_strength(draws, polymer.cold_strength))
    return np.where(cracks, 0.0, np.inf)


def _share_of_bending(draws: Conditions, polymer: Polymer, stack: CrownStack) -> FloatArray:
    """Return the share of the bending that the polymer bears, (n_draw,) [1]: all of it where its modulus is not known."""
    modulus = polymer.get("tensile_modulus")
    if modulus is None or not stack.groove_in_metal:
        return np.ones(draws.n_draw)
    bending = modulus * draws["crown_thickness"] ** 3 / 12
    return np.asarray(bending / (bending + stack.bending_of_metal))


def time_of_hot_cracking(
    case: Case, draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, load: Load, until: FloatArray
) -> FloatArray:
    """Return the time at which a brittle crown cracks as it warms, (n_draw,) [s].

    The underside is pulled by the pressure, at the start by the start's, the more the less the soft face helps to bear it, and by the hot depth above that
    wants to grow. Near its glass transition the polymer yields instead, one that
    crystallises and is filled near its melting point only. Without a modulus against temperature it is not
    computed: inf.

    Parameters
    ----------
    until : each draw is looked at up to here, where something else has ended it, (n_draw,) [s]

    Returns
    -------
    (n_draw,) [s]; inf for what does not crack by `until`
    """
    cracks, stiffness = np.full(draws.n_draw, np.inf), stiffness_curve(polymer)
    if stiffness is None or stack.groove_in_metal:
        return cracks
    plate = crown_plate(draws, stack)
    still = np.flatnonzero((until > 0) & polymer.brittle)
    for start in range(0, heat.times.size - 1, _LOOKS):
        if still.size == 0:
            break
        looks = slice(start, start + _LOOKS + 1)
        times, polymer_still = heat.times[looks], polymer.taken(still)
        stiff = stiffness_curve(polymer_still)
        assert stiff is not None
        excess = _excess_tension(
            case,
            draws.taken(still),
            polymer_still,
            stiff,
            heat,
            plate.taken(still),
            load.taken(still).pressure_at(times),
            looks,
            still,
        )
        cracks[still] = first_crossing(times, np.where(times[:, None] > heat.followed[still], _NO_TENSION, excess))
        still = still[np.isinf(cracks[still]) & (until[still] > times[-1])]
    return cracks


def _excess_tension(
    case: Case,
    draws: Conditions,
    polymer: Polymer,
    stiffness: ModulusCurve,
    heat: CrownHeat,
    plate: CrownPlate,
    pressure: FloatArray,
    looks: slice,
    few: NDArray[np.intp],
) -> FloatArray:
    """Return the tension at the underside over what it breaks at, at some moments in some draws, (n_look, n_few) [Pa]."""
    hot, depth = carried_temperature(heat, few, looks), depth_of(heat, few)
    stiff = stiffness_through(case, stiffness, depth, hot)
    strain = np.where(stiff > 0, polymer_strain(hot, draws, polymer), 0.0)
    bending = tension_of_bending(depth, stiff, pressure, plate.radius, plate.centre_factor)
    warming = tension_of_warming(depth, stiff, strain, draws["thermal_belt_share"], draws["poisson_ratio"])
    back = hot[:, -1]
    # fibres keep a plastic that crystallises from stretching above its glass transition too
    yields_from = polymer.softening if polymer.material.filler else polymer["glass_transition"]
    glassy = back < yields_from - draws["brittle_below_transition"]
    excess = bending + np.nan_to_num(warming) - breaking_strength(draws, polymer.strength.at(back))
    return np.where(glassy & np.isfinite(excess), excess, _NO_TENSION)
