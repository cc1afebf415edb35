"""One draw's cycle, step by step, compiled: the internal energy is the state, and cycles repeat until they settle.

Work, wall heat and flow enthalpy of a step are booked with the very numbers that changed the energy, so the
first law closes to rounding; the temperature follows from the energy by Newton's method on the gas tables.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from screening.physics.cylinder import wiebe
from screening.physics.cylinder.cycle_books import Traces, book_flow, book_walls, open_books, wall, write_trace
from screening.physics.cylinder.cycle_draw import Draw, Gas, Phase, Turn, film_coefficient, open_pressure, turn_of
from screening.physics.cylinder.cycle_steps import Flow, Loss, Port, Span, State, closed_step, open_step, port_after
from screening.physics.cylinder.gas_mixture import MixtureTable, Sheets, level, mixture, mixture_table

_FILLING = 1.15  # d ln(trapped mass)/d ln(intake pressure) over total/fresh mass, seen; only speeds up settling
_STRIDES = (6, 6, 6, 4, 2, 1)  # steps of the first cycles, in steps of the last ones

_burned_fraction = njit(cache=True, error_model="numpy")(wiebe.burned_fraction)


class Settling(NamedTuple):
    """The most cycles to run, and the relative change from one to the next at which they count as settled [1]."""

    most: int
    tolerance: float


class Events(NamedTuple):
    """The finest step of intake closing, its angle [rad], and the steps from there to exhaust and intake."""

    start: int
    angle: float
    exhaust: int
    intake: int


@njit(cache=True, error_model="numpy")
def _events(draw: Draw, finest: float, step: float) -> Events:
    start = int(np.rint(draw.intake_closing / finest))
    angle = start * finest - 4.0 * np.pi
    exhaust = int(np.rint((draw.exhaust_opening - angle) / step))
    return Events(start, angle, exhaust, int(np.rint((2.0 * np.pi - 0.5 * draw.overlap_angle - angle) / step)))


@njit(cache=True, error_model="numpy")
def _lost(draw: Draw, state: State, span: Span) -> float:
    """What the film at the start of a step takes in its first half [J]."""
    area, sink = wall(draw, span.bare)
    return span.half_time * state.film * (area * state.temperature - sink)


@njit(cache=True, error_model="numpy")
def _loss(draw: Draw, span: Span, lost: float, film: float) -> Loss:
    area, sink = wall(draw, span.next_bare)
    g = span.half_time * film
    return Loss(lost, g * area, g * sink)


@njit(cache=True, error_model="numpy")
def _end_closed(
    draw: Draw, table: MixtureTable, state: State, span: Span, burned: float, phase: Phase
) -> tuple[Gas, float]:
    """The gas and its film coefficient after a step with the valves shut and `burned` [kg] at its end."""
    lost, volume = _lost(draw, state, span), span.next_volume
    # a first guess of the step's end, only to evaluate the film and the table's row there
    row = level(table, state.pressure * span.volume / volume)
    loss = _loss(draw, span, lost, state.film)
    t, p, r = closed_step(table, state, state.temperature + state.trend, row, burned, span, loss)
    film = film_coefficient(draw, Gas(p, t, volume, r), phase)
    loss = _loss(draw, span, lost, film)
    t, p, r = closed_step(table, state, t, level(table, p), burned, span, loss)
    return Gas(p, t, volume, r), film


@njit(cache=True, error_model="numpy")
def one_cycle(
    draw: Draw, table: MixtureTable, turn: Turn, begin: tuple[State, Port, float], trace: Traces, books: Any
) -> tuple[State, Port]:
    """Run 720 degrees from intake closing to intake closing; return the gas and what the port then holds.

    `begin` is the gas and the port at intake closing and the intake's pressure [Pa]. `turn` is that of the finest steps,
    of which as many are taken as `trace` has room for.
    """
    state, port, intake_pressure = begin
    count, steps = turn.volume.size, trace.pressure.size
    stride = count // steps
    finest = 4.0 * np.pi / count
    step = finest * stride
    events = _events(draw, finest, step)
    half_time = 0.5 * step / (2.0 * np.pi * draw.speed)
    open_books(books, state)
    mass, start_burned = state.mass, state.burned
    node = events.start
    closing = Gas(state.pressure, state.temperature, turn.volume[node], state.gas_constant)
    phase, release = Phase(True, False, closing, 0.0, 0.0), 0.0
    for k in range(steps):
        write_trace(trace, node // stride, state)
        angle, after = events.angle + (k + 1) * step, (events.start + (k + 1) * stride) % count
        span = Span(turn.volume[node], turn.volume[after], turn.bare[node], turn.bare[after], half_time)
        if k < events.exhaust:
            x = _burned_fraction(
                angle, draw.combustion_start, draw.combustion_duration, draw.wiebe_efficiency, draw.wiebe_shape
            )
            burned = start_burned + x * (mass - start_burned)
            if x > 0.0 and not phase.burning:
                phase = Phase(True, True, closing, state.pressure, span.volume)
            gas, film = _end_closed(draw, table, state, span, burned, phase)
            flow = Flow(0.0, 0.0, burned - state.burned)
            books.closed_work += 0.5 * (span.next_volume - span.volume) * (state.pressure + gas.pressure)
        else:
            if k == events.exhaust:
                release, phase = state.pressure, Phase(False, False, closing, 0.0, 0.0)
                gas = Gas(release, state.temperature, span.volume, state.gas_constant)
                state = _with_film(state, film_coefficient(draw, gas, phase))
                books.burned_share = (state.burned - start_burned) / max(mass - start_burned, 1e-300)
            intake = k >= events.intake
            p = open_pressure(draw, angle, release, intake_pressure)
            gas = Gas(p, state.temperature + state.trend, span.next_volume, state.gas_constant)
            film = film_coefficient(draw, gas, phase)
            loss = _loss(draw, span, _lost(draw, state, span), film)
            t, r, flow = open_step(table, state, port, intake, p, span, loss)
            gas = Gas(p, t, span.next_volume, r)
            book_flow(books, port, intake, flow)
            if intake:
                port = port_after(port, flow)
        heat = book_walls(draw, books, span, state, film, gas.temperature)
        work = 0.5 * (span.next_volume - span.volume) * (state.pressure + gas.pressure)
        books.work += work
        state = State(
            gas.temperature,
            gas.pressure,
            state.mass + flow.mass,
            state.energy + (flow.enthalpy - work - heat),
            state.burned + flow.burned,
            gas.gas_constant,
            film,
            gas.temperature - state.temperature,
        )
        node = after
    return state, port


@njit(cache=True, error_model="numpy")
def _with_film(state: State, film: float) -> State:
    return State(
        state.temperature,
        state.pressure,
        state.mass,
        state.energy,
        state.burned,
        state.gas_constant,
        film,
        state.trend,
    )


@njit(cache=True, error_model="numpy")
def _at_closing(draw: Draw, table: MixtureTable, gas: Gas, state: State) -> State:
    """The gas at intake closing with its film, its gas constant that of its temperature and pressure."""
    r = mixture(table, gas.temperature, level(table, gas.pressure), state.burned / state.mass).gas_constant
    moment = Gas(gas.pressure, gas.temperature, gas.volume, r)
    film = film_coefficient(draw, moment, Phase(True, False, moment, gas.pressure, gas.volume))
    return State(gas.temperature, gas.pressure, state.mass, state.energy, state.burned, r, film, 0.0)


@njit(cache=True, error_model="numpy")
def settle(
    draw: Draw, table: MixtureTable, settling: Settling, turn: Turn, trace: Traces, rough: Traces, books: Any
) -> None:
    """Repeat the cycle until it returns to its start and traps the fresh mass wanted; see `one_cycle`."""
    per_cycle = trace.pressure.size
    closing = turn.volume[int(np.rint(draw.intake_closing / (4.0 * np.pi) * per_cycle))]
    t_in = draw.intake_temperature
    fresh = mixture(table, t_in, 0.0, 0.0)
    fresh_enthalpy = fresh.energy + fresh.gas_constant * t_in - draw.fuel_mass_fraction * draw.latent_heat
    wanted, r = draw.fresh_mass, fresh.gas_constant
    t = t_in + 60.0
    residual = draw.exhaust_pressure * draw.clearance / (280.0 * 1000.0)
    p_in = draw.intake_pressure
    if not np.isnan(wanted):
        p_in = (wanted + residual) * r * t / closing
    mass = p_in * closing / (r * t)
    burned = min(residual, 0.5 * mass)
    energy = mass * mixture(table, t, level(table, p_in), burned / mass).energy
    state, port = State(t, p_in, mass, energy, burned, r, 0.0, 0.0), Port(0.0, 0.0, 0.0, fresh_enthalpy)
    for cycle in range(settling.most):
        stride = _STRIDES[min(cycle, len(_STRIDES) - 1)]
        kept = trace if stride == 1 else _first(rough, per_cycle // stride)
        state = _at_closing(draw, table, Gas(state.pressure, state.temperature, closing, state.gas_constant), state)
        start, books.energy_before, books.intake_pressure = state, state.energy + port.enthalpy, p_in
        state, port = one_cycle(draw, table, turn, (state, port, p_in), kept, books)
        books.energy_after = state.energy + port.enthalpy
        moved = abs(state.temperature / start.temperature - 1.0) + abs(state.mass / start.mass - 1.0)
        if not np.isnan(wanted):
            trapped = state.mass - state.burned
            moved += abs(wanted / trapped - 1.0)
            answer = _FILLING * state.mass / trapped
            p_in *= (wanted / trapped) ** (1.0 / answer)
        books.settling = moved
        if np.isnan(moved) or (stride == 1 and moved < settling.tolerance):
            break


@njit(cache=True, error_model="numpy")
def _first(traces: Traces, count: int) -> Traces:
    """Room for the traces of a cycle of `count` steps."""
    return Traces(traces.pressure[:count], traces.temperature[:count], traces.film[:count], traces.burned[:count])


@njit(cache=True, parallel=True, error_model="numpy")
def run_draws(
    draws: Any, usable: NDArray[np.bool_], sheets: Sheets, settling: Settling, traces: Traces, books: Any
) -> None:
    """Settle each draw that is `usable`; `traces` (n_draw, n_angle) and `books` (n_draw,) are filled in place."""
    per_cycle = traces.pressure.shape[1]
    for i in prange(usable.size):
        if usable[i]:
            table = mixture_table(draws[i].equivalence_ratio, draws[i].fuel_mass_fraction, sheets)
            trace = Traces(traces.pressure[i], traces.temperature[i], traces.film[i], traces.burned[i])
            room = np.empty((4, per_cycle // 2))
            rough = Traces(room[0], room[1], room[2], room[3])
            settle(draws[i], table, settling, turn_of(draws[i], per_cycle), trace, rough, books[i])
