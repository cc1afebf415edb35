"""What the crown's kernels work on: plain arrays, the last axis is the draw, power and heat are per face area."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit

GAMMA = 2.0 - math.sqrt(2.0)
"""Where in a step the trapezoidal stage ends; with this value both stages have the same matrix."""
DIAGONAL = GAMMA / 2.0
WEIGHT = math.sqrt(2.0) / 4.0


class Stack(NamedTuple):
    """A stack cut into cells."""

    layer: np.ndarray  # (n_cell,) the layer a cell lies in
    width: np.ndarray  # (n_cell, n_draw) [m]
    link: np.ndarray  # (n_cell + 1, n_draw) conductance from centre to centre, ends: to the face [W/(m2 K)]
    half: np.ndarray  # (n_cell, n_draw) resistance of half a cell [m2 K/W]
    mass: np.ndarray  # (n_cell, n_draw) [kg/m2]
    capacity: np.ndarray  # (n_layer, n_draw) heat capacity up to the first knot [J/(kg K)]
    knot: np.ndarray  # (n_layer, n_knot, n_draw) where the heat capacity bends [K]
    bend: np.ndarray  # (n_layer, n_knot, n_draw) by how much its slope changes there [J/(kg K2)]
    datum: np.ndarray  # (n_layer, n_draw) what the bends add to the heat content at the start [J/kg]
    ring: np.ndarray  # (n_cell, n_draw) sideways conductance [W/(m2 K)]
    ring_temperature: np.ndarray  # (n_layer, n_draw) [K]
    film: np.ndarray  # (7, n_draw) gas film, fields in the order of `Film`
    back: np.ndarray  # (7, n_draw) crankcase film
    initial: np.ndarray  # (n_draw,) [K]


class March(NamedTuple):
    """When to step and when to write down the state."""

    step: np.ndarray  # (n_step,) [s]
    first: np.ndarray  # (n_step + 1,) index of the first output that falls in the step
    share: np.ndarray  # (n_time,) where in its step the output lies, 0 to 1


class History(NamedTuple):
    """What is written down, to be filled by a kernel."""

    temperature: np.ndarray  # (n_time, n_depth, n_draw) [K]
    faces: np.ndarray  # (n_time, 2, n_draw) gas face and face beneath [K]
    energy: np.ndarray  # (n_time, 5, n_draw) in, out beneath, to the rings, stored, lost with the polymer [J/m2]
    speed: np.ndarray  # (n_time, n_draw) of the receding face [m/s]


class Arrival(NamedTuple):
    """The state in which the gas face of a draw first gets to the onset of decomposition."""

    onset: np.ndarray  # (n_draw,) [K]
    time: np.ndarray  # (n_draw,) [s], inf before it comes
    temperature: np.ndarray  # (n_cell + 2, n_draw) [K]
    heat: np.ndarray  # (n_cell, n_draw) heat content above the start [J/m2]
    total: np.ndarray  # (3, n_draw) energies so far: in, out beneath, to the rings [J/m2]

    @classmethod
    def awaited(cls, onset: np.ndarray, n_cell: int) -> Arrival:
        """Return what is to be filled for as many draws as `onset` has."""
        count = onset.size
        rows = (np.empty((size, count)) for size in (n_cell + 2, n_cell, 3))
        return cls(onset, np.full(count, np.inf), *rows)


class Work(NamedTuple):
    """Room for one Newton solution."""

    gain: np.ndarray  # (n_cell, n_draw) slope of the heat content [J/(m2 K)]
    right: np.ndarray  # (n_cell + 2, n_draw) right-hand side, then correction
    pivot: np.ndarray  # (n_cell + 2, n_draw) inverse pivots
    control: np.ndarray  # (4, n_draw) still moving, correction before, largest correction, share taken of it
    fresh: np.ndarray  # (n_cell, n_draw) heat content before the correction [J/m2]
    row: np.ndarray  # (3, n_draw) what is carried from row to row


@njit(cache=True, nogil=True, error_model="numpy")
def new_work(n_cell, count):  # type: ignore[no-untyped-def]
    """Return room for `count` draws."""
    shape, faced = (n_cell, count), (n_cell + 2, count)
    rows = np.empty((3, count))
    return Work(np.empty(shape), np.empty(faced), np.empty(faced), np.empty((4, count)), np.empty(shape), rows)
