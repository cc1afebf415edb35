"""March a stack of layers in time by TR-BDF2: compiled, many draws abreast.

Each draw is a column of the arrays and is computed by the same operations in the same order whatever stands
beside it, so a result does not depend on how draws are shared out. The kernels release the interpreter's lock.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.crown.arrays import Arrival, Counts, Floats, Flows, History, March, Stack, new_flows, new_work
from screening.physics.crown.stage import MOST_ITERATIONS, TOLERANCE, film_flux, solve_stage
from screening.physics.crown.tr_bdf2 import DIAGONAL, GAMMA, Weights, before_end, before_stage, to_stage, weights_at

FINE_TOLERANCE = TOLERANCE * 1e-5
BISECTIONS = 40


class State(NamedTuple):
    """A block of draws at one moment."""

    temperature: Floats  # (n_cell + 2, n_draw) faces and cells [K]
    heat: Floats  # (n_cell, n_draw) heat content above the start [J/m2]
    flow: Flows  # [W/m2]
    total: Flows  # [J/m2]


class Step(NamedTuple):
    """A block of draws at the beginning, the stage and the end of a step."""

    old: State
    middle: State
    new: State


@njit(cache=True, nogil=True, error_model="numpy")
def _new_state(n_cell: int, count: int) -> State:
    return State(np.empty((n_cell + 2, count)), np.zeros((n_cell, count)), new_flows(count), new_flows(count))


@njit(cache=True, nogil=True, error_model="numpy")
def _balance_face(film: NDArray[np.void], link: float, d: int, begin: float) -> float:
    """Return the temperature of a face in balance between its film and a cell at `begin`."""
    face = begin
    for _ in range(MOST_ITERATIONS):
        flux, rate = film_flux(film, d, face)
        change = (flux - link * (face - begin)) / (link - rate)
        face += change
        if not abs(change) > FINE_TOLERANCE:
            break
    return face


@njit(cache=True, nogil=True, error_model="numpy")
def _start(stack: Stack, temperature: Floats, rate: Floats) -> None:
    """Fill the start: cells at the initial temperature, faces in balance with their films; and the heating."""
    n_cell = stack.layer.size
    for d in range(temperature.shape[1]):
        begin = stack.initial[d]
        temperature[:, d] = begin
        temperature[0, d] = _balance_face(stack.film, stack.link[0, d], d, begin)
        temperature[n_cell + 1, d] = _balance_face(stack.back, stack.link[n_cell, d], d, begin)
        for i in range(n_cell):
            ring = stack.ring[i, d] * (begin - stack.ring_temperature[stack.layer[i], d])
            come = stack.link[i, d] * (temperature[i, d] - temperature[i + 1, d])
            rate[i, d] = come - stack.link[i + 1, d] * (temperature[i + 1, d] - temperature[i + 2, d]) - ring


@njit(cache=True, nogil=True, error_model="numpy")
def _fill_flows(stack: Stack, temperature: Floats, flow: Flows) -> None:
    """Fill the powers through gas face and face beneath and to the rings."""
    n_cell, link = stack.layer.size, stack.link
    into, beneath, to_ring = flow.into, flow.beneath, flow.ring
    for d in range(temperature.shape[1]):
        into[d] = link[0, d] * (temperature[0, d] - temperature[1, d])
        beneath[d] = link[n_cell, d] * (temperature[n_cell, d] - temperature[n_cell + 1, d])
        to_ring[d] = 0.0
    for i in range(n_cell):
        row, ring, bore = temperature[i + 1], stack.ring[i], stack.ring_temperature[stack.layer[i]]
        for d in range(temperature.shape[1]):
            to_ring[d] += ring[d] * (row[d] - bore[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _write_temperature(stack: Stack, columns: Counts, temperature: Floats, out: Floats) -> None:
    """Fill `out` (n_depth, n_draw) with faces, cells and both sides of each interface."""
    n_cell = stack.layer.size
    node = 0
    for i in range(n_cell + 2):
        for d in range(temperature.shape[1]):
            out[node, columns[d]] = temperature[i, d]
        node += 1
        if 0 < i < n_cell and stack.layer[i] != stack.layer[i - 1]:
            for d in range(temperature.shape[1]):
                flux = stack.link[i, d] * (temperature[i, d] - temperature[i + 1, d])
                out[node, columns[d]] = temperature[i, d] - flux * stack.half[i - 1, d]
                out[node + 1, columns[d]] = temperature[i + 1, d] + flux * stack.half[i, d]
            node += 2


@njit(cache=True, nogil=True, error_model="numpy")
def _write_total(columns: Counts, k: int, weights: Weights, step: Step, history: History) -> None:
    """Write down the energies at one look; none has left with the polymer."""
    a, b, c = weights
    old, middle, new, energy = step.old.total, step.middle.total, step.new.total, history.energy
    for d in range(columns.size):
        column = columns[d]
        energy.into[k, column] = a * old.into[d] + b * middle.into[d] + c * new.into[d]
        energy.beneath[k, column] = a * old.beneath[d] + b * middle.beneath[d] + c * new.beneath[d]
        energy.ring[k, column] = a * old.ring[d] + b * middle.ring[d] + c * new.ring[d]
        energy.lost[k, column] = 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def _write(stack: Stack, columns: Counts, k: int, weights: Weights, step: Step, history: History) -> None:
    """Write down one look: the state blended from the beginning, the stage and the end of the step."""
    a, b, c = weights
    n_cell = stack.layer.size
    blend = a * step.old.temperature + b * step.middle.temperature + c * step.new.temperature
    _write_temperature(stack, columns, blend, history.temperature[k])
    _write_total(columns, k, weights, step, history)
    stored = np.zeros(blend.shape[1])
    old, middle, new = step.old.heat, step.middle.heat, step.new.heat
    for i in range(n_cell):
        for d in range(blend.shape[1]):
            stored[d] += a * old[i, d] + b * middle[i, d] + c * new[i, d]
    for d in range(blend.shape[1]):
        history.face[k, columns[d]] = blend[0, d]
        history.back[k, columns[d]] = blend[n_cell + 1, d]
        history.energy.stored[k, columns[d]] = stored[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _share_at_onset(step: Step, d: int, onset: float) -> float:
    """Return at what share of its step a face that gets to its onset is there."""
    old, middle, new = step.old.temperature[0, d], step.middle.temperature[0, d], step.new.temperature[0, d]
    if not old < onset:
        return 0.0
    early, late = 0.0, 1.0
    for _ in range(BISECTIONS):
        a, b, c = weights_at(0.5 * (early + late))
        if a * old + b * middle + c * new < onset:
            early = 0.5 * (early + late)
        else:
            late = 0.5 * (early + late)
    return late


@njit(cache=True, nogil=True, error_model="numpy")
def _keep_arrival(arrival: Arrival, column: int, weights: Weights, step: Step, d: int) -> None:
    """Keep the state of one draw at one moment of its step."""
    a, b, c = weights
    old, middle, new = step.old, step.middle, step.new
    for i in range(old.temperature.shape[0]):
        arrival.temperature[i, column] = (
            a * old.temperature[i, d] + b * middle.temperature[i, d] + c * new.temperature[i, d]
        )
    for i in range(old.heat.shape[0]):
        arrival.heat[i, column] = a * old.heat[i, d] + b * middle.heat[i, d] + c * new.heat[i, d]
    for i in range(3):
        arrival.total[i][column] = a * old.total[i][d] + b * middle.total[i][d] + c * new.total[i][d]


@njit(cache=True, nogil=True, error_model="numpy")
def _watch(arrival: Arrival, columns: Counts, begin: float, length: float, step: Step) -> int:
    """Keep the state in which a gas face first gets to its onset; return how many draws have not yet got there."""
    awaited = 0
    for d in range(columns.size):
        column, onset = columns[d], arrival.onset[columns[d]]
        if arrival.time[column] < np.inf:
            continue
        if not step.new.temperature[0, d] >= onset:
            awaited += 1
            continue
        share = _share_at_onset(step, d, onset)
        arrival.time[column] = begin + share * length
        _keep_arrival(arrival, column, weights_at(share), step, d)
    return awaited


@njit(cache=True, nogil=True, error_model="numpy")
def _add_up(length: float, step: Step) -> None:
    """Fill the energies that have flowed by the stage and by the end of the step."""
    for i in range(3):
        old, middle, new = step.old.flow[i], step.middle.flow[i], step.new.flow[i]
        begin, half, end = step.old.total[i], step.middle.total[i], step.new.total[i]
        for d in range(old.size):
            half[d] = before_stage(begin[d], old[d] + middle[d], length)
            end[d] = before_end(begin[d], old[d], middle[d], length) + DIAGONAL * length * new[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _know_stage(length: float, heat: Floats, rate: Floats, known: Floats) -> None:
    """Fill what the first stage starts from."""
    for i in range(heat.shape[0]):
        for d in range(heat.shape[1]):
            known[i, d] = before_stage(heat[i, d], rate[i, d], length)


@njit(cache=True, nogil=True, error_model="numpy")
def _know_end(length: float, heat: Floats, rate: Floats, middle: Floats, known: Floats) -> None:
    """Fill what the second stage starts from; `known` holds what the first one did."""
    inverse = 1.0 / (DIAGONAL * length)
    for i in range(heat.shape[0]):
        for d in range(heat.shape[1]):
            known[i, d] = before_end(heat[i, d], rate[i, d], inverse * (middle[i, d] - known[i, d]), length)


@njit(cache=True, nogil=True, error_model="numpy")
def _extrapolate(old: Floats, past: Floats, factor: float, out: Floats) -> None:
    """Fill old + factor (old - past): the guess from which Newton starts."""
    for i in range(old.shape[0]):
        for d in range(old.shape[1]):
            out[i, d] = old[i, d] + factor * (old[i, d] - past[i, d])


@njit(cache=True, nogil=True, error_model="numpy")
def heating_left(stack: Stack, onset: Floats) -> Floats:
    """Return the flux from the gas into a face at its onset less the flux that the settled crown then passes on [W/m2], `(n_draw,)`.

    The more, the sooner a draw gets to its onset; below 0 it does not. Rings and what lies in between are left out: it
    only serves to put like with like.
    """
    left = np.empty(onset.size)
    for d in range(onset.size):
        resistance = 0.0
        for i in range(stack.link.shape[0]):
            resistance += 1.0 / stack.link[i, d]
        flux, _ = film_flux(stack.film, d, onset[d])
        back = stack.back[d]
        left[d] = flux - (onset[d] - back.temperature) / (resistance + 1.0 / back.coefficient)
    return left


@njit(cache=True, nogil=True, error_model="numpy")
def march_block(
    stack: Stack, march: March, straight: bool, columns: Counts, history: History, arrival: Arrival
) -> None:
    """March a block of draws through all steps; write their history into their `columns`.

    Stops when every draw's face has come to its onset: what is left of the history is then another kernel's.
    """
    n_cell, count = stack.layer.size, stack.initial.size
    old, middle, new = _new_state(n_cell, count), _new_state(n_cell, count), _new_state(n_cell, count)
    known, rate, work = np.empty((n_cell, count)), np.empty((n_cell, count)), new_work(n_cell, count)
    _start(stack, old.temperature, rate)
    middle.temperature[:] = old.temperature
    _fill_flows(stack, old.temperature, old.flow)
    before, now = 0.0, 0.0
    for n in range(march.step.size):
        length = march.step[n]
        inverse = 1.0 / (DIAGONAL * length)
        on = 0.0 if before == 0.0 else to_stage(length, before)
        _extrapolate(old.temperature, middle.temperature, on, middle.temperature)
        _know_stage(length, old.heat, rate, known)
        solve_stage(stack, inverse, straight, middle.temperature, known, middle.heat, work)
        _know_end(length, old.heat, rate, middle.heat, known)
        _extrapolate(old.temperature, middle.temperature, -1.0 / GAMMA, new.temperature)
        solve_stage(stack, inverse, straight, new.temperature, known, new.heat, work)
        _fill_flows(stack, middle.temperature, middle.flow)
        _fill_flows(stack, new.temperature, new.flow)
        step = Step(old, middle, new)
        _add_up(length, step)
        for k in range(march.first[n], march.first[n + 1]):
            _write(stack, columns, k, weights_at(march.share[k]), step, history)
        if _watch(arrival, columns, now, length, step) == 0:
            break
        for i in range(n_cell):
            for d in range(count):
                rate[i, d] = inverse * (new.heat[i, d] - known[i, d])
        old, new = new, old
        before = length
        now += length


@njit(cache=True, nogil=True, error_model="numpy")
def steady_block(stack: Stack, columns: Counts, out: Floats, flow: Flows) -> None:
    """Solve for the state in which nothing changes, of a block of draws; write it into their `columns`."""
    n_cell, count = stack.layer.size, stack.initial.size
    temperature = np.empty((n_cell + 2, count))
    for d in range(count):
        temperature[:, d] = stack.initial[d]
    known, heat = np.zeros((n_cell, count)), np.zeros((n_cell, count))
    solve_stage(stack, 0.0, False, temperature, known, heat, new_work(n_cell, count))
    _write_temperature(stack, columns, temperature, out)
    flows = new_flows(count)
    _fill_flows(stack, temperature, flows)
    for i in range(3):
        for d in range(count):
            flow[i][columns[d]] = flows[i][d]
