"""Heat through a thin round skirt wall between a warming bore and the crankcase, compiled."""

from __future__ import annotations

import numba
import numpy as np

from screening.physics.curves.temperature_curve import FloatArray

_STAGE = 2.0 - 2.0**0.5
_FROM_HALF = 1.0 / (_STAGE * (2.0 - _STAGE))
_FROM_OLD = (1.0 - _STAGE) ** 2 * _FROM_HALF


@numba.njit(cache=True, error_model="numpy")
def _factor(
    mass: FloatArray, side: FloatArray, films: FloatArray, weight: float, pivot: FloatArray, off: FloatArray
) -> None:
    """Fill inverse pivots and factors of (mass - weight * conduction); `side[i]` joins cells i and i + 1."""
    count = mass.size
    for i in range(count):
        inward = films[0] if i == 0 else side[i - 1]
        outward = films[1] if i == count - 1 else side[i]
        main = mass[i] + weight * (inward + outward)
        if i > 0:
            off[i] = -weight * side[i - 1] * pivot[i - 1]
            main += off[i] * weight * side[i - 1]
        pivot[i] = 1.0 / main


@numba.njit(cache=True, error_model="numpy")
def _solve(side: FloatArray, weight: float, pivot: FloatArray, off: FloatArray, right: FloatArray) -> None:
    """Solve in place with what `_factor` filled."""
    count = right.size
    right[0] *= pivot[0]
    for i in range(1, count):
        right[i] = (right[i] + weight * side[i - 1] * right[i - 1]) * pivot[i]
    for i in range(count - 2, -1, -1):
        right[i] -= off[i + 1] * right[i + 1]


@numba.njit(cache=True, error_model="numpy")
def _known(
    mass: FloatArray,
    side: FloatArray,
    films: FloatArray,
    faces: FloatArray,
    weight: float,
    cell: FloatArray,
    right: FloatArray,
) -> None:
    """Fill mass * cell + weight * heat into each cell; `films` and `faces` are those inside and outside."""
    count = cell.size
    above = films[0] * (faces[0] - cell[0])
    for i in range(count):
        below = side[i] * (cell[i + 1] - cell[i]) if i < count - 1 else films[1] * (faces[1] - cell[i])
        right[i] = mass[i] * cell[i] + weight * (above + below)
        above = -below


@numba.njit(cache=True, error_model="numpy")
def _bore(time: float, start: float, settled: float, constant: float) -> float:
    return settled - (settled - start) * np.exp(-time / constant)


@numba.njit(cache=True, nogil=True, error_model="numpy")
def skirt_history(times: FloatArray, inputs: FloatArray, cells: int, growth: float) -> FloatArray:
    """Return cell temperatures (n_time, cells, n_draw), cells from the inside out.

    inputs (12, n_draw): outer radius, thickness, conductivity, density * heat capacity, oil film, crankcase
    film, crankcase temperature, bore start, settled and time constant, initial temperature, finest step; a step is as
    long as the finest and `growth` of the time gone by.
    """
    n_draw = inputs.shape[1]
    result = np.empty((times.size, cells, n_draw))
    mass, side, pivot, off = np.empty(cells), np.empty(cells - 1), np.empty(cells), np.zeros(cells)
    cell, half, full = np.empty(cells), np.empty(cells), np.empty(cells)
    films, faces = np.empty(2), np.empty(2)
    for draw in range(n_draw):
        radius, wall, k, capacity, oil, air = inputs[:6, draw]
        crankcase, start, settled, constant, initial, fine = inputs[6:, draw]
        width = wall / cells
        for i in range(cells):
            mass[i] = capacity * width * (radius - wall + width * (i + 0.5))
        for i in range(cells - 1):
            side[i] = k / width * (radius - wall + width * (i + 1))
        films[0] = (radius - wall) / (1.0 / air + 0.5 * width / k)
        films[1] = radius / (1.0 / oil + 0.5 * width / k)
        faces[0] = crankcase
        cell[:] = initial
        now = 0.0
        for index in range(times.size):
            while now < times[index]:
                span = times[index] - now
                step = span / np.ceil(span / (fine + growth * now))
                weight = 0.5 * _STAGE * step
                _factor(mass, side, films, weight, pivot, off)
                faces[1] = _bore(now, start, settled, constant)
                _known(mass, side, films, faces, weight, cell, half)
                half[0] += weight * films[0] * crankcase
                half[-1] += weight * films[1] * _bore(now + _STAGE * step, start, settled, constant)
                _solve(side, weight, pivot, off, half)
                for i in range(cells):
                    full[i] = mass[i] * (_FROM_HALF * half[i] - _FROM_OLD * cell[i])
                full[0] += weight * films[0] * crankcase
                full[-1] += weight * films[1] * _bore(now + step, start, settled, constant)
                _solve(side, weight, pivot, off, full)
                cell[:] = full
                now = now + step if step < span else times[index]
            result[index, :, draw] = cell
    return result
