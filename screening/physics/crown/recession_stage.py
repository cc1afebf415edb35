"""One step of Newton's method for a stage of a receding crown: temperatures and speed together, many draws abreast.

The unknown of the gas face is its speed while it is held at the onset, and its temperature while it is not. The
speed enters every row (cells shrink, heat crosses their edges), so the matrix is tridiagonal with one full column;
elimination runs from the face beneath up to the gas face, where the unknown comes out, and back.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from screening.physics.crown.blowing import blown_flux
from screening.physics.crown.lanes import Lanes, Newton
from screening.physics.crown.stage import fill_content, film_flux

TEMPERATURE_TOLERANCE = 0.1
"""Newton stops after a smaller correction [K]; it converges about squarely, so the error left is far smaller."""
MOST_ITERATIONS = 12
"""A step that takes more is taken again, shorter."""
SPEED_TOLERANCE = 1e-3
"""The same for the speed, as a share of it."""
LEAST_LEFT = 1e-3
"""Share of the layer that is left to it while Newton tries too long a step."""
MOVES, SETTLED, FAILED = range(3)


@njit(cache=True, nogil=True, error_model="numpy")
def _face_flux(lanes: Lanes, newton: Newton) -> None:
    """Fill the flux into the face through the char and its slopes; the char's own face, and what it blows, come along."""
    flux, rate, film, state = newton.face.flux, newton.face.rate, lanes.stack.film, lanes.new
    for d in range(flux.size):
        resistance, vapour = lanes.char[d] * state.gone[d], lanes.vapour[d] * state.speed[d]
        face = state.temperature[0, d]
        outer = state.outer[d] if resistance > 0.0 else face
        into, slope, thinning = blown_flux(film, d, outer, vapour)
        for _ in range(2):
            outer += (face + resistance * into - outer) / (1.0 - resistance * slope)
            into, slope, thinning = blown_flux(film, d, outer, vapour)
        state.outer[d] = outer
        flux[d] = into + slope * (face + resistance * into - outer) / (1.0 - resistance * slope)
        rate[d] = slope / (1.0 - resistance * slope)
        newton.face.blown[d] = thinning * lanes.vapour[d] / (1.0 - resistance * slope)


@njit(cache=True, nogil=True, error_model="numpy")
def _stretch(lanes: Lanes, newton: Newton) -> None:
    """Fill the conductances between nodes, of what is left of the top layer."""
    n_top, link, half, left, stretched = lanes.n_top, lanes.stack.link, lanes.stack.half, newton.top.share, newton.link
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
def evaluate(lanes: Lanes, newton: Newton) -> None:
    """Fill depth, heat content and fluxes of all lanes at the temperatures and speeds tried."""
    state, top, inverse, thick, start = lanes.new, newton.top, lanes.inverse, lanes.thick, lanes.gone_known
    for d in range(inverse.size):
        state.gone[d] = start[d] + state.speed[d] / inverse[d]
        top.share[d] = max(1.0 - state.gone[d] / thick[d], LEAST_LEFT)
        top.inverse[d] = 1.0 / top.share[d]
        top.fall[d] = -1.0 / (inverse[d] * thick[d])
    _stretch(lanes, newton)
    _face_flux(lanes, newton)
    fill_content(lanes.stack, state.temperature, newton.content)


@njit(cache=True, nogil=True, error_model="numpy")
def end_stage(lanes: Lanes, newton: Newton, d: int) -> None:
    """Fill heat content, its change and the flows of one lane that has been evaluated where it solves its stage."""
    state, stack, flow, n_cell = lanes.new, lanes.stack, lanes.new.flow[d], lanes.stack.layer.size
    face, before = state.temperature[n_cell + 1, d], state.temperature[n_cell, d]
    flow.into = newton.face.flux[d]
    flow.beneath = newton.link[n_cell, d] * (before - face)
    flow.ring = 0.0
    flow.lost = state.speed[d] * (lanes.latent[d] + lanes.surface_heat[d])
    for i in range(n_cell):
        left = newton.top.share[d] if i < lanes.n_top else 1.0
        state.heat[i, d] = left * newton.content.heat[i, d]
        state.rate[i, d] = lanes.inverse[d] * (state.heat[i, d] - lanes.known[i, d])
        bore = stack.ring_temperature[stack.layer[i], d]
        flow.ring += left * stack.ring[i, d] * (state.temperature[i + 1, d] - bore)


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate_back(lanes: Lanes, newton: Newton) -> None:
    """Fill the row of the face beneath."""
    last, rows, back, temperature = lanes.stack.layer.size + 1, newton.rows, lanes.stack.back, lanes.new.temperature
    for d in range(lanes.inverse.size):
        link, face = newton.link[last - 1, d], temperature[last, d]
        flux, rate = film_flux(back, d, face)
        pivot = 1.0 / (rate - link)
        constant, upward = -(flux - link * (face - temperature[last - 1, d])) * pivot, link * pivot
        rows.last_constant[d], rows.last_upward[d], rows.last_face[d] = constant, upward, 0.0
        rows.constant[last, d], rows.upward[last, d], rows.face[last, d] = constant, upward, 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate_cells(lanes: Lanes, newton: Newton) -> None:
    """Eliminate the rows of the cells, from beneath up; in short loops over plain arrays, which become vector instructions."""
    stack, inverse, known, rows = lanes.stack, lanes.inverse, lanes.known, newton.rows
    link, ring, bore, layer = newton.link, stack.ring, stack.ring_temperature, stack.layer
    heat, gain, temperature = newton.content.heat, newton.content.gain, lanes.new.temperature
    held, speed, from_above, from_below = lanes.new.held, lanes.new.speed, lanes.from_above, lanes.from_below
    constant, upward, face = rows.last_constant, rows.last_upward, rows.last_face
    constants, upwards, faces = rows.constant, rows.upward, rows.face
    conducted, stored, pivot, under = rows.conducted, rows.stored, rows.pivot, rows.under
    edge, beneath = newton.edges
    n_cell, count = known.shape
    for i in range(n_cell - 1, -1, -1):
        left, surface = (
            newton.top if i < lanes.n_top else newton.whole,
            lanes.surface_heat if i == 0 else newton.nothing,
        )
        share, unshared, fall, upper, at = left.share, left.inverse, left.fall, max(i - 1, 0), layer[i]
        through, below, above = edge.through, edge.below, edge.above
        through_beneath, below_beneath, above_beneath = beneath.through, beneath.below, beneath.above
        for d in range(count):
            crossing = from_above[i, d] * heat[upper, d] + from_below[i, d] * heat[i, d]
            through[d] = crossing + surface[d]
        for d in range(count):
            below[d] = speed[d] * from_below[i, d] * gain[i, d]
        for d in range(count):
            above[d] = speed[d] * from_above[i, d] * gain[upper, d]
        for d in range(count):
            warmer = link[i, d] * (temperature[i, d] - temperature[i + 1, d])
            conducted[d] = warmer - link[i + 1, d] * (temperature[i + 1, d] - temperature[i + 2, d])
        for d in range(count):
            stored[d] = inverse[d] * heat[i, d] + ring[i, d] * (temperature[i + 1, d] - bore[at, d])
        for d in range(count):
            main = link[i, d] + link[i + 1, d] + below[d] - above_beneath[d]
            pivot[d] = main + share[d] * (ring[i, d] + inverse[d] * gain[i, d])
        for d in range(count):
            under[d] = link[i + 1, d] + below_beneath[d]
        for d in range(count):
            pivot[d] = -1.0 / (pivot[d] + under[d] * upward[d])
        for d in range(count):
            upward[d] = (link[i, d] - above[d]) * pivot[d]
        for d in range(count):
            stretched = conducted[d] * unshared[d] + stored[d]
            column = held[d] * (through_beneath[d] - through[d] - fall[d] * stretched)
            face[d] = (column - under[d] * face[d]) * pivot[d]
        for d in range(count):
            net = conducted[d] - share[d] * stored[d] + inverse[d] * known[i, d]
            net += speed[d] * (through_beneath[d] - through[d])
            constant[d] = -(net + under[d] * constant[d]) * pivot[d]
        for d in range(count):
            constants[i + 1, d] = constant[d]
        for d in range(count):
            upwards[i + 1, d] = upward[d]
        for d in range(count):
            faces[i + 1, d] = face[d]
        edge, beneath = beneath, edge


@njit(cache=True, nogil=True, error_model="numpy")
def _eliminate(lanes: Lanes, newton: Newton) -> None:
    """Fill the rows of all nodes but the gas face, from beneath up; see `Elimination`."""
    _eliminate_back(lanes, newton)
    for edge in newton.edges:
        edge.through[:], edge.below[:], edge.above[:] = 0.0, 0.0, 0.0
    _eliminate_cells(lanes, newton)
    held, link, pivot, face = lanes.new.held, newton.link, newton.rows.pivot, newton.rows.face
    for d in range(held.size):
        # while the gas face is free its temperature, the unknown, drives the first cell alone
        face[1, d] += (1.0 - held[d]) * link[0, d] * pivot[d]


@njit(cache=True, nogil=True, error_model="numpy")
def _solve_face(lanes: Lanes, newton: Newton) -> None:
    """Fill the change of the gas face's unknown."""
    flux, rate, blown, change = newton.face.flux, newton.face.rate, newton.face.blown, newton.face.change
    link = newton.link[0]
    constant, face, left, state = newton.rows.constant[1], newton.rows.face[1], newton.top, lanes.new
    for d in range(flux.size):
        conducted = link[d] * (state.temperature[0, d] - state.temperature[1, d])
        balance = flux[d] - conducted - state.speed[d] * lanes.latent[d]
        choked = rate[d] * flux[d] * lanes.char[d] / lanes.inverse[d] + conducted * left.inverse[d] * left.fall[d]
        slope = choked + blown[d] - lanes.latent[d] if state.held[d] > 0.0 else rate[d] - link[d]
        change[d] = -(balance + link[d] * constant[d]) / (slope - link[d] * face[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _settle_faces(lanes: Lanes, newton: Newton) -> None:
    """Move the unknowns of the gas faces, let faces go and catch them; fill how each lane that moves now stands."""
    state, moving, largest, change = lanes.new, newton.face.moving, newton.face.largest, newton.face.change
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
def correct(lanes: Lanes, newton: Newton) -> None:
    """Take one step of Newton's method from where `evaluate` has been, in all lanes that move."""
    _eliminate(lanes, newton)
    _solve_face(lanes, newton)
    moving, change, carry, largest = newton.face.moving, newton.face.change, newton.face.carry, newton.face.largest
    constant, upward, face = newton.rows.constant, newton.rows.upward, newton.rows.face
    temperature, count = lanes.new.temperature, lanes.inverse.size
    for d in range(count):
        largest[d], carry[d] = 0.0, 0.0
    for i in range(1, temperature.shape[0]):
        for d in range(count):
            carry[d] = constant[i, d] - upward[i, d] * carry[d] - face[i, d] * change[d]
        for d in range(count):
            largest[d] = max(largest[d], abs(carry[d]))
        for d in range(count):
            temperature[i, d] += carry[d] if moving[d] > 0.0 else 0.0
    _settle_faces(lanes, newton)
