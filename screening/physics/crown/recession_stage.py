"""One step of Newton's method for a stage of a receding crown: temperatures and speed together, many draws abreast.

The unknown of the gas face is its speed while it is held at the onset, and its temperature while it is not. The
speed enters every row (cells shrink, heat crosses their edges), so the matrix is tridiagonal with one full column;
elimination runs from the face beneath up to the gas face, where the unknown comes out, and back.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from screening.physics.crown.stage import enthalpy, film_flux

TEMPERATURE_TOLERANCE = 0.1
"""Newton stops after a smaller correction [K]; it converges about squarely, so the error left is far smaller."""
MOST_ITERATIONS = 12
"""A step that takes more is taken again, shorter."""
SPEED_TOLERANCE = 1e-3
"""The same for the speed, as a share of it."""
LEAST_LEFT = 1e-3
"""Share of the layer that is left to it while Newton tries too long a step."""
HEAT, GAIN, A, B, C = range(5)
CONDUCTED, STORED, PIVOT, UNDER = 0, 1, 5, 6
CARRY, MOVING, LARGEST, FLUX, RATE, CHANGE = range(6)
MOVES, SETTLED, FAILED = range(3)


@njit(cache=True, nogil=True, error_model="numpy")
def _face_flux(lanes, state):  # type: ignore[no-untyped-def]
    """Fill the flux into the face through the char and its slope against the face; the char's own face comes along."""
    flux, rate = lanes.row[FLUX], lanes.row[RATE]
    for d in range(flux.size):
        resistance = lanes.char[d] * state.gone[d]
        face = state.temperature[0, d]
        outer = state.outer[d] if resistance > 0.0 else face
        into, slope = film_flux(lanes.stack.film, d, outer)
        for _ in range(2):
            outer += (face + resistance * into - outer) / (1.0 - resistance * slope)
            into, slope = film_flux(lanes.stack.film, d, outer)
        state.outer[d] = outer
        flux[d] = into + slope * (face + resistance * into - outer) / (1.0 - resistance * slope)
        rate[d] = slope / (1.0 - resistance * slope)


@njit(cache=True, nogil=True, error_model="numpy")
def _stretch(n_top, link, half, left, stretched):  # type: ignore[no-untyped-def]
    """Fill the conductances between nodes, of what is left of the top layer."""
    last = link.shape[0] - 1
    for i in range(last + 1):
        if i < n_top or (i == n_top and n_top == last):
            for d in range(left.size):
                stretched[i, d] = link[i, d] / left[d]
        elif i == n_top:
            for d in range(left.size):
                stretched[i, d] = link[i, d] / (1.0 - link[i, d] * half[i - 1, d] * (1.0 - left[d]))
        else:
            for d in range(left.size):
                stretched[i, d] = link[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _set_left(lanes, state, inverse):  # type: ignore[no-untyped-def]
    """Fill what is left of the layer, its fall with the speed, and the conductances that go with it."""
    share = lanes.share
    for d in range(inverse.size):
        left = max(1.0 - state.gone[d] / lanes.thick[d], LEAST_LEFT)
        share[0, 0, d], share[0, 1, d], share[0, 2, d] = 1.0, 1.0, 0.0
        share[1, 0, d], share[1, 1, d], share[1, 2, d] = left, 1.0 / left, -1.0 / (inverse[d] * lanes.thick[d])
    _stretch(lanes.n_top, lanes.stack.link, lanes.stack.half, share[1, 0], lanes.link)


@njit(cache=True, nogil=True, error_model="numpy")
def evaluate(lanes, inverse, gone_known):  # type: ignore[no-untyped-def]
    """Fill depth, heat content and fluxes of all lanes at the temperatures and speeds tried."""
    n_cell, state = lanes.stack.layer.size, lanes.new
    for d in range(inverse.size):
        state.gone[d] = gone_known[d] + state.speed[d] / inverse[d]
    _set_left(lanes, state, inverse)
    _face_flux(lanes, state)
    enthalpy(lanes.stack, state.temperature, lanes.work[HEAT, :n_cell], lanes.work[GAIN, :n_cell], lanes.room)


@njit(cache=True, nogil=True, error_model="numpy")
def end_stage(lanes, d, inverse, known):  # type: ignore[no-untyped-def]
    """Fill heat content, its change and the flows of one lane that has been evaluated where it solves its stage."""
    state, stack, n_cell = lanes.new, lanes.stack, lanes.stack.layer.size
    face, before = state.temperature[n_cell + 1, d], state.temperature[n_cell, d]
    state.flow[0, d] = lanes.row[FLUX, d]
    state.flow[1, d] = lanes.link[n_cell, d] * (before - face)
    state.flow[2, d] = 0.0
    state.flow[3, d] = state.speed[d] * (lanes.latent[d] + lanes.surface_heat[1, d])
    for i in range(n_cell):
        left = lanes.share[1 if i < lanes.n_top else 0, 0, d]
        state.heat[i, d] = left * lanes.work[HEAT, i, d]
        state.rate[i, d] = inverse[d] * (state.heat[i, d] - known[i, d])
        bore = stack.ring_temperature[stack.layer[i], d]
        state.flow[2, d] += left * stack.ring[i, d] * (state.temperature[i + 1, d] - bore)


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate_back(lanes, state):  # type: ignore[no-untyped-def]
    """Fill the row of the face beneath."""
    last, work, room = lanes.stack.layer.size + 1, lanes.work, lanes.room
    for d in range(state.speed.size):
        link, face = lanes.link[last - 1, d], state.temperature[last, d]
        flux, rate = film_flux(lanes.stack.back, d, face)
        pivot = 1.0 / (rate - link)
        room[A, d] = -(flux - link * (face - state.temperature[last - 1, d])) * pivot
        room[B, d] = link * pivot
        room[C, d] = 0.0
        work[A, last, d], work[B, last, d], work[C, last, d] = room[A, d], room[B, d], room[C, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate_cells(n_top, layer, link, ring, bore, own, beneath, surface, share, moving, inverse, temperature, known, work, room, edge):  # type: ignore[no-untyped-def]  # fmt: skip
    """Eliminate the rows of the cells, from beneath up.

    The loops are cut up so that each becomes vector instructions.
    """
    n_cell, count = known.shape
    held, speed = moving
    for i in range(n_cell - 1, -1, -1):
        top, first, upper, at = 1 if i < n_top else 0, 1 if i == 0 else 0, max(i - 1, 0), layer[i]
        now, past = i % 2, (i + 1) % 2  # the edge above this cell, and that beneath it
        for d in range(count):
            through = own[i, d] * work[HEAT, upper, d] + beneath[i, d] * work[HEAT, i, d]
            edge[now, 0, d] = through + surface[first, d]
        for d in range(count):
            edge[now, 1, d] = speed[d] * beneath[i, d] * work[GAIN, i, d]
        for d in range(count):
            edge[now, 2, d] = speed[d] * own[i, d] * work[GAIN, upper, d]
        for d in range(count):
            warmer = link[i, d] * (temperature[i, d] - temperature[i + 1, d])
            room[CONDUCTED, d] = warmer - link[i + 1, d] * (temperature[i + 1, d] - temperature[i + 2, d])
        for d in range(count):
            room[STORED, d] = inverse[d] * work[HEAT, i, d] + ring[i, d] * (temperature[i + 1, d] - bore[at, d])
        for d in range(count):
            main = link[i, d] + link[i + 1, d] + edge[now, 1, d] - edge[past, 2, d]
            room[PIVOT, d] = main + share[top, 0, d] * (ring[i, d] + inverse[d] * work[GAIN, i, d])
        for d in range(count):
            room[UNDER, d] = link[i + 1, d] + edge[past, 1, d]
        for d in range(count):
            room[PIVOT, d] = -1.0 / (room[PIVOT, d] + room[UNDER, d] * room[B, d])
        for d in range(count):
            room[B, d] = (link[i, d] - edge[now, 2, d]) * room[PIVOT, d]
        for d in range(count):
            stretched = room[CONDUCTED, d] * share[top, 1, d] + room[STORED, d]
            column = held[d] * (edge[past, 0, d] - edge[now, 0, d] - share[top, 2, d] * stretched)
            room[C, d] = (column - room[UNDER, d] * room[C, d]) * room[PIVOT, d]
        for d in range(count):
            net = room[CONDUCTED, d] - share[top, 0, d] * room[STORED, d] + inverse[d] * known[i, d]
            net += speed[d] * (edge[past, 0, d] - edge[now, 0, d])
            room[A, d] = -(net + room[UNDER, d] * room[A, d]) * room[PIVOT, d]
        for d in range(count):
            work[A, i + 1, d] = room[A, d]
        for d in range(count):
            work[B, i + 1, d] = room[B, d]
        for d in range(count):
            work[C, i + 1, d] = room[C, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate(lanes, state, inverse, known):  # type: ignore[no-untyped-def]
    """Fill y_i = A_i - B_i y_(i-1) - C_i x for all nodes but the gas face, from beneath up; x is that face's unknown."""
    stack = lanes.stack
    _eliminate_back(lanes, state)
    lanes.edge[:] = 0.0
    _eliminate_cells(
        lanes.n_top, stack.layer, lanes.link, stack.ring, stack.ring_temperature, lanes.own, lanes.next,
        lanes.surface_heat, lanes.share, (state.held, state.speed), inverse, state.temperature, known, lanes.work,
        lanes.room, lanes.edge,
    )  # fmt: skip
    for d in range(inverse.size):
        # while the gas face is free its temperature, the unknown, drives the first cell alone
        lanes.work[C, 1, d] += (1.0 - state.held[d]) * lanes.link[0, d] * lanes.room[PIVOT, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _solve_face(lanes, state, inverse, change):  # type: ignore[no-untyped-def]
    """Fill the change of the gas face's unknown."""
    flux, rate, link = lanes.row[FLUX], lanes.row[RATE], lanes.link[0]
    a, c, stretch, shrink = lanes.work[A, 1], lanes.work[C, 1], lanes.share[1, 1], lanes.share[1, 2]
    for d in range(flux.size):
        conducted = link[d] * (state.temperature[0, d] - state.temperature[1, d])
        balance = flux[d] - conducted - state.speed[d] * lanes.latent[d]
        choked = rate[d] * flux[d] * lanes.char[d] / inverse[d] + conducted * stretch[d] * shrink[d]
        slope = choked - lanes.latent[d] if state.held[d] > 0.0 else rate[d] - link[d]
        change[d] = -(balance + link[d] * a[d]) / (slope - link[d] * c[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _settle_faces(lanes, change):  # type: ignore[no-untyped-def]
    """Move the unknowns of the gas faces, let faces go and catch them; fill how each lane that moves now stands."""
    state, moving, largest = lanes.new, lanes.row[MOVING], lanes.row[LARGEST]
    for d in range(change.size):
        if moving[d] == 0.0:
            continue
        settled = largest[d] <= TEMPERATURE_TOLERANCE
        if state.held[d] > 0.0:
            state.speed[d] += change[d]
            settled = settled and abs(change[d]) <= SPEED_TOLERANCE * abs(state.speed[d]) + 1e-12
            if state.speed[d] < 0.0:
                state.speed[d], state.held[d], settled = 0.0, 0.0, False
        else:
            state.temperature[0, d] += change[d]
            settled = settled and abs(change[d]) <= TEMPERATURE_TOLERANCE
            if state.temperature[0, d] > lanes.onset[d] + TEMPERATURE_TOLERANCE:
                state.temperature[0, d], state.held[d], settled = lanes.onset[d], 1.0, False
        if settled:
            lanes.stands[d] = SETTLED
        elif not np.isfinite(largest[d] + change[d]):
            lanes.stands[d] = FAILED


@njit(cache=True, nogil=True, error_model="numpy")
def correct(lanes, inverse, known):  # type: ignore[no-untyped-def]
    """Take one step of Newton's method from where `evaluate` has been, in all lanes that move."""
    _eliminate(lanes, lanes.new, inverse, known)
    change, moving, largest, carry = lanes.row[CHANGE], lanes.row[MOVING], lanes.row[LARGEST], lanes.row[CARRY]
    _solve_face(lanes, lanes.new, inverse, change)
    a, b, c, temperature = lanes.work[A], lanes.work[B], lanes.work[C], lanes.new.temperature
    count = change.size
    for d in range(count):
        largest[d], carry[d] = 0.0, 0.0
    for i in range(1, temperature.shape[0]):
        for d in range(count):
            carry[d] = a[i, d] - b[i, d] * carry[d] - c[i, d] * change[d]
        for d in range(count):
            largest[d] = max(largest[d], abs(carry[d]))
        for d in range(count):
            temperature[i, d] += carry[d] if moving[d] > 0.0 else 0.0
    _settle_faces(lanes, change)
