"""The draws whose crown recedes, side by side in lanes: what each carries, taken in from the stack and written down."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from screening.physics.crown.arrays import Arrival, Stack
from screening.physics.crown.stage import content_at


class Ablation(NamedTuple):
    """Decomposition as plain arrays `(n_draw,)`."""

    onset: np.ndarray  # [K]
    heat: np.ndarray  # latent heat per volume of polymer [J/m3]
    char: np.ndarray  # resistance of char per depth receded [m2 K/W per m]


class State(NamedTuple):
    """A receding crown at one moment, `(..., n_lane)`."""

    temperature: np.ndarray  # (n_cell + 2, n_lane) [K]
    heat: np.ndarray  # (n_cell, n_lane) heat content above the start, of what is left [J/m2]
    rate: np.ndarray  # (n_cell, n_lane) its change [W/m2]
    gone: np.ndarray  # (n_lane,) depth receded [m]
    speed: np.ndarray  # (n_lane,) [m/s]
    held: np.ndarray  # (n_lane,) 1 while the face is held at the onset, else 0
    outer: np.ndarray  # (n_lane,) temperature of the face of the char [K]
    flow: np.ndarray  # (4, n_lane) in, out beneath, to the rings, with the polymer [W/m2]
    total: np.ndarray  # (4, n_lane) the same since the start [J/m2]


class Rest(NamedTuple):
    """Where draws were left, to go on from there."""

    state: State  # (..., n_draw)
    step: np.ndarray  # (n_draw,) meant to be taken next [s], 0 for a draw that has only just arrived
    time: np.ndarray  # (n_draw,) [s]

    @classmethod
    def at(cls, arrival: Arrival) -> Rest:
        """Return rest at the arrival."""
        count = arrival.time.size
        return cls(_new_state(arrival.heat.shape[0], count), np.zeros(count), arrival.time.copy())


class Lanes(NamedTuple):
    """All that is known of the draws under way."""

    stack: Stack
    n_top: int  # cells of the layer that recedes
    onset: np.ndarray  # (n_lane,) [K]
    latent: np.ndarray  # (n_lane,) [J/m3]
    char: np.ndarray  # (n_lane,) [m K/W]
    surface_heat: np.ndarray  # (2, n_lane) zero, and heat content of the polymer at the onset [J/m3]
    thick: np.ndarray  # (n_lane,) of the top layer at the start [m]
    own: np.ndarray  # (n_cell + 1, n_lane) how much of the upper cell's heat content crosses an edge per depth receded
    next: np.ndarray  # (n_cell + 1, n_lane) the same of the lower cell's [1/m]
    link: np.ndarray  # (n_cell + 1, n_lane) conductances of what is left [W/(m2 K)]
    share: np.ndarray  # (2, 3, n_lane) for other layers and the top one: what is left, its inverse, its fall with speed
    old: State
    middle: State
    new: State
    stands: np.ndarray  # (n_lane,) whether the stage moves still, has settled or has failed
    work: np.ndarray  # (5, n_cell + 2, n_lane) room for one Newton solution
    row: np.ndarray  # (6, n_lane) what holds for a lane during an iteration
    room: np.ndarray  # (8, n_lane) room for what is carried from row to row
    edge: np.ndarray  # (2, 3, n_lane) what crosses the edges above and below a cell


@njit(cache=True, nogil=True, error_model="numpy")
def _new_state(n_cell, count):  # type: ignore[no-untyped-def]
    shape = (n_cell, count)
    return State(
        np.zeros((n_cell + 2, count)), np.zeros(shape), np.zeros(shape), np.zeros(count), np.zeros(count),
        np.ones(count), np.zeros(count), np.zeros((4, count)), np.zeros((4, count)),
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def new_lanes(stack, count):  # type: ignore[no-untyped-def]
    """Return `count` empty lanes."""
    n_cell, n_layer, n_knot = stack.layer.size, stack.capacity.shape[0], stack.knot.shape[1]
    shape, linked, layers, knots = (n_cell, count), (n_cell + 1, count), (n_layer, count), (n_layer, n_knot, count)
    n_top = 0
    for i in range(n_cell):
        n_top += stack.layer[i] == 0
    own = Stack(
        stack.layer, np.empty(shape), np.empty(linked), np.empty(shape), np.empty(shape), np.empty(layers),
        np.empty(knots), np.empty(knots), np.empty(layers), np.empty(shape), np.empty(layers), np.empty((7, count)),
        np.empty((7, count)), np.empty(count),
    )  # fmt: skip
    return Lanes(
        own, n_top, np.empty(count), np.empty(count), np.empty(count), np.zeros((2, count)), np.empty(count),
        np.zeros(linked), np.zeros(linked), np.empty(linked), np.empty((2, 3, count)), _new_state(n_cell, count), _new_state(n_cell, count),
        _new_state(n_cell, count), np.zeros(count, np.int64), np.zeros((5, n_cell + 2, count)), np.zeros((6, count)),
        np.zeros((8, count)), np.zeros((2, 3, count)),
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def _load_stack(stack, column, own, d):  # type: ignore[no-untyped-def]
    """Copy one draw's column of the stack into the lane `d`."""
    for i in range(stack.layer.size):
        own.width[i, d], own.half[i, d] = stack.width[i, column], stack.half[i, column]
        own.mass[i, d], own.ring[i, d] = stack.mass[i, column], stack.ring[i, column]
    for i in range(stack.layer.size + 1):
        own.link[i, d] = stack.link[i, column]
    for i in range(stack.capacity.shape[0]):
        own.capacity[i, d], own.datum[i, d] = stack.capacity[i, column], stack.datum[i, column]
        own.ring_temperature[i, d] = stack.ring_temperature[i, column]
        for j in range(stack.knot.shape[1]):
            own.knot[i, j, d], own.bend[i, j, d] = stack.knot[i, j, column], stack.bend[i, j, column]
    for i in range(7):
        own.film[i, d], own.back[i, d] = stack.film[i, column], stack.back[i, column]
    own.initial[d] = stack.initial[column]


@njit(cache=True, nogil=True, error_model="numpy")
def _load_edges(lanes, d):  # type: ignore[no-untyped-def]
    """Fill thickness of the layer and what crosses the edges of its cells as they move."""
    own, thick, edge = lanes.stack, 0.0, 0.0
    for i in range(lanes.n_top):
        thick += own.width[i, d]
    for i in range(lanes.n_top - 1):
        here, below = own.width[i, d], own.width[i + 1, d]
        edge += here
        lanes.own[i + 1, d] = (1.0 - edge / thick) * below / (here * (here + below))
        lanes.next[i + 1, d] = (1.0 - edge / thick) * here / (below * (here + below))
    lanes.thick[d] = thick


@njit(cache=True, nogil=True, error_model="numpy")
def load(stack, ablation, arrival, rest, column, lanes, d):  # type: ignore[no-untyped-def]
    """Put one draw into the lane `d`, at its arrival at the onset or where it was left."""
    own = lanes.stack
    _load_stack(stack, column, own, d)
    _load_edges(lanes, d)
    onset = ablation.onset[column]
    lanes.onset[d], lanes.latent[d], lanes.char[d] = onset, ablation.heat[column], ablation.char[column]
    lanes.surface_heat[1, d] = content_at(own, 0, d, onset) * own.mass[0, d] / own.width[0, d]
    if rest.step[column] > 0.0:
        keep(rest.state, column, lanes.old, d)
        lanes.new.outer[d] = rest.state.outer[column]
    else:
        _load_arrival(arrival, onset, column, lanes, d)


@njit(cache=True, nogil=True, error_model="numpy")
def _load_arrival(arrival, onset, column, lanes, d):  # type: ignore[no-untyped-def]
    """Fill the state of one lane with that at the arrival."""
    own, old, n_cell = lanes.stack, lanes.old, lanes.stack.layer.size
    for i in range(n_cell + 2):
        old.temperature[i, d] = arrival.temperature[i, column]
    old.temperature[0, d] = onset
    for i in range(3):
        old.total[i, d] = arrival.total[i, column]
    old.total[3, d], old.flow[3, d] = 0.0, 0.0
    old.gone[d], old.speed[d], old.held[d] = 0.0, 0.0, 1.0
    lanes.new.outer[d] = onset
    old.flow[0, d] = own.link[0, d] * (old.temperature[0, d] - old.temperature[1, d])
    old.flow[1, d] = own.link[n_cell, d] * (old.temperature[n_cell, d] - old.temperature[n_cell + 1, d])
    old.flow[2, d] = 0.0
    for i in range(n_cell):
        ring = own.ring[i, d] * (old.temperature[i + 1, d] - own.ring_temperature[own.layer[i], d])
        upper = own.link[i, d] * (old.temperature[i, d] - old.temperature[i + 1, d])
        lower = own.link[i + 1, d] * (old.temperature[i + 1, d] - old.temperature[i + 2, d])
        old.flow[2, d] += ring
        old.rate[i, d] = upper - lower - ring
        old.heat[i, d] = arrival.heat[i, column]


@njit(cache=True, nogil=True, error_model="numpy")
def keep(new, d, old, e):  # type: ignore[no-untyped-def]
    """Copy the state in the column `d` of `new` to the column `e` of `old`."""
    for i in range(old.temperature.shape[0]):
        old.temperature[i, e] = new.temperature[i, d]
    for i in range(old.heat.shape[0]):
        old.heat[i, e], old.rate[i, e] = new.heat[i, d], new.rate[i, d]
    for i in range(4):
        old.flow[i, e], old.total[i, e] = new.flow[i, d], new.total[i, d]
    old.gone[e], old.speed[e], old.held[e] = new.gone[d], new.speed[d], new.held[d]


@njit(cache=True, nogil=True, error_model="numpy")
def leave(lanes, d, time, step, rest, column):  # type: ignore[no-untyped-def]
    """Note where one draw is left, and the step that it is meant to take next."""
    keep(lanes.old, d, rest.state, column)
    rest.state.outer[column] = lanes.new.outer[d]
    rest.time[column], rest.step[column] = time, step


@njit(cache=True, nogil=True, error_model="numpy")
def _moved_nodes(lanes, d, weights, gone, place, level):  # type: ignore[no-untyped-def]
    """Fill depth and temperature of all nodes of one lane, those of the top layer where they have moved to."""
    a, b, c = weights
    old, middle, new, own = lanes.old.temperature, lanes.middle.temperature, lanes.new.temperature, lanes.stack
    n_cell = own.layer.size
    left = 1.0 - gone / lanes.thick[d]
    edge, node = 0.0, 0
    for i in range(n_cell + 2):
        level[node] = a * old[i, d] + b * middle[i, d] + c * new[i, d]
        if i == 0 or i == n_cell + 1:
            place[node] = edge
        else:
            place[node] = edge + 0.5 * own.width[i - 1, d]
            edge += own.width[i - 1, d]
        node += 1
        if 0 < i < n_cell and own.layer[i] != own.layer[i - 1]:
            share = left if own.layer[i - 1] == 0 else 1.0
            here = level[node - 1]
            after = a * old[i + 1, d] + b * middle[i + 1, d] + c * new[i + 1, d]
            flux = (here - after) / (1.0 / own.link[i, d] - own.half[i - 1, d] * (1.0 - share))
            level[node] = here - flux * own.half[i - 1, d] * share
            level[node + 1] = after + flux * own.half[i, d]
            place[node], place[node + 1] = edge, edge
            node += 2
    for j in range(node):
        if place[j] < lanes.thick[d] * (1.0 - 1e-12):
            place[j] = gone + left * place[j]


@njit(cache=True, nogil=True, error_model="numpy")
def _write_depths(lanes, d, column, depth, gone, place, level, out):  # type: ignore[no-untyped-def]
    """Fill one draw's temperatures at the fixed depths from those at its nodes."""
    near, n_depth = 0, depth.shape[0]
    for j in range(n_depth):
        z = depth[j, column]
        if gone == 0.0 or z >= lanes.thick[d] * (1.0 - 1e-12):
            out[j, column] = level[j]
        elif z < gone:
            out[j, column] = np.nan
        else:
            while near < n_depth - 2 and place[near + 1] < z:
                near += 1
            share = (z - place[near]) / (place[near + 1] - place[near])
            out[j, column] = level[near] + share * (level[near + 1] - level[near])


@njit(cache=True, nogil=True, error_model="numpy")
def write_draw(lanes, d, weights, column, depth, k, history, recession):  # type: ignore[no-untyped-def]
    """Write one lane at one moment within its step, at the fixed depths, from the nodes that move with the face."""
    a, b, c = weights
    old, middle, new = lanes.old, lanes.middle, lanes.new
    n_depth = depth.shape[0]
    place, level = np.empty(n_depth), np.empty(n_depth)
    # a parabola may swing below its beginning; a face never grows back
    gone = min(max(a * old.gone[d] + b * middle.gone[d] + c * new.gone[d], old.gone[d]), new.gone[d])
    _moved_nodes(lanes, d, weights, gone, place, level)
    _write_depths(lanes, d, column, depth, gone, place, level, history.temperature[k])
    history.faces[k, 0, column] = level[0]
    history.faces[k, 1, column] = level[n_depth - 1]
    recession[k, column] = gone
    history.speed[k, column] = max(a * old.speed[d] + b * middle.speed[d] + c * new.speed[d], 0.0)
    energy = history.energy
    for i in range(3):
        energy[k, i, column] = a * old.total[i, d] + b * middle.total[i, d] + c * new.total[i, d]
    energy[k, 4, column] = a * old.total[3, d] + b * middle.total[3, d] + c * new.total[3, d]
    energy[k, 3, column] = 0.0
    for i in range(old.heat.shape[0]):
        energy[k, 3, column] += a * old.heat[i, d] + b * middle.heat[i, d] + c * new.heat[i, d]
