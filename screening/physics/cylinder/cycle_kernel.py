"""One draw's cycle, step by step, compiled: the internal energy is the state, and cycles repeat until they
settle.

Work, wall heat and flow enthalpy of a step are booked with the very numbers that changed the energy, so the
first law closes to rounding; the temperature follows from the energy by Newton's method on the gas tables.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from screening.physics.cylinder.cycle_draw import coefficient, geometry, open_pressure
from screening.physics.cylinder.cycle_steps import book_flow, closed_step, open_step
from screening.physics.cylinder.gas_mixture import Gas, Sheets, draw_gas, level, mixture

_FILLING = 1.15  # d ln(trapped mass)/d ln(intake pressure) over total/fresh mass, seen; only speeds up settling
_STRIDES = (6, 6, 6, 4, 2, 1)  # steps of the first cycles, in steps of the last ones


@njit(cache=True, error_model="numpy")
def burned_share(q: Any, angle: float) -> float:
    """Wiebe's share of the fresh mixture burned [1]: 1 - exp(-a x^(m+1)), x = (theta - start)/duration (Heywood 1988, eq. 9.27)."""
    progress = max((angle - q.combustion_start) / q.combustion_duration, 0.0)
    return -np.expm1(-q.wiebe_efficiency * progress ** (q.wiebe_shape + 1.0))


@njit(cache=True, error_model="numpy")
def book_walls(
    q: Any,
    books: NDArray[np.float64],
    flux0: float,
    flux1: float,
    t0: float,
    t1: float,
    bare0: float,
    bare1: float,
) -> float:
    """Book a step's heat to crown, head and liner and return their sum [J]; `flux` is h times half the step's time."""
    crown = 0.25 * np.pi * q.bore**2
    to_crown = crown * (flux0 * (t0 - q.crown_temperature) + flux1 * (t1 - q.crown_temperature))
    to_head = crown * q.head_area_ratio * (flux0 * (t0 - q.head_temperature) + flux1 * (t1 - q.head_temperature))
    to_liner = flux0 * bare0 * (t0 - q.liner_temperature) + flux1 * bare1 * (t1 - q.liner_temperature)
    books[1] += to_crown
    books[2] += to_head
    books[3] += to_liner
    return float(to_crown + to_head + to_liner)


@njit(cache=True, error_model="numpy")
def wall_area(q: Any, bare: float) -> tuple[float, float]:
    """Return the wall's area [m2] and area times temperature [m2 K] with `bare` of the liner laid open."""
    crown = 0.25 * np.pi * q.bore**2
    head = crown * q.head_area_ratio
    sink = crown * q.crown_temperature + head * q.head_temperature + bare * q.liner_temperature
    return crown + head + bare, sink


@njit(cache=True, error_model="numpy")
def event_nodes(q: Any, finest: float, step: float) -> tuple[int, float, int, int]:
    """Return the finest step of intake closing, its angle [rad], and the steps from there to exhaust and intake."""
    start = int(np.rint(q.intake_closing / finest))
    opening = start * finest - 4.0 * np.pi
    release_node = int(np.rint((q.exhaust_opening - opening) / step))
    return start, opening, release_node, int(np.rint((2.0 * np.pi - 0.5 * q.overlap_angle - opening) / step))


@njit(cache=True, error_model="numpy")
def one_cycle(
    q: Any,
    gas: Gas,
    volume: NDArray[np.float64],
    liner: NDArray[np.float64],
    stride: int,
    state: NDArray[np.float64],
    slug: NDArray[np.float64],
    intake_pressure: float,
    fresh_enthalpy: float,
    trace: NDArray[np.float64],
    books: NDArray[np.float64],
) -> None:
    """Run 720 degrees from intake closing to intake closing; `state` and `slug` are advanced in place.

    `volume`, `liner` are those of the finest steps, of which each `stride`-th is used. `trace` (4, n_step)
    takes p, T, h and the burned mass fraction; `books` takes work, heat to crown, head and liner, enthalpy
    in (fresh), enthalpy out (exhaust), fresh mass, share burned at exhaust opening, residual fraction, work
    with the valves shut.
    """
    finest = 4.0 * np.pi / volume.size
    steps, step = volume.size // stride, finest * stride
    start, opening, release_node, intake_node = event_nodes(q, finest, step)
    half_time = 0.5 * step / (2.0 * np.pi * q.speed)
    books[:] = 0.0
    v0, bare0 = volume[start], liner[start]
    mass, start_burned = state[2], state[4]
    books[8] = start_burned / mass
    reference = np.array([state[0], state[1], v0, state[1], v0])
    _, _, r, _ = mixture(gas, state[0], level(gas, state[1]), start_burned / mass)
    h0 = coefficient(q, state[1], state[0], v0, r, False, True, reference)
    burning, release, trend = False, 0.0, 0.0
    for k in range(steps):
        column = ((start + k * stride) % volume.size) // stride
        trace[0, column], trace[1, column], trace[2, column] = state[1], state[0], h0
        trace[3, column] = state[4] / state[2]
        closed = k < release_node
        angle = opening + (k + 1) * step
        node = (start + (k + 1) * stride) % volume.size
        v1, bare1 = volume[node], liner[node]
        (area0, sink0), (area1, sink1) = wall_area(q, bare0), wall_area(q, bare1)
        lost, g = half_time * h0 * (area0 * state[0] - sink0), half_time * h0
        t0, gain, enthalpy = state[0], 0.0, 0.0
        if closed:
            x = burned_share(q, angle)
            burned1 = start_burned + x * (mass - start_burned)
            if x > 0.0 and not burning:
                reference[3], reference[4], burning = state[1], v0, True
            # A first guess of the step's end, only to evaluate the film and the table's row there.
            row = level(gas, state[1] * v0 / v1)
            t1, p1, r = closed_step(gas, state, t0 + trend, row, burned1, v0, v1, lost, g * area1, g * sink1)
            h1 = coefficient(q, p1, t1, v1, r, burning, True, reference)
            g, row = half_time * h1, level(gas, p1)
            t1, p1, r = closed_step(gas, state, t1, row, burned1, v0, v1, lost, g * area1, g * sink1)
            burned_gain = burned1 - state[4]
            books[9] += 0.5 * (v1 - v0) * (state[1] + p1)
        else:
            if k == release_node:
                release = state[1]
                h0 = coefficient(q, release, t0, v0, r, False, False, reference)
                lost = half_time * h0 * (area0 * t0 - sink0)
                books[7] = (state[4] - start_burned) / max(mass - start_burned, 1e-300)
            p1 = open_pressure(q, angle, release, intake_pressure)
            h1 = coefficient(q, p1, t0 + trend, v1, r, False, False, reference)
            g = half_time * h1
            intake = k >= intake_node
            drawn = fresh_enthalpy if intake else np.nan
            t1, gain, enthalpy, burned_gain, r = open_step(
                gas, state, slug, drawn, level(gas, p1), p1, v0, v1, lost, g * area1, g * sink1
            )
            book_flow(books, slug, intake, gain, enthalpy, burned_gain, fresh_enthalpy)
        heat = book_walls(q, books, half_time * h0, half_time * h1, t0, t1, bare0, bare1)
        work = 0.5 * (v1 - v0) * (state[1] + p1)
        books[0] += work
        trend = t1 - t0
        state[0], state[1] = t1, p1
        state[2] += gain
        state[3] += enthalpy - work - heat
        state[4] += burned_gain
        h0, v0, bare0 = h1, v1, bare1


@njit(cache=True, error_model="numpy")
def settle(
    q: Any,
    gas: Gas,
    most: int,
    tolerance: float,
    trace: NDArray[np.float64],
    books: NDArray[np.float64],
    ends: NDArray[np.float64],
) -> None:
    """Repeat the cycle until it returns to its start and traps the fresh mass wanted; see `one_cycle`.

    `ends` takes the intake pressure, the relative change over the last cycle, energy at the start and at the
    end of it, mass and temperature at intake closing.
    """
    per_cycle = trace.shape[1]
    volume, liner = geometry(q, per_cycle)
    closing = volume[int(np.rint(q.intake_closing / (4.0 * np.pi) * per_cycle))]
    t_in = q.intake_temperature
    u, _, r, _ = mixture(gas, t_in, 0.0, 0.0)
    fresh_enthalpy = u + r * t_in - q.fuel_mass_fraction * q.latent_heat
    wanted = q.fresh_mass
    t = t_in + 60.0
    residual = q.exhaust_pressure * q.clearance / (280.0 * 1000.0)
    p_in = q.intake_pressure
    if not np.isnan(wanted):
        p_in = (wanted + residual) * r * t / closing
    mass = p_in * closing / (r * t)
    state = np.array([t, p_in, mass, 0.0, min(residual, 0.5 * mass)])
    state[3] = mass * mixture(gas, t, level(gas, p_in), state[4] / mass)[0]
    slug = np.zeros(3)
    rough = np.empty((4, per_cycle // 2))
    for cycle in range(most):
        start, start_slug = state.copy(), slug[1]
        stride = _STRIDES[min(cycle, len(_STRIDES) - 1)]
        fine = stride == 1
        kept = trace if fine else rough
        one_cycle(q, gas, volume, liner, stride, state, slug, p_in, fresh_enthalpy, kept, books)
        moved = abs(state[0] / start[0] - 1.0) + abs(state[2] / start[2] - 1.0)
        ends[0] = p_in
        ends[2], ends[3] = start[3] + start_slug, state[3] + slug[1]
        ends[4], ends[5] = start[2], start[0]
        if not np.isnan(wanted):
            trapped = state[2] - state[4]
            moved += abs(wanted / trapped - 1.0)
            answer = _FILLING * state[2] / trapped
            p_in *= (wanted / trapped) ** (1.0 / answer)
        ends[1] = moved
        if np.isnan(moved) or (fine and moved < tolerance):
            break


@njit(cache=True, parallel=True, error_model="numpy")
def run_draws(
    draws: NDArray[np.void],
    usable: NDArray[np.bool_],
    sheets: Sheets,
    per_cycle: int,
    most: int,
    tolerance: float,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Traces (n_draw, 4, per_cycle), books (n_draw, 10), ends (n_draw, 6); NaN where not `usable`."""
    n = usable.size
    traces = np.full((n, 4, per_cycle), np.nan)
    books = np.full((n, 10), np.nan)
    ends = np.full((n, 6), np.nan)
    for i in prange(n):
        if usable[i]:
            gas = draw_gas(draws[i].equivalence_ratio, draws[i].fuel_mass_fraction, sheets)
            settle(draws[i], gas, most, tolerance, traces[i], books[i], ends[i])
    return traces, books, ends
