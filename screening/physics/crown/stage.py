"""Solve one stage of a step, for all cells of a stack and many draws at once, by Newton's method."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray
from scipy import constants

from screening.physics.crown.arrays import Content, Floats, Stack, Work

SIGMA = constants.Stefan_Boltzmann
TOLERANCE = 0.1
"""Newton stops after a correction below this [K]; as it converges squarely, the error left is far smaller."""
MOST_ITERATIONS = 80


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def film_flux(film: NDArray[np.void], d: int, surface: float) -> tuple[float, float]:
    """Return the flux from one draw's film into a face at `surface` [W/m2], and its slope [W/(m2 K)]."""
    side = film[d]
    apart = surface - side.feedback_at
    h = side.coefficient + side.coefficient_feedback * apart
    drive = side.temperature + side.feedback * apart - surface
    cube = SIGMA * side.emissivity * surface * surface * surface
    around = side.surroundings * side.surroundings
    flux = h * drive - cube * surface + SIGMA * side.emissivity * around * around
    return flux, h * (side.feedback - 1.0) + side.coefficient_feedback * drive - 4.0 * cube


@njit(cache=True, nogil=True, error_model="numpy")
def content_at(stack: Stack, place: int, d: int, temperature: float) -> float:
    """Return heat content above the start of one draw's layer `place` at one temperature [J/kg]."""
    content = stack.capacity[place, d] * (temperature - stack.initial[d]) - stack.datum[place, d]
    for j in range(stack.knot.shape[1]):
        content += 0.5 * stack.bend[place, j, d] * max(temperature - stack.knot[place, j, d], 0.0) ** 2
    return content


@njit(cache=True, nogil=True, error_model="numpy")
def fill_content(stack: Stack, temperature: Floats, content: Content) -> None:
    """Fill heat content above the start and its slope of all cells, exact for linear pieces.

    In short loops over plain arrays, which become vector instructions.
    """
    layer, capacity, datum, initial, mass = stack.layer, stack.capacity, stack.datum, stack.initial, stack.mass
    knot, bend = stack.knot, stack.bend
    heat, gain, warm, slope = content.heat, content.gain, content.warm, content.slope
    n_cell, count = heat.shape
    for i in range(n_cell):
        at = layer[i]
        for d in range(count):
            warm[d] = capacity[at, d] * (temperature[i + 1, d] - initial[d]) - datum[at, d]
        for d in range(count):
            slope[d] = capacity[at, d]
        for j in range(knot.shape[1]):
            beyond = 0
            for d in range(count):
                beyond += temperature[i + 1, d] > knot[at, j, d]
            if beyond == 0:
                break  # knots rise: the next ones are not reached either
            for d in range(count):
                above = max(temperature[i + 1, d] - knot[at, j, d], 0.0)
                more = bend[at, j, d] * above
                slope[d] += more
                warm[d] += 0.5 * more * above
        for d in range(count):
            heat[i, d] = warm[d] * mass[i, d]
        for d in range(count):
            gain[i, d] = slope[d] * mass[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate_cells(stack: Stack, inverse: float, temperature: Floats, known: Floats, work: Work) -> None:
    """Eliminate the rows of the cells; the loops are cut up so that each becomes vector instructions."""
    layer, link, ring, bore = stack.layer, stack.link, stack.ring, stack.ring_temperature
    heat, gain, right, pivot = work.content.heat, work.content.gain, work.right, work.pivot
    net, carry, above = work.net, work.carry, work.inverse_pivot
    n_cell, count = known.shape
    for d in range(count):
        carry[d] = right[0, d]
    for d in range(count):
        above[d] = pivot[0, d]
    for i in range(n_cell):
        at = layer[i]
        for d in range(count):
            net[d] = (
                link[i, d] * (temperature[i, d] - temperature[i + 1, d])
                - link[i + 1, d] * (temperature[i + 1, d] - temperature[i + 2, d])
                - ring[i, d] * (temperature[i + 1, d] - bore[at, d])
            )
        for d in range(count):
            carry[d] = net[d] - inverse * (heat[i, d] - known[i, d]) + link[i, d] * above[d] * carry[d]
        for d in range(count):
            kept = link[i + 1, d] + ring[i, d] + inverse * gain[i, d]
            above[d] = 1.0 / (kept + link[i, d] - link[i, d] * link[i, d] * above[d])
        for d in range(count):
            right[i + 1, d] = carry[d]
        for d in range(count):
            pivot[i + 1, d] = above[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate(stack: Stack, inverse: float, temperature: Floats, known: Floats, work: Work) -> None:
    """Fill the right-hand side and the inverse pivots, row by row from the gas face on.

    The matrix is symmetric: off its diagonal stand minus the links.
    """
    n_cell, count = stack.layer.size, temperature.shape[1]
    film, back, link, right, pivot = stack.film, stack.back, stack.link, work.right, work.pivot
    for d in range(count):
        flux, rate = film_flux(film, d, temperature[0, d])
        right[0, d] = flux - link[0, d] * (temperature[0, d] - temperature[1, d])
        pivot[0, d] = 1.0 / (link[0, d] - rate)
    _eliminate_cells(stack, inverse, temperature, known, work)
    for d in range(count):
        flux, rate = film_flux(back, d, temperature[n_cell + 1, d])
        share = link[n_cell, d] * pivot[n_cell, d]
        conducted = link[n_cell, d] * (temperature[n_cell + 1, d] - temperature[n_cell, d])
        right[n_cell + 1, d] = flux - conducted + share * right[n_cell, d]
        pivot[n_cell + 1, d] = 1.0 / (link[n_cell, d] - rate - share * link[n_cell, d])


@njit(cache=True, nogil=True, error_model="numpy")
def _substitute(link: Floats, work: Work) -> None:
    """Replace the right-hand side by the correction; note each draw's largest."""
    right, pivot, largest, carry = work.right, work.pivot, work.largest, work.carry
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
def _choose_shares(work: Work) -> int:
    """Fill how much of its correction each draw takes; return how many still move after it."""
    moving, before, largest, share = work.moving, work.before, work.largest, work.share
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
def _correct(temperature: Floats, heat: Floats, work: Work) -> None:
    """Add the shares of the correction; the heat content goes along its slope, which closes the energy balance."""
    fresh, gain, change, share = work.content.heat, work.content.gain, work.right, work.share
    for i in range(temperature.shape[0]):
        for d in range(share.size):
            temperature[i, d] += share[d] * change[i, d]
    for i in range(heat.shape[0]):
        for d in range(share.size):
            moved = fresh[i, d] + share[d] * gain[i, d] * change[i + 1, d]
            heat[i, d] = moved if share[d] > 0.0 else heat[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def solve_stage(
    stack: Stack, inverse: float, straight: bool, temperature: Floats, known: Floats, heat: Floats, work: Work
) -> None:
    """Solve inverse (H(T) - known) = net heating(T) for all nodes, from the guess in `temperature`; fill H.

    A draw that has converged is left as it is while others go on; one that never does becomes NaN. A problem that is
    `straight` takes one iteration.
    """
    count = temperature.shape[1]
    moving, before = work.moving, work.before
    for d in range(count):
        moving[d] = 1.0
        before[d] = np.inf
    for _ in range(MOST_ITERATIONS):
        fill_content(stack, temperature, work.content)
        _eliminate(stack, inverse, temperature, known, work)
        _substitute(stack.link, work)
        left = _choose_shares(work)
        _correct(temperature, heat, work)
        if left == 0 or straight:
            return
    for d in range(count):
        if moving[d] > 0.0:
            temperature[:, d] = np.nan
            heat[:, d] = np.nan
