"""The draws whose crown recedes, side by side in lanes: what each carries, taken in from the stack and written down."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.crown.arrays import (
    FILM,
    FLOW,
    Arrival,
    Content,
    Counts,
    Floats,
    Stack,
    new_content,
)
from screening.physics.crown.stage import content_at


class Ablation(NamedTuple):
    """Decomposition as plain arrays `(n_draw,)`."""

    onset: Floats  # [K]
    heat: Floats  # latent heat per volume of polymer [J/m3]
    char: Floats  # resistance of char per depth receded [m2 K/W per m]
    vapour: Floats  # heat capacity of the vapour per volume of polymer [J/(m3 K)]


class State(NamedTuple):
    """A receding crown at one moment, `(..., n_lane)`."""

    temperature: Floats  # (n_cell + 2, n_lane) [K]
    heat: Floats  # (n_cell, n_lane) heat content above the start, of what is left [J/m2]
    rate: Floats  # (n_cell, n_lane) its change [W/m2]
    gone: Floats  # (n_lane,) depth receded [m]
    speed: Floats  # (n_lane,) [m/s]
    held: Floats  # (n_lane,) 1 while the face is held at the onset, else 0
    outer: Floats  # (n_lane,) temperature of the face of the char [K]
    flow: NDArray[np.void]  # (n_lane,) of `FLOW` [W/m2]
    total: NDArray[np.void]  # the same since the start [J/m2]


class Rest(NamedTuple):
    """Where draws were left, to go on from there."""

    arrival: Arrival
    state: State  # (..., n_draw)
    step: Floats  # (n_draw,) meant to be taken next [s], 0 for a draw that has only just arrived
    time: Floats  # (n_draw,) [s]

    @classmethod
    def at(cls, arrival: Arrival) -> Rest:
        """Return rest at the arrival."""
        count = arrival.time.size
        return cls(arrival, _new_state(arrival.heat.shape[0], count), np.zeros(count), arrival.time.copy())


class Left(NamedTuple):
    """What is left of a layer as a share of its start, each (n_lane,)."""

    share: Floats  # [1]
    inverse: Floats  # [1]
    fall: Floats  # how the share falls with the speed of the face [s/m]


class Edge(NamedTuple):
    """What crosses the edge of a cell, each (n_lane,)."""

    through: Floats  # heat content per depth receded [J/m3]
    below: Floats  # its slope against the temperature of the cell beneath, times the speed [W/(m2 K)]
    above: Floats  # likewise of the cell above [W/(m2 K)]


class Elimination(NamedTuple):
    """y_i = constant_i - upward_i y_(i-1) - face_i x of the nodes, x the gas face's unknown; and room for one row."""

    constant: Floats  # (n_cell + 2, n_lane)
    upward: Floats  # (n_cell + 2, n_lane)
    face: Floats  # (n_cell + 2, n_lane)
    last_constant: Floats  # (n_lane,) of the row eliminated last
    last_upward: Floats
    last_face: Floats
    conducted: Floats  # (n_lane,) into a cell [W/m2]
    stored: Floats  # (n_lane,) in a cell and lost to its ring, before shrinking [W/m2]
    pivot: Floats
    under: Floats


class Face(NamedTuple):
    """What Newton's method keeps of each lane during an iteration, each (n_lane,)."""

    moving: Floats  # 1 while a lane moves, else 0
    flux: Floats  # into the face through the char [W/m2]
    rate: Floats  # its slope against the face's temperature [W/(m2 K)]
    blown: Floats  # its slope against the speed through the vapour that thins the film [J/m3]
    change: Floats  # correction of the gas face's unknown
    carry: Floats  # correction of the row before [K]
    largest: Floats  # largest correction [K]


class Newton(NamedTuple):
    """What Newton's method works with, all lanes together; apart from `Lanes`, which is handed about lane by lane."""

    nothing: Floats  # (n_lane,) zeros: what the edges inside the stack carry of the surface
    link: Floats  # (n_cell + 1, n_lane) conductances of what is left [W/(m2 K)]
    whole: Left  # of the layers that stay
    top: Left  # of the layer that recedes
    content: Content
    rows: Elimination
    face: Face
    edges: tuple[Edge, Edge]  # above and beneath a cell, by turns


class Lanes(NamedTuple):
    """All that belongs to the draws under way."""

    stack: Stack
    n_top: int  # cells of the layer that recedes
    onset: Floats  # (n_lane,) [K]
    latent: Floats  # (n_lane,) [J/m3]
    char: Floats  # (n_lane,) [m K/W]
    vapour: Floats  # (n_lane,) [J/(m3 K)]
    surface_heat: Floats  # (n_lane,) heat content of the polymer at the onset [J/m3]
    thick: Floats  # (n_lane,) of the top layer at the start [m]
    from_above: (
        Floats  # (n_cell + 1, n_lane) share of the upper cell's content that crosses an edge per depth receded [1/m]
    )
    from_below: Floats  # (n_cell + 1, n_lane) the same of the lower cell's [1/m]
    old: State
    middle: State
    new: State
    inverse: Floats  # (n_lane,) 1/(DIAGONAL step) [1/s]
    known: Floats  # (n_cell, n_lane) heat content that the stage starts from [J/m2]
    gone_known: Floats  # (n_lane,) depth that it starts from [m]
    stands: Counts  # (n_lane,) whether the stage moves still, has settled or has failed


@njit(cache=True, nogil=True, error_model="numpy")
def _new_state(n_cell: int, count: int) -> State:
    shape = (n_cell, count)
    return State(
        np.zeros((n_cell + 2, count)),
        np.zeros(shape),
        np.zeros(shape),
        np.zeros(count),
        np.zeros(count),
        np.ones(count),
        np.zeros(count),
        np.zeros(count, FLOW),
        np.zeros(count, FLOW),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def _empty_stack(stack: Stack, count: int) -> Stack:
    """Return room for `count` draws of the same layers and cells."""
    n_cell, n_layer, n_knot = stack.layer.size, stack.capacity.shape[0], stack.knot.shape[1]
    shape, layers, knots = (n_cell, count), (n_layer, count), (n_layer, n_knot, count)
    return Stack(
        stack.layer,
        np.empty(shape),
        np.empty((n_cell + 1, count)),
        np.empty(shape),
        np.empty(shape),
        np.empty(layers),
        np.empty(knots),
        np.empty(knots),
        np.empty(layers),
        np.empty(shape),
        np.empty(layers),
        np.empty(count, FILM),
        np.empty(count, FILM),
        np.empty(count),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def _new_elimination(n_cell: int, n: int) -> Elimination:
    faced = (n_cell + 2, n)
    return Elimination(
        np.zeros(faced),
        np.zeros(faced),
        np.zeros(faced),
        np.zeros(n),
        np.zeros(n),
        np.zeros(n),
        np.zeros(n),
        np.zeros(n),
        np.zeros(n),
        np.zeros(n),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def new_newton(n_cell: int, n: int) -> Newton:
    """Return room for Newton's method on `n` lanes."""
    return Newton(
        np.zeros(n),
        np.empty((n_cell + 1, n)),
        Left(np.ones(n), np.ones(n), np.zeros(n)),
        Left(np.empty(n), np.empty(n), np.empty(n)),
        new_content(n_cell, n),
        _new_elimination(n_cell, n),
        Face(np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n)),
        (Edge(np.zeros(n), np.zeros(n), np.zeros(n)), Edge(np.zeros(n), np.zeros(n), np.zeros(n))),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def new_lanes(stack: Stack, n: int) -> Lanes:
    """Return `n` empty lanes."""
    n_cell, n_top = stack.layer.size, 0
    for i in range(n_cell):
        n_top += stack.layer[i] == 0
    return Lanes(
        _empty_stack(stack, n),
        n_top,
        np.empty(n),
        np.empty(n),
        np.empty(n),
        np.empty(n),
        np.empty(n),
        np.empty(n),
        np.zeros((n_cell + 1, n)),
        np.zeros((n_cell + 1, n)),
        _new_state(n_cell, n),
        _new_state(n_cell, n),
        _new_state(n_cell, n),
        np.ones(n),
        np.zeros((n_cell, n)),
        np.zeros(n),
        np.zeros(n, np.int64),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def _load_stack(stack: Stack, column: int, lane: Stack, d: int) -> None:
    """Copy one draw's column of the stack into the lane `d`."""
    for i in range(stack.layer.size):
        lane.width[i, d], lane.half[i, d] = stack.width[i, column], stack.half[i, column]
        lane.mass[i, d], lane.ring[i, d] = stack.mass[i, column], stack.ring[i, column]
    for i in range(stack.layer.size + 1):
        lane.link[i, d] = stack.link[i, column]
    for i in range(stack.capacity.shape[0]):
        lane.capacity[i, d], lane.datum[i, d] = stack.capacity[i, column], stack.datum[i, column]
        lane.ring_temperature[i, d] = stack.ring_temperature[i, column]
        for j in range(stack.knot.shape[1]):
            lane.knot[i, j, d], lane.bend[i, j, d] = stack.knot[i, j, column], stack.bend[i, j, column]
    lane.film[d], lane.back[d], lane.initial[d] = stack.film[column], stack.back[column], stack.initial[column]


@njit(cache=True, nogil=True, error_model="numpy")
def _load_edges(lanes: Lanes, d: int) -> None:
    """Fill thickness of the layer and what crosses the edges of its cells as they move."""
    stack, thick, edge = lanes.stack, 0.0, 0.0
    for i in range(lanes.n_top):
        thick += stack.width[i, d]
    for i in range(lanes.n_top - 1):
        here, below = stack.width[i, d], stack.width[i + 1, d]
        edge += here
        lanes.from_above[i + 1, d] = (1.0 - edge / thick) * below / (here * (here + below))
        lanes.from_below[i + 1, d] = (1.0 - edge / thick) * here / (below * (here + below))
    lanes.thick[d] = thick


@njit(cache=True, nogil=True, error_model="numpy")
def load(stack: Stack, ablation: Ablation, rest: Rest, column: int, lanes: Lanes, d: int) -> None:
    """Put one draw into the lane `d`, at its arrival at the onset or where it was left."""
    lane = lanes.stack
    _load_stack(stack, column, lane, d)
    _load_edges(lanes, d)
    onset = ablation.onset[column]
    lanes.onset[d], lanes.latent[d], lanes.char[d] = onset, ablation.heat[column], ablation.char[column]
    lanes.vapour[d] = ablation.vapour[column]
    lanes.surface_heat[d] = content_at(lane, 0, d, onset) * lane.mass[0, d] / lane.width[0, d]
    if rest.step[column] > 0.0:
        keep(rest.state, column, lanes.old, d)
        lanes.new.outer[d] = rest.state.outer[column]
    else:
        _load_arrival(rest.arrival, onset, column, lanes, d)


@njit(cache=True, nogil=True, error_model="numpy")
def _load_arrival(arrival: Arrival, onset: float, column: int, lanes: Lanes, d: int) -> None:
    """Fill the state of one lane with that at the arrival."""
    lane, old, n_cell = lanes.stack, lanes.old, lanes.stack.layer.size
    for i in range(n_cell + 2):
        old.temperature[i, d] = arrival.temperature[i, column]
    old.temperature[0, d] = onset
    total, so_far, flow = old.total[d], arrival.total, old.flow[d]
    total.into, total.beneath, total.ring = so_far.into[column], so_far.beneath[column], so_far.ring[column]
    total.lost, flow.lost = 0.0, 0.0
    old.gone[d], old.speed[d], old.held[d] = 0.0, 0.0, 1.0
    lanes.new.outer[d] = onset
    flow.into = lane.link[0, d] * (old.temperature[0, d] - old.temperature[1, d])
    flow.beneath = lane.link[n_cell, d] * (old.temperature[n_cell, d] - old.temperature[n_cell + 1, d])
    flow.ring = 0.0
    for i in range(n_cell):
        ring = lane.ring[i, d] * (old.temperature[i + 1, d] - lane.ring_temperature[lane.layer[i], d])
        upper = lane.link[i, d] * (old.temperature[i, d] - old.temperature[i + 1, d])
        lower = lane.link[i + 1, d] * (old.temperature[i + 1, d] - old.temperature[i + 2, d])
        flow.ring += ring
        old.rate[i, d] = upper - lower - ring
        old.heat[i, d] = arrival.heat[i, column]


@njit(cache=True, nogil=True, error_model="numpy")
def keep(new: State, d: int, old: State, e: int) -> None:
    """Copy the state in the column `d` of `new` to the column `e` of `old`."""
    for i in range(old.temperature.shape[0]):
        old.temperature[i, e] = new.temperature[i, d]
    for i in range(old.heat.shape[0]):
        old.heat[i, e], old.rate[i, e] = new.heat[i, d], new.rate[i, d]
    old.flow[e], old.total[e] = new.flow[d], new.total[d]
    old.gone[e], old.speed[e], old.held[e] = new.gone[d], new.speed[d], new.held[d]


@njit(cache=True, nogil=True, error_model="numpy")
def leave(lanes: Lanes, d: int, time: float, step: float, rest: Rest, column: int) -> None:
    """Note where one draw is left, and the step that it is meant to take next."""
    keep(lanes.old, d, rest.state, column)
    rest.state.outer[column] = lanes.new.outer[d]
    rest.time[column], rest.step[column] = time, step
