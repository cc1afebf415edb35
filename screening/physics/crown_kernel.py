"""March a stack of layers in time by TR-BDF2: compiled, many draws abreast.

Each draw is a column of the arrays and is computed by the same operations in the same order whatever stands
beside it, so a result does not depend on how draws are shared out. The kernels release the interpreter's lock.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit
from scipy import constants

SIGMA = constants.Stefan_Boltzmann
GAMMA = 2.0 - math.sqrt(2.0)
"""Where in a step the trapezoidal stage ends; with this value both stages have the same matrix."""
DIAGONAL = GAMMA / 2.0
WEIGHT = math.sqrt(2.0) / 4.0
TOLERANCE = 1e-3
"""Newton stops after a correction below this [K]; as it converges squarely, the error left is far smaller."""
MOST_ITERATIONS = 80


class Stack(NamedTuple):
    """A stack cut into cells, as plain arrays; the last axis is the draw, power and heat are per face area."""

    layer: np.ndarray  # (n_cell,) the layer a cell lies in
    width: np.ndarray  # (n_cell, n_draw) [m]
    link: np.ndarray  # (n_cell + 1, n_draw) conductance from centre to centre, ends: to the face [W/(m2 K)]
    half: np.ndarray  # (n_cell, n_draw) resistance of half a cell [m2 K/W]
    mass: np.ndarray  # (n_cell, n_draw) [kg/m2]
    capacity: np.ndarray  # (n_layer, n_draw) heat capacity up to the first knot [J/(kg K)]
    knot: np.ndarray  # (n_layer, n_segment, n_draw) where a segment of the heat capacity starts [K]
    span: np.ndarray  # (n_layer, n_segment, n_draw) how long it is [K]
    slope: np.ndarray  # (n_layer, n_segment, n_draw) [J/(kg K2)]
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


class Watch(NamedTuple):
    """Looks out for the gas face passing a temperature; keeps the state at the beginning of the step in which it does."""

    onset: np.ndarray  # (n_draw,) [K]
    step: np.ndarray  # (n_draw,) that step, -1 before it comes
    temperature: np.ndarray  # (n_cell + 2, n_draw) [K]
    total: np.ndarray  # (3, n_draw) energies so far: in, out beneath, to the rings [J/m2]

    @classmethod
    def out(cls, onset: np.ndarray, n_cell: int) -> Watch:
        """Return a fresh watch for as many draws as `onset` has."""
        count = onset.size
        return cls(onset, np.full(count, -1), np.empty((n_cell + 2, count)), np.empty((3, count)))


@njit(cache=True, nogil=True, error_model="numpy")
def _keep_watch(watch, n, old, new, total):  # type: ignore[no-untyped-def]
    """Note the draws whose gas face passes the onset in step `n`."""
    for d in range(watch.onset.size):
        if watch.step[d] < 0 and new[0, d] > watch.onset[d]:
            watch.step[d] = n
            watch.temperature[:, d] = old[:, d]
            watch.total[:, d] = total[:, d]


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def film_flux(film, d, surface):  # type: ignore[no-untyped-def]
    """Return the flux from a film into a face at `surface`, and its slope."""
    apart = surface - film[3, d]
    h = film[0, d] + film[4, d] * apart
    drive = film[1, d] + film[2, d] * apart - surface
    cube = SIGMA * film[5, d] * surface * surface * surface
    flux = h * drive - cube * surface + SIGMA * film[5, d] * film[6, d] ** 4
    return flux, h * (film[2, d] - 1.0) + film[4, d] * drive - 4.0 * cube


@njit(cache=True, nogil=True, error_model="numpy")
def enthalpy(stack, temperature, heat, slope):  # type: ignore[no-untyped-def]
    """Fill heat content above the start [J/m2] and its slope [J/(m2 K)] of each cell, exact for linear pieces."""
    n_cell = stack.layer.size
    count = temperature.shape[1]
    for i in range(n_cell):
        own, row, content, gain = stack.layer[i], temperature[i + 1], heat[i], slope[i]
        mass, base = stack.mass[i], stack.capacity[own]
        for d in range(count):
            content[d] = base[d] * (row[d] - stack.initial[d])
            gain[d] = base[d]
        for j in range(stack.knot.shape[1]):
            knot, span, rise = stack.knot[own, j], stack.span[own, j], stack.slope[own, j]
            for d in range(count):
                above = row[d] - knot[d]
                inside = min(max(above, 0.0), span[d])
                content[d] += rise[d] * inside * (max(above, 0.0) - 0.5 * inside)
                gain[d] += rise[d] * inside
        for d in range(count):
            content[d] *= mass[d]
            gain[d] *= mass[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _residual(stack, inverse, temperature, known, heat, slope, right, diagonal):  # type: ignore[no-untyped-def]
    """Fill the right-hand side and the diagonal of one Newton correction."""
    n_cell = stack.layer.size
    count = temperature.shape[1]
    first, second = temperature[0], temperature[1]
    link = stack.link[0]
    for d in range(count):
        flux, rate = film_flux(stack.film, d, first[d])
        right[0, d] = flux - link[d] * (first[d] - second[d])
        diagonal[0, d] = link[d] - rate
    for i in range(n_cell):
        above, here, below = temperature[i], temperature[i + 1], temperature[i + 2]
        upper, lower, ring = stack.link[i], stack.link[i + 1], stack.ring[i]
        bore = stack.ring_temperature[stack.layer[i]]
        content, gain, kept = heat[i], slope[i], known[i]
        out, main = right[i + 1], diagonal[i + 1]
        for d in range(count):
            gone = lower[d] * (here[d] - below[d]) + ring[d] * (here[d] - bore[d])
            come = upper[d] * (above[d] - here[d])
            out[d] = come - gone - inverse * (content[d] - kept[d])
            main[d] = upper[d] + lower[d] + ring[d] + inverse * gain[d]
    last, before, link = temperature[n_cell + 1], temperature[n_cell], stack.link[n_cell]
    for d in range(count):
        flux, rate = film_flux(stack.back, d, last[d])
        right[n_cell + 1, d] = flux - link[d] * (last[d] - before[d])
        diagonal[n_cell + 1, d] = link[d] - rate


@njit(cache=True, nogil=True, error_model="numpy")
def _factor(stack, diagonal, pivot):  # type: ignore[no-untyped-def]
    """Fill the inverse pivots of the symmetric tridiagonal matrix; off the diagonal stand minus the links."""
    count = diagonal.shape[1]
    for d in range(count):
        pivot[0, d] = 1.0 / diagonal[0, d]
    for i in range(1, diagonal.shape[0]):
        link, above, main, out = stack.link[i - 1], pivot[i - 1], diagonal[i], pivot[i]
        for d in range(count):
            out[d] = 1.0 / (main[d] - link[d] * link[d] * above[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _solve(stack, pivot, right):  # type: ignore[no-untyped-def]
    """Replace `right` by the solution of the factored system."""
    count = right.shape[1]
    size = right.shape[0]
    for i in range(1, size):
        link, above, before, here = stack.link[i - 1], pivot[i - 1], right[i - 1], right[i]
        for d in range(count):
            here[d] += link[d] * above[d] * before[d]
    for d in range(count):
        right[size - 1, d] *= pivot[size - 1, d]
    for i in range(size - 2, -1, -1):
        link, own, after, here = stack.link[i], pivot[i], right[i + 1], right[i]
        for d in range(count):
            here[d] = (here[d] + link[d] * after[d]) * own[d]


@njit(cache=True, nogil=True, error_model="numpy")
def solve_stage(stack, inverse, straight, reuse, temperature, known, heat, work):  # type: ignore[no-untyped-def]
    """Solve inverse (H(T) - known) = net heating(T) for all nodes by Newton, from the guess in `temperature`."""
    slope, right, diagonal, pivot, control = work
    count = temperature.shape[1]
    control[0, :] = 1.0  # 1 while the draw still moves
    control[1, :] = np.inf  # the correction before
    for iteration in range(MOST_ITERATIONS):
        if not (straight and reuse):
            enthalpy(stack, temperature, heat, slope)
        elif iteration == 0:
            for i in range(stack.layer.size):
                row, content, gain = temperature[i + 1], heat[i], slope[i]
                for d in range(count):
                    content[d] = gain[d] * (row[d] - stack.initial[d])
        _residual(stack, inverse, temperature, known, heat, slope, right, diagonal)
        if not reuse:
            _factor(stack, diagonal, pivot)
        _solve(stack, pivot, right)
        if straight:
            for i in range(temperature.shape[0]):
                row, change = temperature[i], right[i]
                for d in range(count):
                    row[d] += change[d]
            break
        if _correct(temperature, right, control) == 0:
            break
    if straight:
        for i in range(stack.layer.size):
            row, content, gain = temperature[i + 1], heat[i], slope[i]
            for d in range(count):
                content[d] = gain[d] * (row[d] - stack.initial[d])
    else:
        enthalpy(stack, temperature, heat, slope)


@njit(cache=True, nogil=True, error_model="numpy")
def _correct(temperature, change, control):  # type: ignore[no-untyped-def]
    """Add the correction to draws that still move, halved where it does not shrink; return how many still move."""
    count = temperature.shape[1]
    moving, before = control[0], control[1]
    largest, share = control[2], control[3]
    largest[:] = 0.0
    for i in range(temperature.shape[0]):
        row = change[i]
        for d in range(count):
            largest[d] = max(largest[d], abs(row[d]))
    for d in range(count):
        # a corner of the heat capacity can send Newton to and fro: then go half way
        share[d] = moving[d] * (0.5 if largest[d] > 0.5 * before[d] else 1.0)
        before[d] = largest[d]
    for i in range(temperature.shape[0]):
        row, delta = temperature[i], change[i]
        for d in range(count):
            if share[d] > 0.0:
                row[d] += share[d] * delta[d]
    left = 0
    for d in range(count):
        if not largest[d] > TOLERANCE:
            moving[d] = 0.0
        left += moving[d] > 0.0
    return left


@njit(cache=True, nogil=True, error_model="numpy")
def _start(stack, temperature):  # type: ignore[no-untyped-def]
    """Fill the start: every cell at the initial temperature, the faces in balance with their films."""
    n_cell = stack.layer.size
    for d in range(temperature.shape[1]):
        begin = stack.initial[d]
        temperature[:, d] = begin
        for _ in range(MOST_ITERATIONS):
            flux, rate = film_flux(stack.film, d, temperature[0, d])
            link = stack.link[0, d]
            change = (flux - link * (temperature[0, d] - begin)) / (link - rate)
            temperature[0, d] += change
            if not abs(change) > TOLERANCE * 1e-3:
                break
        for _ in range(MOST_ITERATIONS):
            flux, rate = film_flux(stack.back, d, temperature[n_cell + 1, d])
            link = stack.link[n_cell, d]
            change = (flux - link * (temperature[n_cell + 1, d] - begin)) / (link - rate)
            temperature[n_cell + 1, d] += change
            if not abs(change) > TOLERANCE * 1e-3:
                break


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
def write_temperature(stack, low, temperature, out):  # type: ignore[no-untyped-def]
    """Fill `out` (n_depth, n_draw) with faces, cells and both sides of each interface."""
    n_cell = stack.layer.size
    node = 0
    for i in range(n_cell + 2):
        for d in range(temperature.shape[1]):
            out[node, low + d] = temperature[i, d]
        node += 1
        if 0 < i < n_cell and stack.layer[i] != stack.layer[i - 1]:
            for d in range(temperature.shape[1]):
                flux = stack.link[i, d] * (temperature[i, d] - temperature[i + 1, d])
                out[node, low + d] = temperature[i, d] - flux * stack.half[i - 1, d]
                out[node + 1, low + d] = temperature[i + 1, d] + flux * stack.half[i, d]
            node += 2


@njit(cache=True, nogil=True, error_model="numpy")
def march_block(stack, march, straight, low, history, watch):  # type: ignore[no-untyped-def]
    """March a block of draws through all steps; write their history from the column `low` on."""
    n_cell = stack.layer.size
    count = stack.initial.size
    shape, faced, flows = (n_cell, count), (n_cell + 2, count), (3, count)
    old, middle, new = np.empty(faced), np.empty(faced), np.empty(faced)
    old_heat, middle_heat, new_heat, known = (
        np.empty(shape),
        np.empty(shape),
        np.empty(shape),
        np.empty(shape),
    )
    old_rate, middle_rate = np.empty(shape), np.empty(shape)
    old_flow, middle_flow, new_flow = np.empty(flows), np.empty(flows), np.empty(flows)
    total, half_total, new_total = np.zeros(flows), np.zeros(flows), np.zeros(flows)
    work = (np.empty(shape), np.empty(faced), np.empty(faced), np.empty(faced), np.empty((4, count)))
    _start(stack, old)
    middle[:] = old
    _flows(stack, old, old_flow)
    enthalpy(stack, old, old_heat, work[0])
    begin_heat = old_heat.copy()
    for i in range(n_cell):
        for d in range(count):
            ring = stack.ring[i, d] * (old[i + 1, d] - stack.ring_temperature[stack.layer[i], d])
            come = stack.link[i, d] * (old[i, d] - old[i + 1, d])
            old_rate[i, d] = come - stack.link[i + 1, d] * (old[i + 1, d] - old[i + 2, d]) - ring
    before = 0.0
    for n in range(march.step.size):
        step = march.step[n]
        inverse = 1.0 / (DIAGONAL * step)
        ahead = 0.0 if before == 0.0 else GAMMA * step / ((1.0 - GAMMA) * before)
        for i in range(n_cell + 2):
            for d in range(count):
                middle[i, d] = old[i, d] + ahead * (old[i, d] - middle[i, d])
        for i in range(n_cell):
            for d in range(count):
                known[i, d] = old_heat[i, d] + DIAGONAL * step * old_rate[i, d]
        solve_stage(stack, inverse, straight, False, middle, known, middle_heat, work)
        for i in range(n_cell):
            for d in range(count):
                middle_rate[i, d] = inverse * (middle_heat[i, d] - known[i, d])
                known[i, d] = old_heat[i, d] + WEIGHT * step * (old_rate[i, d] + middle_rate[i, d])
        for i in range(n_cell + 2):
            for d in range(count):
                new[i, d] = old[i, d] + (middle[i, d] - old[i, d]) / GAMMA
        solve_stage(stack, inverse, straight, straight, new, known, new_heat, work)
        _keep_watch(watch, n, old, new, total)
        _flows(stack, middle, middle_flow)
        _flows(stack, new, new_flow)
        for i in range(3):
            for d in range(count):
                half_total[i, d] = total[i, d] + DIAGONAL * step * (old_flow[i, d] + middle_flow[i, d])
                past = WEIGHT * step * (old_flow[i, d] + middle_flow[i, d])
                new_total[i, d] = total[i, d] + past + DIAGONAL * step * new_flow[i, d]
        for k in range(march.first[n], march.first[n + 1]):
            s = march.share[k]
            a = (s - GAMMA) * (s - 1.0) / GAMMA
            b = s * (s - 1.0) / (GAMMA * (GAMMA - 1.0))
            c = s * (s - GAMMA) / (1.0 - GAMMA)
            blend = a * old + b * middle + c * new
            write_temperature(stack, low, blend, history.temperature[k])
            energy = history.energy[k]
            for d in range(count):
                history.faces[k, 0, low + d] = blend[0, d]
                history.faces[k, 1, low + d] = blend[n_cell + 1, d]
                energy[4, low + d] = 0.0
            for i in range(3):
                for d in range(count):
                    energy[i, low + d] = a * total[i, d] + b * half_total[i, d] + c * new_total[i, d]
            for d in range(count):
                energy[3, low + d] = 0.0
            for i in range(n_cell):
                for d in range(count):
                    content = a * old_heat[i, d] + b * middle_heat[i, d] + c * new_heat[i, d]
                    energy[3, low + d] += content - begin_heat[i, d]
        for i in range(n_cell):
            for d in range(count):
                old_rate[i, d] = inverse * (new_heat[i, d] - known[i, d])
        old, new = new, old
        old_heat, new_heat = new_heat, old_heat
        old_flow, new_flow = new_flow, old_flow
        total, new_total = new_total, total
        before = step


@njit(cache=True, nogil=True, error_model="numpy")
def steady_block(stack, low, out, flow):  # type: ignore[no-untyped-def]
    """Find the state in which nothing changes, of a block of draws; write it from the column `low` on."""
    n_cell = stack.layer.size
    count = stack.initial.size
    temperature = np.empty((n_cell + 2, count))
    shape, faced = (n_cell, count), (n_cell + 2, count)
    work = (np.empty(shape), np.empty(faced), np.empty(faced), np.empty(faced), np.empty((4, count)))
    for d in range(count):
        temperature[:, d] = stack.initial[d]
    known, heat = np.zeros((n_cell, count)), np.zeros((n_cell, count))
    solve_stage(stack, 0.0, False, False, temperature, known, heat, work)
    write_temperature(stack, low, temperature, out)
    flows = np.empty((3, count))
    _flows(stack, temperature, flows)
    for i in range(3):
        for d in range(count):
            flow[i, low + d] = flows[i, d]
