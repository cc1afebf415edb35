"""The diameters to print skirt and crown land at, and the top ring's gap, so that the hot piston runs free in the hot bore."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions, ring_metal
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.growth import bore_strain, polymer_strain
from screening.judgement.piston.hot_crown import carried_temperature, depth_of
from screening.judgement.piston.seizure import bore_warm_up
from screening.judgement.piston.stack import ring_in_metal
from screening.judgement.piston.stiffness import stiffness_curve, stiffness_through
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.skirt.fit import print_diameter
from screening.physics.skirt.growth import shared_growth
from screening.physics.skirt.ring_gap import ring_gap_needed

BELOW_SOFTENING = 5.0
"""A skirt that still guides the piston is at least so much below where it softens [K] (the project's choice)."""


def skirt_sizes(
    case: Case, draws: Conditions, polymer: Polymer, times: FloatArray, skirt: FloatArray, until: float
) -> FloatArray:
    """Return the diameter to print the skirt at so that it runs free up to the end of the run, one a draw, (n_draw,) [m].

    The skirt warms with the bore and mostly grows faster: every moment up to `until` [s] is looked at. It is taken no warmer
    than just below where it softens (its glass transition, or its melting point if it crystallises): softer it guides nothing
    and the run is over. One that is soft in the room already is sized for what it comes to.

    Parameters
    ----------
    times : (n_time,) [s]; skirt : the skirt's mean temperature then, (n_time, n_draw) [K]
    until : [s] the wanted run, or the life that one draw in twenty outlasts where that is shorter
    """
    moments = np.unique(np.r_[times[times < until], until])
    bore = bore_warm_up(draws).at(moments)
    warm = _at(moments, times, skirt)
    most = polymer.softening - BELOW_SOFTENING
    guides = np.where(most > draws["ambient"], np.minimum(warm, most), warm)
    return _free_size(case, draws, polymer_strain(guides, draws, polymer), bore).min(axis=0)


def _at(moments: FloatArray, times: FloatArray, values: FloatArray) -> FloatArray:
    """Return values (n_time, n_draw) at other moments, between the times in straight lines."""
    k = np.clip(np.searchsorted(times, moments, side="right") - 1, 0, times.size - 2)
    share = ((moments - times[k]) / (times[k + 1] - times[k]))[:, None]
    return np.asarray(values[k] * (1 - share) + values[k + 1] * share)


def land_sizes(
    case: Case, draws: Conditions, polymer: Polymer, heat: CrownHeat, until: FloatArray
) -> FloatArray | None:
    """Return the diameter to print the crown land at so that it stays clear of the bore, one a draw, (n_draw,) [m].

    The land heats within seconds while the bore is still cold, so every moment up to `until` (n_draw,) [s] is looked at.
    `draws`, `polymer` and `until` are those of the first draws of `heat`. The hot layers are held by what is still stiff
    beneath them. None where the polymer has no modulus against temperature, or the land is metal.
    """
    curve = stiffness_curve(polymer)
    if curve is None or ring_in_metal(case):
        return None
    few = slice(0, draws.n_draw)
    hot, depth = carried_temperature(heat, few), depth_of(heat, few)
    stiff = stiffness_through(case, curve, depth, hot)
    grown = shared_growth(depth, np.where(stiff > 0, polymer_strain(hot, draws, polymer), 0.0), stiff)
    sizes = _free_size(case, draws, grown, bore_warm_up(draws).at(heat.times))
    return np.fmin.reduce(np.where(heat.times[:, None] <= until, sizes, np.nan), axis=0)


def _free_size(case: Case, draws: Conditions, grown: FloatArray, bore: FloatArray) -> FloatArray:
    """Return the cold diameter [m] that leaves the running clearance at a strain `grown` [1] in a bore as warm as `bore` [K]."""
    return print_diameter(
        draws["bore"],
        bore_strain(case, bore, draws),
        np.maximum(grown, 0.0),
        0.0,
        draws["running_clearance_to_bore"] * draws["bore"],
        draws["print_size_error"],
    )


def ring_gaps(case: Case, draws: Conditions) -> FloatArray:
    """Return the cold end gap at which the hot top ring just does not butt, (n_draw,) [m].

    The ring heats before the bore: the worse of a bore still cold and one as warm as it gets counts.
    """
    ring, hotter = draws[f"{ring_metal()}.thermal_expansion"], draws["ring_above_bore"]
    warmed = draws["liner"] - draws["ambient"]
    settled = ring_gap_needed(draws["bore"], bore_strain(case, draws["liner"], draws), ring * (warmed + hotter))
    return np.maximum(settled, ring_gap_needed(draws["bore"], 0.0, ring * hotter))
