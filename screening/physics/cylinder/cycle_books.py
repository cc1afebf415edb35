"""The account of a cycle: its traces over 720 degrees and its sums of work, wall heat and flow, step by step, compiled."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.cylinder.cycle_draw import Draw
from screening.physics.cylinder.cycle_steps import Flow, Port, Span, State


class Books(NamedTuple):
    """Sums over the last cycle, SI; the kernel fills a record of the same fields.

    `closed_work` is that of compression and expansion; `burned_share` of the fresh mixture at exhaust opening;
    `residual` by mass and `charge_mass` at intake closing; `settling`, the relative change over
    the cycle [1]; `energy_before`, `energy_after` of the gas in the cylinder and of that pushed back into the port.
    """

    work: float
    closed_work: float
    crown_heat: float
    head_heat: float
    liner_heat: float
    enthalpy_in: float
    enthalpy_out: float
    fresh_mass: float
    burned_share: float
    residual: float
    charge_mass: float
    intake_pressure: float
    settling: float
    energy_before: float
    energy_after: float


BOOKS = np.dtype([(name, np.float64) for name in Books._fields])
"""The record of `Books`."""


class Traces(NamedTuple):
    """Pressure [Pa], temperature [K], film coefficient [W/(m2 K)] and burned fraction [1], ([n_draw,] n_angle)."""

    pressure: NDArray[np.float64]
    temperature: NDArray[np.float64]
    film: NDArray[np.float64]
    burned: NDArray[np.float64]


@njit(cache=True, error_model="numpy")
def wall(draw: Draw, bare: float) -> tuple[float, float]:
    """The wall's area [m2] and area times temperature [m2 K] with `bare` of the liner laid open."""
    crown = 0.25 * np.pi * draw.bore**2
    head = crown * draw.head_area_ratio
    sink = crown * draw.crown_temperature + head * draw.head_temperature + bare * draw.liner_temperature
    return crown + head + bare, sink


@njit(cache=True, error_model="numpy")
def book_walls(draw: Draw, books: Any, span: Span, state: State, film: float, temperature: float) -> float:
    """Book a step's heat to crown, head and liner, to the film and temperature at its end; return their sum [J]."""
    before, after = span.half_time * state.film, span.half_time * film
    t0, t1 = state.temperature, temperature
    crown = 0.25 * np.pi * draw.bore**2
    to_crown = crown * (before * (t0 - draw.crown_temperature) + after * (t1 - draw.crown_temperature))
    to_head = (
        crown * draw.head_area_ratio * (before * (t0 - draw.head_temperature) + after * (t1 - draw.head_temperature))
    )
    to_liner = before * span.bare * (t0 - draw.liner_temperature)
    to_liner += after * span.next_bare * (t1 - draw.liner_temperature)
    books.crown_heat += to_crown
    books.head_heat += to_head
    books.liner_heat += to_liner
    return float(to_crown + to_head + to_liner)


@njit(cache=True, error_model="numpy")
def book_flow(books: Any, port: Port, intake: bool, flow: Flow) -> None:
    """Book what a step let out or drew in fresh."""
    if not intake:
        books.enthalpy_out -= flow.enthalpy
    elif flow.mass > port.mass:
        books.enthalpy_in += (flow.mass - port.mass) * port.fresh_enthalpy
        books.fresh_mass += flow.mass - port.mass


@njit(cache=True, error_model="numpy")
def open_books(books: Any, state: State) -> None:
    """Open the books of a cycle that begins at `state`."""
    books.work, books.closed_work, books.crown_heat, books.head_heat, books.liner_heat = 0.0, 0.0, 0.0, 0.0, 0.0
    books.enthalpy_in, books.enthalpy_out, books.fresh_mass, books.burned_share = 0.0, 0.0, 0.0, 0.0
    books.residual = state.burned / state.mass
    books.charge_mass = state.mass


@njit(cache=True, error_model="numpy")
def write_trace(trace: Traces, column: int, state: State) -> None:
    """Write the state at one step."""
    trace.pressure[column], trace.temperature[column], trace.film[column] = (
        state.pressure,
        state.temperature,
        state.film,
    )
    trace.burned[column] = state.burned / state.mass
