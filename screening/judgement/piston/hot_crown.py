"""How the mechanisms read a crown's heat: what has burned away carries nothing, what was not followed is not asked."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.load import Load
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.curves.first_crossing import first_crossing

CARRIES_NOTHING = 1e4
"""Temperature that stands for burned polymer [K]: hotter than any strength curve reaches."""


def depth_of(heat: CrownHeat, few: slice | NDArray[np.intp]) -> FloatArray:
    """Return the depth of the nodes in some draws, (n_depth,) or (n_depth, n_few) [m]."""
    return heat.depth if heat.depth.ndim == 1 else heat.depth[:, few]


def carried_temperature(heat: CrownHeat, few: slice | NDArray[np.intp], looks: slice = slice(None)) -> FloatArray:
    """Return some draws' crown temperature at some looks, (n_look, n_depth, n_few) [K]; what has burned away is as hot as
    carries nothing."""
    temperature = heat.temperature[looks][..., few]
    burned = np.isnan(temperature) & (heat.recession[looks][:, few] > 0)[:, None]
    return np.where(burned, CARRIES_NOTHING, temperature)


def first_reached(heat: CrownHeat, excess: FloatArray) -> FloatArray:
    """Return the time at which `excess` (n_time, n_draw) first is 0 or more, (n_draw,) [s]; inf where not while followed."""
    return first_crossing(heat.times, np.where(heat.times[:, None] > heat.followed, -np.inf, excess))


def first_outgrown(heat: CrownHeat, limit: FloatArray, load: Load) -> FloatArray:
    """Return the time at which the load, at the start the start's, outgrows a limit pressure (n_time, n_draw) [Pa], (n_draw,) [s]."""
    now = load.pressure_to_flow_at(heat.times)
    return np.where(limit[0] <= now[0], 0.0, first_reached(heat, now - limit))


def softened_depth(polymer: Polymer, stack: CrownStack, heat: CrownHeat, hot: FloatArray, few: slice) -> FloatArray:
    """Return the depth of polymer that has softened or burned away in some draws, (n_time, n_few) [m].

    `hot` (n_time, n_depth, n_few) [K] is their `carried_temperature`.
    """
    of_polymer = stack.cell_layer(heat.depth) == len(stack.layers) - 1
    width = np.diff(depth_of(heat, few), axis=0)[of_polymer].reshape(int(of_polymer.sum()), -1)
    middle = (hot[:, :-1] + hot[:, 1:])[:, of_polymer] / 2
    return np.sum(np.where(middle > polymer.softening[few], width, 0.0), axis=1)
