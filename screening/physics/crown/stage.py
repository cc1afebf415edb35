"""Solve one stage of a step, for all cells of a stack and many draws at once, by Newton's method."""

from __future__ import annotations

import numpy as np
from numba import njit
from scipy import constants

SIGMA = constants.Stefan_Boltzmann
TOLERANCE = 0.1
"""Newton stops after a correction below this [K]; as it converges squarely, the error left is far smaller."""
MOST_ITERATIONS = 80


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def film_flux(film, d, surface):  # type: ignore[no-untyped-def]
    """Return the flux from a film into a face at `surface`, and its slope."""
    apart = surface - film[3, d]
    h = film[0, d] + film[4, d] * apart
    drive = film[1, d] + film[2, d] * apart - surface
    cube = SIGMA * film[5, d] * surface * surface * surface
    around = film[6, d] * film[6, d]
    flux = h * drive - cube * surface + SIGMA * film[5, d] * around * around
    return flux, h * (film[2, d] - 1.0) + film[4, d] * drive - 4.0 * cube


@njit(cache=True, nogil=True, error_model="numpy")
def content_at(stack, own, d, temperature):  # type: ignore[no-untyped-def]
    """Return heat content above the start of one draw's layer `own` at one temperature [J/kg]."""
    content = stack.capacity[own, d] * (temperature - stack.initial[d]) - stack.datum[own, d]
    for j in range(stack.knot.shape[1]):
        content += 0.5 * stack.bend[own, j, d] * max(temperature - stack.knot[own, j, d], 0.0) ** 2
    return content


@njit(cache=True, nogil=True, error_model="numpy")
def _content(layer, capacity, datum, initial, knot, bend, mass, temperature, content, gain, row):  # type: ignore[no-untyped-def]
    """Do the work of `enthalpy`; in short loops over plain arrays, which become vector instructions."""
    n_cell, count = content.shape
    warm, slope = row[0], row[1]
    for i in range(n_cell):
        own = layer[i]
        for d in range(count):
            warm[d] = capacity[own, d] * (temperature[i + 1, d] - initial[d]) - datum[own, d]
        for d in range(count):
            slope[d] = capacity[own, d]
        for j in range(knot.shape[1]):
            beyond = 0
            for d in range(count):
                beyond += temperature[i + 1, d] > knot[own, j, d]
            if beyond == 0:
                break  # knots rise: the next ones are not reached either
            for d in range(count):
                above = max(temperature[i + 1, d] - knot[own, j, d], 0.0)
                more = bend[own, j, d] * above
                slope[d] += more
                warm[d] += 0.5 * more * above
        for d in range(count):
            content[i, d] = warm[d] * mass[i, d]
        for d in range(count):
            gain[i, d] = slope[d] * mass[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def enthalpy(stack, temperature, content, gain, row):  # type: ignore[no-untyped-def]
    """Fill heat content above the start [J/m2] and its slope [J/(m2 K)] of all cells, exact for linear pieces.

    `row` is room for two rows.
    """
    _content(
        stack.layer, stack.capacity, stack.datum, stack.initial, stack.knot, stack.bend, stack.mass, temperature,
        content, gain, row,
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate_cells(layer, link, ring, bore, inverse, temperature, known, heat, gain, right, pivot, row):  # type: ignore[no-untyped-def]
    """Eliminate the rows of the cells; the loops are cut up so that each becomes vector instructions."""
    n_cell, count = known.shape
    net, carry, own = row[0], row[1], row[2]
    for d in range(count):
        carry[d] = right[0, d]
    for d in range(count):
        own[d] = pivot[0, d]
    for i in range(n_cell):
        a = layer[i]
        for d in range(count):
            net[d] = (
                link[i, d] * (temperature[i, d] - temperature[i + 1, d])
                - link[i + 1, d] * (temperature[i + 1, d] - temperature[i + 2, d])
                - ring[i, d] * (temperature[i + 1, d] - bore[a, d])
            )
        for d in range(count):
            carry[d] = net[d] - inverse * (heat[i, d] - known[i, d]) + link[i, d] * own[d] * carry[d]
        for d in range(count):
            kept = link[i + 1, d] + ring[i, d] + inverse * gain[i, d]
            own[d] = 1.0 / (kept + link[i, d] - link[i, d] * link[i, d] * own[d])
        for d in range(count):
            right[i + 1, d] = carry[d]
        for d in range(count):
            pivot[i + 1, d] = own[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate(stack, inverse, temperature, known, work):  # type: ignore[no-untyped-def]
    """Fill the right-hand side and the inverse pivots, row by row from the gas face on.

    The matrix is symmetric: off its diagonal stand minus the links.
    """
    n_cell, count = stack.layer.size, temperature.shape[1]
    link, right, pivot = stack.link, work.right, work.pivot
    for d in range(count):
        flux, rate = film_flux(stack.film, d, temperature[0, d])
        right[0, d] = flux - link[0, d] * (temperature[0, d] - temperature[1, d])
        pivot[0, d] = 1.0 / (link[0, d] - rate)
    _eliminate_cells(
        stack.layer, link, stack.ring, stack.ring_temperature, inverse, temperature, known, work.fresh, work.gain,
        right, pivot, work.row,
    )  # fmt: skip
    for d in range(count):
        flux, rate = film_flux(stack.back, d, temperature[n_cell + 1, d])
        share = link[n_cell, d] * pivot[n_cell, d]
        conducted = link[n_cell, d] * (temperature[n_cell + 1, d] - temperature[n_cell, d])
        right[n_cell + 1, d] = flux - conducted + share * right[n_cell, d]
        pivot[n_cell + 1, d] = 1.0 / (link[n_cell, d] - rate - share * link[n_cell, d])


@njit(cache=True, nogil=True, error_model="numpy")
def _substitute(link, right, pivot, largest, carry):  # type: ignore[no-untyped-def]
    """Replace the right-hand side by the correction; note each draw's largest."""
    size, count = right.shape
    for d in range(count):
        carry[d] = right[size - 1, d] * pivot[size - 1, d]
        right[size - 1, d] = carry[d]
        largest[d] = abs(carry[d])
    for i in range(size - 2, -1, -1):
        for d in range(count):
            carry[d] = (right[i, d] + link[i, d] * carry[d]) * pivot[i, d]
        for d in range(count):
            right[i, d] = carry[d]
        for d in range(count):
            largest[d] = max(largest[d], abs(carry[d]))


@njit(cache=True, nogil=True, error_model="numpy")
def _choose_shares(control):  # type: ignore[no-untyped-def]
    """Fill how much of its correction each draw takes; return how many still move after it."""
    moving, before, largest, share = control[0], control[1], control[2], control[3]
    left = 0
    for d in range(moving.size):
        # a corner of the heat capacity can send Newton to and fro: then go half way
        halved = largest[d] > 0.5 * before[d]
        share[d] = moving[d] * (0.5 if halved else 1.0)
        before[d] = largest[d]
        moving[d] = moving[d] if largest[d] > TOLERANCE or halved else 0.0
        left += moving[d] > 0.0
    return left


@njit(cache=True, nogil=True, error_model="numpy")
def _correct(temperature, heat, fresh, gain, change, share):  # type: ignore[no-untyped-def]
    """Add the shares of the correction; the heat content goes along its slope, which closes the energy balance."""
    for i in range(temperature.shape[0]):
        for d in range(share.size):
            temperature[i, d] += share[d] * change[i, d]
    for i in range(heat.shape[0]):
        for d in range(share.size):
            moved = fresh[i, d] + share[d] * gain[i, d] * change[i + 1, d]
            heat[i, d] = moved if share[d] > 0.0 else heat[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def solve_stage(stack, inverse, straight, temperature, known, heat, work):  # type: ignore[no-untyped-def]
    """Solve inverse (H(T) - known) = net heating(T) for all nodes, from the guess in `temperature`; fill H.

    A draw that has converged is left as it is while others go on; one that never does becomes NaN. A problem that is
    `straight` takes one iteration.
    """
    count = temperature.shape[1]
    moving = work.control[0]
    for d in range(count):
        moving[d] = 1.0
        work.control[1, d] = np.inf
    for _ in range(MOST_ITERATIONS):
        enthalpy(stack, temperature, work.fresh, work.gain, work.row)
        _eliminate(stack, inverse, temperature, known, work)
        _substitute(stack.link, work.right, work.pivot, work.control[2], work.row[0])
        left = _choose_shares(work.control)
        _correct(temperature, heat, work.fresh, work.gain, work.right, work.control[3])
        if left == 0 or straight:
            return
    for d in range(count):
        if moving[d] > 0.0:
            temperature[:, d] = np.nan
            heat[:, d] = np.nan
