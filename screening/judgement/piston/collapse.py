"""Crown collapse: the crown, softened from the gas side down, no longer carries the cylinder pressure as a plate."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.piston.crown_plate import crown_plate
from screening.judgement.piston.hot_crown import depth_of
from screening.judgement.piston.load import Load, Start
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.strength.crown_section import CrownSection
from screening.physics.strength.plate import TRESCA_SHEAR, crown_collapse_time, plastic_moment


def time_of_collapse(
    draws: Conditions,
    stack: CrownStack,
    heat: CrownHeat,
    load: Load,
    lost: FloatArray | float,
    carried_until: ArrayLike = -np.inf,
) -> FloatArray:
    """Return the time at which the limit pressure of the plate falls to the load, at the start or running, (n_draw,) [s].

    Parameters
    ----------
    lost : depth of polymer that carries nothing from the start, a number or (n_draw,) [m]
    carried_until : up to here the crown has carried its load and is not asked again, a number or (n_draw,) [s]
    """
    carried = np.broadcast_to(carried_until, draws.n_draw)
    starting = np.full(draws.n_draw, np.inf)
    begins = carried
    for stage in load.stages:
        now = time_of_collapse_at_start(draws, stack, heat, stage, lost, begins)
        starting = np.minimum(starting, np.where(now < stage.lasts, now, np.inf))
        begins = np.maximum(begins, np.where(np.isfinite(starting), np.inf, stage.lasts))
    ended = np.isfinite(starting)
    running = _collapse(draws, stack, heat, load.running, lost, np.where(ended, np.inf, carried), slice(None))
    return np.where(ended, starting, running)


def time_of_collapse_at_start(
    draws: Conditions,
    stack: CrownStack,
    heat: CrownHeat,
    start: Start,
    lost: FloatArray | float,
    carried_until: ArrayLike = -np.inf,
) -> FloatArray:
    """Return the time at which the limit pressure falls to a start's load, (n_draw,) [s]; it counts only within the start.

    Parameters as in `time_of_collapse`; inf for draws whose start has been carried.
    """
    carried = np.broadcast_to(carried_until, draws.n_draw)
    open_still = carried < start.lasts
    if not np.any(open_still):
        return np.full(draws.n_draw, np.inf)
    opening = slice(0, int(np.searchsorted(heat.times, np.max(start.lasts))) + 1)
    asked = np.where(open_still, carried, np.inf)
    return _collapse(draws, stack, heat, start.pressure_to_flow, lost, asked, opening)


def _collapse(
    draws: Conditions,
    stack: CrownStack,
    heat: CrownHeat,
    pressure: FloatArray,
    lost: FloatArray | float,
    carried: FloatArray,
    levels: slice,
) -> FloatArray:
    """Return when the crown no longer carries a pressure (n_draw,) [Pa] at some moments, (n_draw,) [s]."""
    # a hair more than is gone, so that no cell of a crown that is used up is left over by rounding
    gone = heat.recession[levels] * (1 + 1e-9) + lost
    layer, bonded = stack.cell_layer(heat.depth), len(stack.layers) == 1
    section = CrownSection(heat.depth, heat.temperature[levels], stack.curves, layer, gone, bonded)
    plate = crown_plate(draws, stack).at_load(pressure)
    return crown_collapse_time(heat.times[levels], section, plate, pressure, heat.followed, carried_until=carried)


def limit_pressure_history(
    draws: Conditions, stack: CrownStack, heat: CrownHeat, hot: FloatArray, lost: FloatArray, few: slice
) -> FloatArray:
    """Return the pressure that the crown carries as time goes on in a few draws, (n_time, n_few) [Pa].

    `hot` (n_time, n_depth, n_few) [K] is their `carried_temperature`, `lost` (n_draw,) [m] the depth that carries nothing.
    """
    section = CrownSection(
        depth_of(heat, few),
        hot,
        [curve.taken(few) for curve in stack.curves],
        layer=stack.cell_layer(heat.depth),
        recession=heat.recession[:, few] + lost[few],
        bonded=len(stack.layers) == 1,
    )
    moment, force = plastic_moment(section)
    plate = crown_plate(draws, stack).taken(few)
    return np.minimum(plate.limit(moment), 2 * TRESCA_SHEAR / plate.radius * force)
