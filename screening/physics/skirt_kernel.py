"""Heat through a thin round skirt wall between a warming bore and the crankcase, compiled."""

from __future__ import annotations

import numba
import numpy as np

from screening.physics.temperature_curve import FloatArray

_STAGE = 2.0 - 2.0**0.5


@numba.njit(cache=True)
def _solve(side: FloatArray, middle: FloatArray, weight: float, right: FloatArray, scratch: FloatArray) -> None:
    """Solve (mass - weight * conduction) x = right in place; `side[i]` joins cells i and i + 1."""
    count = right.size
    pivot = middle[0]
    right[0] /= pivot
    for i in range(1, count):
        off = -weight * side[i - 1]
        scratch[i] = off / pivot
        pivot = middle[i] - off * scratch[i]
        right[i] = (right[i] - off * right[i - 1]) / pivot
    for i in range(count - 2, -1, -1):
        right[i] -= scratch[i + 1] * right[i + 1]


@numba.njit(cache=True)
def _flow(side: FloatArray, inner: float, outer: float, cold: float, hot: float, cell: FloatArray) -> FloatArray:
    """Heat into each cell at the given face temperatures."""
    into = np.zeros(cell.size)
    for i in range(cell.size - 1):
        across = side[i] * (cell[i + 1] - cell[i])
        into[i] += across
        into[i + 1] -= across
    into[0] += inner * (cold - cell[0])
    into[-1] += outer * (hot - cell[-1])
    return into


@numba.njit(cache=True)
def _bore(time: float, start: float, settled: float, constant: float) -> float:
    return settled - (settled - start) * np.exp(-time / constant)


@numba.njit(cache=True, parallel=True)
def skirt_history(times: FloatArray, inputs: FloatArray, cells: int) -> FloatArray:
    """Return cell temperatures (n_time, cells, n_draw), cells from the inside out.

    inputs (12, n_draw): outer radius, thickness, conductivity, density * heat capacity, oil film, crankcase
    film, crankcase temperature, bore start, settled and time constant, initial temperature, finest step.
    """
    n_draw = inputs.shape[1]
    result = np.empty((times.size, cells, n_draw))
    for draw in numba.prange(n_draw):
        radius, wall, k, capacity, oil, air = inputs[:6, draw]
        crankcase, start, settled, constant, initial, fine = inputs[6:, draw]
        width = wall / cells
        faces = radius - wall + width * np.arange(cells + 1)
        mass = capacity * width * 0.5 * (faces[1:] + faces[:-1])
        side = k / width * faces[1:-1]
        inner = faces[0] / (1.0 / air + 0.5 * width / k)
        outer = faces[-1] / (1.0 / oil + 0.5 * width / k)
        total = np.zeros(cells)
        total[:-1] += side
        total[1:] += side
        total[0] += inner
        total[-1] += outer
        cell = np.full(cells, initial)
        scratch = np.zeros(cells)
        now = 0.0
        for index in range(times.size):
            while now < times[index]:
                span = times[index] - now
                step = span / np.ceil(span / (fine + 0.05 * now))
                weight = 0.5 * _STAGE * step
                middle = mass + weight * total
                hot = _bore(now, start, settled, constant)
                stage_hot = _bore(now + _STAGE * step, start, settled, constant)
                half = mass * cell + weight * _flow(side, inner, outer, crankcase, hot, cell)
                half[0] += weight * inner * crankcase
                half[-1] += weight * outer * stage_hot
                _solve(side, middle, weight, half, scratch)
                end_hot = _bore(now + step, start, settled, constant)
                full = mass * (half - (1.0 - _STAGE) ** 2 * cell) / (_STAGE * (2.0 - _STAGE))
                full[0] += weight * inner * crankcase
                full[-1] += weight * outer * end_hot
                _solve(side, middle, weight, full, scratch)
                cell = full
                now = now + step if step < span else times[index]
            result[index, :, draw] = cell
    return result
