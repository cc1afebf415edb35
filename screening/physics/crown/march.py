"""March a stack of layers in time by TR-BDF2: compiled, many draws abreast.

Each draw is a column of the arrays and is computed by the same operations in the same order whatever stands
beside it, so a result does not depend on how draws are shared out. The kernels release the interpreter's lock.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from screening.physics.crown.arrays import DIAGONAL, GAMMA, WEIGHT, new_work
from screening.physics.crown.stage import MOST_ITERATIONS, TOLERANCE, film_flux, solve_stage

FINE_TOLERANCE = TOLERANCE * 1e-5
BISECTIONS = 40


@njit(cache=True, nogil=True, error_model="numpy")
def blend_weights(share):  # type: ignore[no-untyped-def]
    """Return what the beginning, the stage and the end of a step weigh at `share` of it, on a parabola."""
    early = (share - GAMMA) * (share - 1.0) / GAMMA
    middle = share * (share - 1.0) / (GAMMA * (GAMMA - 1.0))
    return early, middle, share * (share - GAMMA) / (1.0 - GAMMA)


@njit(cache=True, nogil=True, error_model="numpy")
def _balance_face(film, link, d, begin):  # type: ignore[no-untyped-def]
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
def _start(stack, temperature, rate):  # type: ignore[no-untyped-def]
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
def _flows(stack, temperature, flow):  # type: ignore[no-untyped-def]
    """Fill the powers in through the gas face, out beneath and to the rings [W/m2]."""
    n_cell = stack.layer.size
    for d in range(temperature.shape[1]):
        flow[0, d] = stack.link[0, d] * (temperature[0, d] - temperature[1, d])
        flow[1, d] = stack.link[n_cell, d] * (temperature[n_cell, d] - temperature[n_cell + 1, d])
        flow[2, d] = 0.0
    for i in range(n_cell):
        row, ring, bore = temperature[i + 1], stack.ring[i], stack.ring_temperature[stack.layer[i]]
        for d in range(temperature.shape[1]):
            flow[2, d] += ring[d] * (row[d] - bore[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _write_temperature(stack, columns, temperature, out):  # type: ignore[no-untyped-def]
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
def _write(stack, columns, k, weights, states, heats, totals, history):  # type: ignore[no-untyped-def]
    """Write down one look: the state blended from the beginning, the stage and the end of the step."""
    a, b, c = weights
    n_cell = stack.layer.size
    blend = a * states[0] + b * states[1] + c * states[2]
    _write_temperature(stack, columns, blend, history.temperature[k])
    energy = history.energy[k]
    for d in range(blend.shape[1]):
        history.faces[k, 0, columns[d]] = blend[0, d]
        history.faces[k, 1, columns[d]] = blend[n_cell + 1, d]
        for i in range(3):
            energy[i, columns[d]] = a * totals[0][i, d] + b * totals[1][i, d] + c * totals[2][i, d]
        energy[4, columns[d]] = 0.0
    stored = np.zeros(blend.shape[1])
    for i in range(n_cell):
        for d in range(blend.shape[1]):
            stored[d] += a * heats[0][i, d] + b * heats[1][i, d] + c * heats[2][i, d]
    for d in range(blend.shape[1]):
        energy[3, columns[d]] = stored[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _watch(arrival, columns, begin, step, states, heats, totals):  # type: ignore[no-untyped-def]
    """Keep the state in which a gas face first gets to its onset; return how many draws have not yet got there."""
    awaited = 0
    old, middle, new = states
    for d in range(old.shape[1]):
        column, onset = columns[d], arrival.onset[columns[d]]
        if arrival.time[column] < np.inf:
            continue
        if not new[0, d] >= onset:
            awaited += 1
            continue
        early, late = 0.0, 1.0
        for _ in range(BISECTIONS if old[0, d] < onset else 0):
            a, b, c = blend_weights(0.5 * (early + late))
            if a * old[0, d] + b * middle[0, d] + c * new[0, d] < onset:
                early = 0.5 * (early + late)
            else:
                late = 0.5 * (early + late)
        share = late if old[0, d] < onset else 0.0
        a, b, c = blend_weights(share)
        arrival.time[column] = begin + share * step
        for i in range(old.shape[0]):
            arrival.temperature[i, column] = a * old[i, d] + b * middle[i, d] + c * new[i, d]
        for i in range(old.shape[0] - 2):
            arrival.heat[i, column] = a * heats[0][i, d] + b * heats[1][i, d] + c * heats[2][i, d]
        for i in range(3):
            arrival.total[i, column] = a * totals[0][i, d] + b * totals[1][i, d] + c * totals[2][i, d]
    return awaited


@njit(cache=True, nogil=True, error_model="numpy")
def _add_up(step, flows, totals):  # type: ignore[no-untyped-def]
    """Fill the energies that have flowed by the stage and by the end of the step."""
    for i in range(3):
        old, middle, new = flows[0][i], flows[1][i], flows[2][i]
        begin, half, end = totals[0][i], totals[1][i], totals[2][i]
        for d in range(old.size):
            half[d] = begin[d] + DIAGONAL * step * (old[d] + middle[d])
            end[d] = begin[d] + WEIGHT * step * (old[d] + middle[d]) + DIAGONAL * step * new[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _know_stage(step, heat, rate, known):  # type: ignore[no-untyped-def]
    """Fill what the first stage, a trapezoidal rule, starts from."""
    for i in range(heat.shape[0]):
        for d in range(heat.shape[1]):
            known[i, d] = heat[i, d] + DIAGONAL * step * rate[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _know_end(step, inverse, heat, rate, middle, known):  # type: ignore[no-untyped-def]
    """Fill what the second stage, a backward difference, starts from; `known` holds what the first one did."""
    for i in range(heat.shape[0]):
        for d in range(heat.shape[1]):
            known[i, d] = heat[i, d] + WEIGHT * step * (rate[i, d] + inverse * (middle[i, d] - known[i, d]))


@njit(cache=True, nogil=True, error_model="numpy")
def _extrapolate(old, past, factor, out):  # type: ignore[no-untyped-def]
    """Fill old + factor (old - past): the guess from which Newton starts."""
    for i in range(old.shape[0]):
        for d in range(old.shape[1]):
            out[i, d] = old[i, d] + factor * (old[i, d] - past[i, d])


@njit(cache=True, nogil=True, error_model="numpy")
def heating_left(stack, onset):  # type: ignore[no-untyped-def]
    """Return what the gas gives a face at its onset, less what the crown then passes on when settled [W/m2], `(n_draw,)`.

    The more, the sooner a draw gets to its onset; below 0 it does not. Rings and what lies in between are left out: it
    only serves to put like with like.
    """
    left = np.empty(onset.size)
    for d in range(onset.size):
        resistance = 0.0
        for i in range(stack.link.shape[0]):
            resistance += 1.0 / stack.link[i, d]
        flux, _ = film_flux(stack.film, d, onset[d])
        left[d] = flux - (onset[d] - stack.back[1, d]) / (resistance + 1.0 / stack.back[0, d])
    return left


@njit(cache=True, nogil=True, error_model="numpy")
def march_block(stack, march, straight, columns, history, arrival):  # type: ignore[no-untyped-def]
    """March a block of draws through all steps; write their history into their `columns`.

    Stops when every draw's face has come to its onset: what is left of the history is then another kernel's.
    """
    n_cell, count = stack.layer.size, stack.initial.size
    shape, faced, flows = (n_cell, count), (n_cell + 2, count), (3, count)
    old, middle, new = np.empty(faced), np.empty(faced), np.empty(faced)
    old_heat, middle_heat, new_heat = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    known, rate = np.empty(shape), np.empty(shape)
    old_flow, middle_flow, new_flow = np.empty(flows), np.empty(flows), np.empty(flows)
    total, half_total, new_total = np.zeros(flows), np.zeros(flows), np.zeros(flows)
    work = new_work(n_cell, count)
    _start(stack, old, rate)
    middle[:] = old
    _flows(stack, old, old_flow)
    before, now = 0.0, 0.0
    for n in range(march.step.size):
        step = march.step[n]
        inverse = 1.0 / (DIAGONAL * step)
        _extrapolate(old, middle, 0.0 if before == 0.0 else GAMMA * step / ((1.0 - GAMMA) * before), middle)
        _know_stage(step, old_heat, rate, known)
        solve_stage(stack, inverse, straight, middle, known, middle_heat, work)
        _know_end(step, inverse, old_heat, rate, middle_heat, known)
        _extrapolate(old, middle, -1.0 / GAMMA, new)
        solve_stage(stack, inverse, straight, new, known, new_heat, work)
        _flows(stack, middle, middle_flow)
        _flows(stack, new, new_flow)
        totals = (total, half_total, new_total)
        _add_up(step, (old_flow, middle_flow, new_flow), totals)
        states, heats = (old, middle, new), (old_heat, middle_heat, new_heat)
        for k in range(march.first[n], march.first[n + 1]):
            _write(stack, columns, k, blend_weights(march.share[k]), states, heats, totals, history)
        if _watch(arrival, columns, now, step, states, heats, totals) == 0:
            break
        for i in range(n_cell):
            for d in range(count):
                rate[i, d] = inverse * (new_heat[i, d] - known[i, d])
        old, new = new, old
        old_heat, new_heat = new_heat, old_heat
        old_flow, new_flow = new_flow, old_flow
        total, new_total = new_total, total
        before = step
        now += step


@njit(cache=True, nogil=True, error_model="numpy")
def steady_block(stack, columns, out, flow):  # type: ignore[no-untyped-def]
    """Find the state in which nothing changes, of a block of draws; write it into their `columns`."""
    n_cell, count = stack.layer.size, stack.initial.size
    temperature = np.empty((n_cell + 2, count))
    for d in range(count):
        temperature[:, d] = stack.initial[d]
    known, heat = np.zeros((n_cell, count)), np.zeros((n_cell, count))
    solve_stage(stack, 0.0, False, temperature, known, heat, new_work(n_cell, count))
    _write_temperature(stack, columns, temperature, out)
    flows = np.empty((3, count))
    _flows(stack, temperature, flows)
    for i in range(3):
        for d in range(count):
            flow[i, columns[d]] = flows[i, d]
