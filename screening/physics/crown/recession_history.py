"""What is written down of a receding crown: its temperatures at fixed depths, from nodes that move with the face."""

from __future__ import annotations

import numpy as np
from numba import njit

from screening.physics.crown.arrays import Floats, History
from screening.physics.crown.lanes import Lanes
from screening.physics.crown.tr_bdf2 import Weights


@njit(cache=True, nogil=True, error_model="numpy")
def _moved_nodes(lanes: Lanes, d: int, weights: Weights, gone: float, place: Floats, level: Floats) -> None:
    """Fill depth and temperature of all nodes of one lane, those of the top layer where they have moved to."""
    a, b, c = weights
    old, middle, new, stack = lanes.old.temperature, lanes.middle.temperature, lanes.new.temperature, lanes.stack
    n_cell = stack.layer.size
    left = 1.0 - gone / lanes.thick[d]
    edge, node = 0.0, 0
    for i in range(n_cell + 2):
        level[node] = a * old[i, d] + b * middle[i, d] + c * new[i, d]
        if i == 0 or i == n_cell + 1:
            place[node] = edge
        else:
            place[node] = edge + 0.5 * stack.width[i - 1, d]
            edge += stack.width[i - 1, d]
        node += 1
        if 0 < i < n_cell and stack.layer[i] != stack.layer[i - 1]:
            share = left if stack.layer[i - 1] == 0 else 1.0
            here = level[node - 1]
            after = a * old[i + 1, d] + b * middle[i + 1, d] + c * new[i + 1, d]
            flux = (here - after) / (1.0 / stack.link[i, d] - stack.half[i - 1, d] * (1.0 - share))
            level[node] = here - flux * stack.half[i - 1, d] * share
            level[node + 1] = after + flux * stack.half[i, d]
            place[node], place[node + 1] = edge, edge
            node += 2
    for j in range(node):
        if place[j] < lanes.thick[d] * (1.0 - 1e-12):
            place[j] = gone + left * place[j]


@njit(cache=True, nogil=True, error_model="numpy")
def _write_depths(lanes: Lanes, d: int, depth: Floats, gone: float, nodes: tuple[Floats, Floats], out: Floats) -> None:
    """Fill one draw's temperatures at the fixed depths from depth and temperature of its nodes."""
    place, level = nodes
    near, n_depth = 0, depth.size
    for j in range(n_depth):
        z = depth[j]
        if gone == 0.0 or z >= lanes.thick[d] * (1.0 - 1e-12):
            out[j] = level[j]
        elif z < gone:
            out[j] = np.nan
        else:
            while near < n_depth - 2 and place[near + 1] < z:
                near += 1
            share = (z - place[near]) / (place[near + 1] - place[near])
            out[j] = level[near] + share * (level[near + 1] - level[near])


@njit(cache=True, nogil=True, error_model="numpy")
def write_draw(lanes: Lanes, d: int, weights: Weights, column: int, depth: Floats, k: int, history: History) -> None:
    """Write one lane at one moment within its step as look `k` of the draw `column`."""
    a, b, c = weights
    old, middle, new, energy = lanes.old, lanes.middle, lanes.new, history.energy
    n_depth = depth.shape[0]
    place, level = np.empty(n_depth), np.empty(n_depth)
    # a parabola may swing below its beginning; a face never grows back
    gone = min(max(a * old.gone[d] + b * middle.gone[d] + c * new.gone[d], old.gone[d]), new.gone[d])
    _moved_nodes(lanes, d, weights, gone, place, level)
    _write_depths(lanes, d, depth[:, column], gone, (place, level), history.temperature[k, :, column])
    history.face[k, column] = level[0]
    history.back[k, column] = level[n_depth - 1]
    history.recession[k, column] = gone
    history.speed[k, column] = max(a * old.speed[d] + b * middle.speed[d] + c * new.speed[d], 0.0)
    begin, at_stage, at_end = old.total[d], middle.total[d], new.total[d]
    energy.into[k, column] = a * begin.into + b * at_stage.into + c * at_end.into
    energy.beneath[k, column] = a * begin.beneath + b * at_stage.beneath + c * at_end.beneath
    energy.ring[k, column] = a * begin.ring + b * at_stage.ring + c * at_end.ring
    energy.lost[k, column] = a * begin.lost + b * at_stage.lost + c * at_end.lost
    stored = 0.0
    for i in range(old.heat.shape[0]):
        stored += a * old.heat[i, d] + b * middle.heat[i, d] + c * new.heat[i, d]
    energy.stored[k, column] = stored
