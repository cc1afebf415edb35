"""Crown collapse: the crown, softened from the gas side down, no longer carries the cylinder pressure as a plate."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.piston.hot_crown import depth_of
from screening.judgement.piston.load import Load
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.strength.crown_section import CrownSection
from screening.physics.strength.plate import Plate, crown_collapse_time, limit_pressure


def crown_plate(draws: Conditions) -> Plate:
    """Return the crown as a plate: free within the skirt's wall, held by the ring belt."""
    return Plate(draws["bore"] / 2 - draws["skirt_wall"], draws["plate_edge_factor"])


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
    # a hair more than is gone, so that no cell of a crown that is used up is left over by rounding
    plate, gone = crown_plate(draws), heat.recession * (1 + 1e-9) + lost
    layer, bonded = stack.cell_layer(heat.depth), len(stack.layers) == 1
    carried = np.broadcast_to(carried_until, draws.n_draw)

    def against(pressure: FloatArray, carried: FloatArray, levels: slice) -> FloatArray:
        section = CrownSection(heat.depth, heat.temperature[levels], stack.curves, layer, gone[levels], bonded)
        return crown_collapse_time(heat.times[levels], section, plate, pressure, heat.followed, carried_until=carried)

    lasts, starting = draws["start_lasts"], np.full(draws.n_draw, np.inf)
    open_still = carried < lasts
    if np.any(open_still):
        opening = slice(0, int(np.searchsorted(heat.times, np.max(lasts))) + 1)
        starting = against(load.starting_flow, np.where(open_still, carried, np.inf), opening)
    ended = starting < lasts
    return np.where(ended, starting, against(load.running, np.where(ended, np.inf, carried), slice(None)))


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
    return limit_pressure(section, crown_plate(draws.taken(few)))
