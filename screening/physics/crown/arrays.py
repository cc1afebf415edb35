"""What the crown's kernels work on: plain arrays, the last axis is the draw, power and heat are per face area."""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Counts: TypeAlias = NDArray[np.int64]

FILM = np.dtype(
    [
        (name, np.float64)
        for name in (
            "coefficient",
            "temperature",
            "feedback",
            "feedback_at",
            "coefficient_feedback",
            "emissivity",
            "surroundings",
        )
    ]
)
"""The record of one draw's film; see `Film`."""


class Stack(NamedTuple):
    """A stack cut into cells."""

    layer: Counts  # (n_cell,) the layer a cell lies in
    width: Floats  # (n_cell, n_draw) [m]
    link: Floats  # (n_cell + 1, n_draw) conductance from centre to centre, ends: to the face [W/(m2 K)]
    half: Floats  # (n_cell, n_draw) resistance of half a cell [m2 K/W]
    mass: Floats  # (n_cell, n_draw) [kg/m2]
    capacity: Floats  # (n_layer, n_draw) heat capacity up to the first knot [J/(kg K)]
    knot: Floats  # (n_layer, n_knot, n_draw) where the heat capacity bends [K]
    bend: Floats  # (n_layer, n_knot, n_draw) by how much its slope changes there [J/(kg K2)]
    datum: Floats  # (n_layer, n_draw) what the bends add to the heat content at the start [J/kg]
    ring: Floats  # (n_cell, n_draw) sideways conductance [W/(m2 K)]
    ring_temperature: Floats  # (n_layer, n_draw) [K]
    film: NDArray[np.void]  # (n_draw,) of `FILM`, on the gas face
    back: NDArray[np.void]  # (n_draw,) of `FILM`, on the face beneath
    initial: Floats  # (n_draw,) [K]

    def taken(self, draws: Counts) -> Stack:
        """Return the stack of some of the draws."""
        by_draw = {name: np.take(getattr(self, name), draws, axis=-1) for name in self._fields if name != "layer"}
        return self._replace(**by_draw)


class March(NamedTuple):
    """When to step and when to write down the state."""

    step: Floats  # (n_step,) [s]
    first: Counts  # (n_step + 1,) index of the first output that falls in the step
    share: Floats  # (n_time,) where in its step the output lies, 0 to 1


class Flows(NamedTuple):
    """Power [W/m2], or energy since the start [J/m2], through the boundaries, each (n_draw,)."""

    into: Floats  # through the gas face, what char and decomposition take included
    beneath: Floats  # out beneath
    ring: Floats  # to the rings
    lost: Floats  # with the polymer that leaves


FLOW = np.dtype([(name, np.float64) for name in Flows._fields])
"""The record of one draw's `Flows`."""


class Energies(NamedTuple):
    """Energies since the start [J/m2], each (n_time, n_draw); the fields of `Flows`, and what is stored."""

    into: Floats
    beneath: Floats
    ring: Floats
    lost: Floats
    stored: Floats


class History(NamedTuple):
    """What is written down, to be filled by a kernel."""

    temperature: Floats  # (n_time, n_depth, n_draw) [K]
    face: Floats  # (n_time, n_draw) of the gas face [K]
    back: Floats  # (n_time, n_draw) of the face beneath [K]
    energy: Energies
    recession: Floats  # (n_time, n_draw) of the gas face [m]
    speed: Floats  # (n_time, n_draw) of the receding face [m/s]
    consumed: Floats  # (n_draw,) when the top layer was consumed [s], inf if never

    @classmethod
    def blank(cls, looks: int, depths: int, count: int) -> History:
        """Return room for as many looks, depths and draws; nothing has receded in it."""
        face, back, *energy = (np.empty((looks, count)) for _ in range(7))
        gone, speed = np.zeros((looks, count)), np.zeros((looks, count))
        return cls(np.empty((looks, depths, count)), face, back, Energies(*energy), gone, speed, np.full(count, np.inf))


class Arrival(NamedTuple):
    """The state in which the gas face of a draw first gets to the onset of decomposition."""

    onset: Floats  # (n_draw,) [K]
    time: Floats  # (n_draw,) [s], inf before it comes
    temperature: Floats  # (n_cell + 2, n_draw) [K]
    heat: Floats  # (n_cell, n_draw) heat content above the start [J/m2]
    total: Flows  # energies so far

    @classmethod
    def awaited(cls, onset: Floats, n_cell: int) -> Arrival:
        """Return room for the arrival of as many draws as `onset` has."""
        count = onset.size
        temperature, heat = np.empty((n_cell + 2, count)), np.empty((n_cell, count))
        return cls(onset, np.full(count, np.inf), temperature, heat, new_flows(count))


class Content(NamedTuple):
    """Heat content of the cells above the start, its slope, and room for a row of each."""

    heat: Floats  # (n_cell, n_draw) [J/m2]
    gain: Floats  # (n_cell, n_draw) [J/(m2 K)]
    warm: Floats  # (n_draw,) [J/kg]
    slope: Floats  # (n_draw,) [J/(kg K)]


class Work(NamedTuple):
    """Room for one Newton solution."""

    content: Content
    right: Floats  # (n_cell + 2, n_draw) right-hand side, then correction
    pivot: Floats  # (n_cell + 2, n_draw) inverse pivots
    moving: Floats  # (n_draw,) 1 while a draw still moves, else 0
    before: Floats  # (n_draw,) largest correction of the iteration before [K]
    largest: Floats  # (n_draw,) largest correction [K]
    share: Floats  # (n_draw,) how much of its correction a draw takes [1]
    net: Floats  # (n_draw,) heating of a cell [W/m2]
    carry: Floats  # (n_draw,) what is carried from row to row
    inverse_pivot: Floats  # (n_draw,) of the row before


@njit(cache=True, nogil=True, error_model="numpy")
def new_content(n_cell: int, count: int) -> Content:
    """Return room for the heat content of `count` draws."""
    return Content(np.empty((n_cell, count)), np.empty((n_cell, count)), np.empty(count), np.empty(count))


@njit(cache=True, nogil=True, error_model="numpy")
def new_work(n_cell: int, count: int) -> Work:
    """Return room for `count` draws."""
    return Work(
        new_content(n_cell, count),
        np.empty((n_cell + 2, count)),
        np.empty((n_cell + 2, count)),
        np.empty(count),
        np.empty(count),
        np.empty(count),
        np.empty(count),
        np.empty(count),
        np.empty(count),
        np.empty(count),
    )


@njit(cache=True, nogil=True, error_model="numpy")
def new_flows(count: int) -> Flows:
    """Return flows of nothing, of `count` draws."""
    return Flows(np.zeros(count), np.zeros(count), np.zeros(count), np.zeros(count))
