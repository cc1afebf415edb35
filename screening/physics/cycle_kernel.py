"""One draw's cycle, step by step, compiled: implicit trapezoid in crank angle with the internal energy as the state.

Work, wall heat and flow enthalpy of a step are booked with the very numbers that changed the energy, so the first
law closes to rounding; the temperature follows from the energy by Newton's method on the gas tables.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from screening.physics import film

_woschni = njit(cache=True)(film.woschni)
_woschni_gas_speed = njit(cache=True)(film.woschni_gas_speed)
_hohenberg = njit(cache=True)(film.hohenberg)
_annand = njit(cache=True)(film.annand)
_annand_radiation = njit(cache=True)(film.annand_radiation)
_EXCHANGE, _CLOSED = film.WOSCHNI_EXCHANGE, film.WOSCHNI_CLOSED
_MOTORED_EXPONENT = 1.33  # polytropic exponent of the motored pressure in Woschni's speed term
_NEWTON_STEPS, _NEWTON_TOLERANCE = 12, 1e-11


class Scalars(NamedTuple):
    """One value a draw, (n_draw,), SI; see `CycleInputs` for the meaning."""

    bore: NDArray[np.float64]
    stroke: NDArray[np.float64]
    rod_length: NDArray[np.float64]
    clearance: NDArray[np.float64]
    speed: NDArray[np.float64]
    equivalence_ratio: NDArray[np.float64]
    fuel_mass_fraction: NDArray[np.float64]
    fresh_mass: NDArray[np.float64]
    intake_pressure: NDArray[np.float64]
    intake_temperature: NDArray[np.float64]
    exhaust_pressure: NDArray[np.float64]
    latent_heat: NDArray[np.float64]
    crown_temperature: NDArray[np.float64]
    head_temperature: NDArray[np.float64]
    liner_temperature: NDArray[np.float64]
    head_area_ratio: NDArray[np.float64]
    correlation: NDArray[np.int64]
    multiplier: NDArray[np.float64]
    combustion_start: NDArray[np.float64]
    combustion_duration: NDArray[np.float64]
    wiebe_efficiency: NDArray[np.float64]
    wiebe_shape: NDArray[np.float64]
    exhaust_opening: NDArray[np.float64]
    blowdown_angle: NDArray[np.float64]
    overlap_angle: NDArray[np.float64]
    intake_closing: NDArray[np.float64]


class Gas(NamedTuple):
    """Tables of one draw's mixture: burned (n_pressure, n_temperature), fresh (n_temperature,)."""

    temperature: float
    temperature_step: float
    log_pressure: float
    log_pressure_step: float
    burned_energy: NDArray[np.float64]
    burned_constant: NDArray[np.float64]
    fresh_energy: NDArray[np.float64]
    fresh_constant: float


@njit(cache=True)
def mixture(gas: Gas, temperature: float, pressure: float, burned: float) -> tuple[float, float, float]:
    """Energy [J/kg], gas constant and slope of the energy with temperature [J/(kg K)] of partly burned gas."""
    place = (temperature - gas.temperature) / gas.temperature_step
    i = min(max(int(place), 0), gas.fresh_energy.size - 2)
    ft = place - i
    level = (np.log(pressure) - gas.log_pressure) / gas.log_pressure_step
    j = min(max(int(level), 0), gas.burned_energy.shape[0] - 2)
    fp = min(max(level - j, 0.0), 1.0)
    low = (1.0 - fp) * gas.burned_energy[j, i] + fp * gas.burned_energy[j + 1, i]
    high = (1.0 - fp) * gas.burned_energy[j, i + 1] + fp * gas.burned_energy[j + 1, i + 1]
    r_low = (1.0 - fp) * gas.burned_constant[j, i] + fp * gas.burned_constant[j + 1, i]
    r_high = (1.0 - fp) * gas.burned_constant[j, i + 1] + fp * gas.burned_constant[j + 1, i + 1]
    slope = burned * (high - low) + (1.0 - burned) * (gas.fresh_energy[i + 1] - gas.fresh_energy[i])
    energy = burned * low + (1.0 - burned) * gas.fresh_energy[i] + ft * slope
    constant = burned * (r_low + ft * (r_high - r_low)) + (1.0 - burned) * gas.fresh_constant
    return energy, constant, slope / gas.temperature_step


@njit(cache=True)
def draw_gas(
    ratio: float,
    fuel: float,
    ratios: NDArray[np.float64],
    temperature: NDArray[np.float64],
    log_pressure: NDArray[np.float64],
    burned_energy: NDArray[np.float64],
    burned_constant: NDArray[np.float64],
    air_energy: NDArray[np.float64],
    fuel_energy: NDArray[np.float64],
    constants: NDArray[np.float64],
) -> Gas:
    """Tables at one equivalence ratio; `constants` are the gas constants of air and of fuel vapour."""
    k = min(max(np.searchsorted(ratios, ratio) - 1, 0), ratios.size - 2)
    f = (ratio - ratios[k]) / (ratios[k + 1] - ratios[k])
    return Gas(
        temperature[0],
        temperature[1] - temperature[0],
        log_pressure[0],
        log_pressure[1] - log_pressure[0],
        (1.0 - f) * burned_energy[k] + f * burned_energy[k + 1],
        (1.0 - f) * burned_constant[k] + f * burned_constant[k + 1],
        (1.0 - fuel) * air_energy + fuel * fuel_energy,
        (1.0 - fuel) * constants[0] + fuel * constants[1],
    )


@njit(cache=True)
def geometry(q: Scalars, i: int, angle: float) -> tuple[float, float]:
    """Gas volume [m3] and liner area laid bare [m2] at a crank angle."""
    throw = 0.5 * q.stroke[i]
    sine = throw * np.sin(angle)
    travel = q.rod_length[i] + throw - throw * np.cos(angle) - np.sqrt(q.rod_length[i] ** 2 - sine * sine)
    return q.clearance[i] + 0.25 * np.pi * q.bore[i] ** 2 * travel, np.pi * q.bore[i] * travel


@njit(cache=True)
def coefficient(
    q: Scalars,
    i: int,
    p: float,
    t: float,
    volume: float,
    gas_constant: float,
    burning: bool,
    closed: bool,
    reference: NDArray[np.float64],
) -> float:
    """Film coefficient [W/(m2 K)]; `reference` holds T, p, V at intake closing, then p, V at ignition."""
    piston_speed = 2.0 * q.stroke[i] * q.speed[i]
    if q.correlation[i] == 0:
        rise = 0.0
        if burning:
            motored = reference[3] * (reference[4] / volume) ** _MOTORED_EXPONENT
            rise = max(p - motored, 0.0)
        swept = 0.25 * np.pi * q.bore[i] ** 2 * q.stroke[i]
        factor = _CLOSED if closed else _EXCHANGE
        w = _woschni_gas_speed(piston_speed, factor, swept, rise, reference[0], reference[1], reference[2])
        h = _woschni(p, t, q.bore[i], w)
    elif q.correlation[i] == 1:
        h = _hohenberg(p, t, volume, piston_speed)
    else:
        h = _annand(p, t, q.bore[i], piston_speed, gas_constant)
        if burning:
            wall = 0.5 * (q.crown_temperature[i] + q.head_temperature[i])
            h += _annand_radiation(t, wall)
    return q.multiplier[i] * h


@njit(cache=True)
def open_pressure(q: Scalars, i: int, angle: float, release: float, intake: float) -> float:
    """Cylinder pressure with a valve open [Pa]: blow-down, exhaust stroke, change-over about top centre, intake."""
    since = (angle - q.exhaust_opening[i]) / q.blowdown_angle[i]
    if since < 1.0:
        fall = 0.5 * (1.0 + np.cos(np.pi * since))
        return q.exhaust_pressure[i] + (release - q.exhaust_pressure[i]) * fall
    change = (angle - (2.0 * np.pi - 0.5 * q.overlap_angle[i])) / q.overlap_angle[i]
    share = 0.5 * (1.0 - np.cos(np.pi * min(max(change, 0.0), 1.0)))
    return q.exhaust_pressure[i] + (intake - q.exhaust_pressure[i]) * share


@njit(cache=True)
def inflow(
    mass: float, slug: NDArray[np.float64], fresh_enthalpy: float
) -> tuple[float, float]:
    """Enthalpy [J] and burned mass [kg] drawn in; what was pushed back into the port (`slug`) returns first."""
    if mass <= slug[0]:
        share = mass / slug[0] if slug[0] > 0.0 else 0.0
        return slug[1] * share, slug[2] * share
    return slug[1] + (mass - slug[0]) * fresh_enthalpy, slug[2]


@njit(cache=True)
def closed_step(
    gas: Gas, state: NDArray[np.float64], burned: float, volume0: float, volume1: float, sink: NDArray[np.float64]
) -> tuple[float, float]:
    """Temperature and pressure after a step with the valves shut.

    `state` is T, p, mass, energy, burned mass; `sink` is heat lost at the step's start, then conductance and
    conductance times wall temperature at its end, all times half the step's time.
    """
    mass, work = state[2], 0.5 * (volume1 - volume0)
    t, p = state[0], state[1] * volume0 / volume1
    for _ in range(_NEWTON_STEPS):
        u, r, cv = mixture(gas, t, p, burned / mass)
        p = mass * r * t / volume1
        wrong = mass * u - state[3] + work * (state[1] + p) + sink[0] + sink[1] * t - sink[2]
        change = wrong / (mass * cv + work * p / t + sink[1])
        t -= change
        if abs(change) < _NEWTON_TOLERANCE * t:
            break
    return t, mass * r * t / volume1


@njit(cache=True)
def open_step(
    gas: Gas,
    state: NDArray[np.float64],
    slug: NDArray[np.float64],
    intake: bool,
    fresh_enthalpy: float,
    p1: float,
    work: float,
    volume1: float,
    sink: NDArray[np.float64],
) -> tuple[float, float, float, float]:
    """Temperature, mass gained, its enthalpy and its burned mass over a step at a given pressure; see `closed_step`."""
    mass0, burned0 = state[2], state[4]
    share0 = burned0 / mass0
    u0, r0, _ = mixture(gas, state[0], state[1], share0)
    h0 = u0 + r0 * state[0]
    t, share = state[0], share0
    u, r, cv = mixture(gas, t, p1, share)
    gain, enthalpy, burned = 0.0, 0.0, 0.0
    for _ in range(4 * _NEWTON_STEPS):
        gain = p1 * volume1 / (r * t) - mass0
        through = 0.5 * (h0 + u + r * t)
        if intake and gain > 0.0:
            enthalpy, burned = inflow(gain, slug, fresh_enthalpy)
        else:
            enthalpy, burned = gain * through, gain * share0
        mass = mass0 + gain
        share = (burned0 + burned) / mass
        u, r, cv = mixture(gas, t, p1, share)
        wrong = mass * u - state[3] + work + sink[0] + sink[1] * t - sink[2] - enthalpy
        change = wrong / (mass * (cv + r) + sink[1])
        t -= change
        if abs(change) < _NEWTON_TOLERANCE * t:
            break
    return t, gain, enthalpy, burned


@njit(cache=True)
def one_cycle(
    q: Scalars,
    i: int,
    gas: Gas,
    per_cycle: int,
    state: NDArray[np.float64],
    slug: NDArray[np.float64],
    intake_pressure: float,
    fresh_enthalpy: float,
    trace: NDArray[np.float64],
    books: NDArray[np.float64],
) -> None:
    """Run 720 degrees from intake closing to intake closing; `state` and `slug` are advanced in place.

    `trace` (4, per_cycle) takes p, T, h and the burned mass fraction; `books` takes work, heat to crown, head and
    liner, enthalpy in (fresh), enthalpy out (exhaust), fresh mass, fraction burned at exhaust opening, residual
    fraction, gross work (valves shut).
    """
    step = 4.0 * np.pi / per_cycle
    first = int(round(q.intake_closing[i] / step))
    release_node = per_cycle + int(round(q.exhaust_opening[i] / step))
    change_over = 2.0 * np.pi
    half_time = 0.5 * step / (2.0 * np.pi * q.speed[i])
    area = 0.25 * np.pi * q.bore[i] ** 2
    head = area * q.head_area_ratio[i]
    walls = np.array([q.crown_temperature[i], q.head_temperature[i], q.liner_temperature[i]])
    areas0, areas1, sink = np.empty(3), np.empty(3), np.empty(3)
    books[:] = 0.0
    volume0, liner = geometry(q, i, first * step)
    areas0[:] = area, head, liner
    mass, start_burned = state[2], state[4]
    _, r, _ = mixture(gas, state[0], state[1], state[4] / mass)
    reference = np.array([state[0], state[1], volume0, state[1], volume0])
    books[8] = start_burned / mass
    h0 = coefficient(q, i, state[0 + 1], state[0], volume0, r, False, True, reference)
    burning, release = False, 0.0
    for k in range(first, first + per_cycle):
        column = k % per_cycle
        trace[0, column], trace[1, column], trace[2, column] = state[1], state[0], h0
        trace[3, column] = state[4] / state[2]
        closed = k < release_node
        angle = (k + 1) * step
        if not closed and k == release_node:
            release = state[1]
            books[7] = (state[4] - start_burned) / max(mass - start_burned, 1e-300)
        volume1, liner = geometry(q, i, angle)
        areas1[:] = area, head, liner
        half_change = 0.5 * (volume1 - volume0)
        p1, burned1 = state[1] * volume0 / volume1, state[4]
        if closed:
            progress = (angle - 4.0 * np.pi - q.combustion_start[i]) / q.combustion_duration[i]
            if progress > 0.0:
                if not burning:
                    reference[3], reference[4] = state[1], volume0
                burning = True
                x = -np.expm1(-q.wiebe_efficiency[i] * progress ** (q.wiebe_shape[i] + 1.0))
                burned1 = start_burned + x * (mass - start_burned)
        else:
            p1 = open_pressure(q, i, angle - 4.0 * np.pi, release, intake_pressure)
            burning = False
        valve_open = k + 1 > release_node and k + 1 < first + per_cycle
        sink[0] = half_time * h0 * (np.dot(areas0, np.full(3, state[0]) - walls))
        t1 = state[0]
        if closed:  # a first guess of the step's end, only to evaluate the film there
            sink[1], sink[2] = half_time * h0 * np.sum(areas1), half_time * h0 * np.dot(areas1, walls)
            t1, p1 = closed_step(gas, state, burned1, volume0, volume1, sink)
        h1 = coefficient(q, i, p1, t1, volume1, r, burning, not valve_open, reference)
        sink[1], sink[2] = half_time * h1 * np.sum(areas1), half_time * h1 * np.dot(areas1, walls)
        gain, enthalpy, burned_gain = 0.0, 0.0, burned1 - state[4]
        if closed:
            t1, p1 = closed_step(gas, state, burned1, volume0, volume1, sink)
            work = half_change * (state[1] + p1)
            books[9] += work
        else:
            intake = angle - 4.0 * np.pi > change_over - 0.5 * q.overlap_angle[i]
            work = half_change * (state[1] + p1)
            t1, gain, enthalpy, burned_gain = open_step(
                gas, state, slug, intake, fresh_enthalpy, p1, work, volume1, sink
            )
            if not intake:
                books[5] -= enthalpy
            elif gain > slug[0]:
                books[4] += (gain - slug[0]) * fresh_enthalpy
                books[6] += gain - slug[0]
                slug[:] = 0.0
            else:
                slug[0] -= gain
                slug[1] -= enthalpy
                slug[2] -= burned_gain
        for s in range(3):
            heat = half_time * (h0 * areas0[s] * (state[0] - walls[s]) + h1 * areas1[s] * (t1 - walls[s]))
            books[1 + s] += heat
            state[3] -= heat
        books[0] += work
        state[3] += enthalpy - work
        state[2] += gain
        state[4] += burned_gain
        state[0], state[1] = t1, p1
        _, r, _ = mixture(gas, t1, p1, state[4] / state[2])
        h0 = coefficient(q, i, p1, t1, volume1, r, burning, not valve_open, reference)
        volume0 = volume1
        areas0[:] = areas1


@njit(cache=True)
def settle(
    q: Scalars,
    i: int,
    gas: Gas,
    per_cycle: int,
    coarse: int,
    most: int,
    tolerance: float,
    trace: NDArray[np.float64],
    books: NDArray[np.float64],
    ends: NDArray[np.float64],
) -> None:
    """Repeat the cycle until it returns to its start and draws in the fresh mass wanted; see `one_cycle`.

    `ends` takes the intake pressure, the relative change over the last cycle, energy at the start and at the end of
    it, mass and temperature at intake closing.
    """
    t_in = q.intake_temperature[i]
    u, r, _ = mixture(gas, t_in, 1e5, 0.0)
    fresh_enthalpy = u + r * t_in - q.fuel_mass_fraction[i] * q.latent_heat[i]
    volume, _ = geometry(q, i, q.intake_closing[i])
    wanted = q.fresh_mass[i]
    t = t_in + 60.0
    residual = 0.5 * q.exhaust_pressure[i] * q.clearance[i] / (280.0 * 1000.0) * 2.0
    p_in = q.intake_pressure[i]
    if not np.isnan(wanted):
        p_in = (wanted + residual) * r * t / volume
    mass = p_in * volume / (r * t)
    state = np.array([t, p_in, mass, 0.0, min(residual, 0.5 * mass)])
    state[3] = mass * mixture(gas, t, p_in, state[4] / mass)[0]
    slug = np.zeros(3)
    rough = np.empty((4, per_cycle // coarse))
    for cycle in range(most):
        start, start_slug = state.copy(), slug.copy()
        fine = cycle >= 3 or coarse == 1
        if fine:
            one_cycle(q, i, gas, per_cycle, state, slug, p_in, fresh_enthalpy, trace, books)
        else:
            one_cycle(q, i, gas, per_cycle // coarse, state, slug, p_in, fresh_enthalpy, rough, books)
        moved = abs(state[0] / start[0] - 1.0) + abs(state[2] / start[2] - 1.0)
        ends[0] = p_in
        ends[2], ends[3] = start[3] + start_slug[1], state[3] + slug[1]
        ends[4], ends[5] = start[2], start[0]
        if not np.isnan(wanted):
            short = wanted / books[6] - 1.0
            moved += abs(short)
            p_in *= 1.0 + (1.0 - books[8]) * max(min(short, 1.0), -0.5)
        ends[1] = moved
        if np.isnan(moved) or (fine and moved < tolerance):
            break


@njit(cache=True, parallel=True)
def run_draws(
    q: Scalars,
    ratios: NDArray[np.float64],
    temperature: NDArray[np.float64],
    log_pressure: NDArray[np.float64],
    burned_energy: NDArray[np.float64],
    burned_constant: NDArray[np.float64],
    air_energy: NDArray[np.float64],
    fuel_energy: NDArray[np.float64],
    constants: NDArray[np.float64],
    usable: NDArray[np.bool_],
    per_cycle: int,
    coarse: int,
    most: int,
    tolerance: float,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Traces (4, per_cycle, n_draw), books (10, n_draw) and ends (6, n_draw) of all draws; NaN where not `usable`."""
    n = usable.size
    traces = np.full((n, 4, per_cycle), np.nan)
    books = np.full((n, 10), np.nan)
    ends = np.full((n, 6), np.nan)
    for i in prange(n):
        if usable[i]:
            gas = draw_gas(
                q.equivalence_ratio[i],
                q.fuel_mass_fraction[i],
                ratios,
                temperature,
                log_pressure,
                burned_energy,
                burned_constant,
                air_energy,
                fuel_energy,
                constants,
            )
            settle(q, i, gas, per_cycle, coarse, most, tolerance, traces[i], books[i], ends[i])
    return traces, books, ends
