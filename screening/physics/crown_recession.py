"""How fast does a decomposing crown recede? One draw at a time, on cells that shrink with the top layer.

Until the gas face gets to the onset of decomposition nothing differs from plain conduction. From then on the face is
held at the onset and takes up what the polymer beneath does not conduct away:

    v = ds/dt = (q_net - q_conducted)/(rho dH),     v >= 0;

where v would be negative the face comes off the onset again. The cells of the top layer keep their share of what is
left of it (Landau's coordinate), so heat is carried across their moving edges; char adds the resistance
char_yield char_retained s/k_char between gas and face and stores no heat. The step in which the face arrives is cut
short, so that part is of first order in time, the rest of second.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from screening.physics.crown_kernel import DIAGONAL, GAMMA, TOLERANCE, WEIGHT, film_flux

MOST_ITERATIONS = 30
SPEED_TOLERANCE = 1e-4
"""Newton stops when the speed of recession changes by less than this share (and 1 pm/s)."""
LARGEST_BITE = 0.25
"""A step may take at most this share of what is left of the layer; a longer one is halved."""
CONSUMED = 0.1
"""The layer counts as consumed when only this share of it is left; the rest goes at the last speed."""


class Ablation(NamedTuple):
    """Decomposition as plain arrays `(n_draw,)`."""

    onset: np.ndarray  # [K]
    heat: np.ndarray  # latent heat per volume of polymer [J/m3]
    char: np.ndarray  # resistance of char per depth receded [m2 K/W per m]


@njit(cache=True, nogil=True, error_model="numpy")
def _content(stack, own, d, temperature):  # type: ignore[no-untyped-def]
    """Return heat content above the start [J/kg] and heat capacity [J/(kg K)] at one temperature."""
    content = stack.capacity[own, d] * (temperature - stack.initial[d])
    gain = stack.capacity[own, d]
    for j in range(stack.knot.shape[1]):
        above = max(temperature - stack.knot[own, j, d], 0.0)
        inside = min(above, stack.span[own, j, d])
        content += stack.slope[own, j, d] * inside * (above - 0.5 * inside)
        gain += stack.slope[own, j, d] * inside
    return content, gain


@njit(cache=True, nogil=True, error_model="numpy")
def _gas_side(stack, d, face, resistance):  # type: ignore[no-untyped-def]
    """Return flux into the face through the char, and its slope against the face's temperature."""
    flux, rate = film_flux(stack.film, d, face)
    if resistance > 0.0:
        outer = face + resistance * flux / (1.0 - resistance * rate)
        for _ in range(MOST_ITERATIONS):
            flux, rate = film_flux(stack.film, d, outer)
            change = (face + resistance * flux - outer) / (1.0 - resistance * rate)
            outer += change
            if not abs(change) > 1e-7:
                break
        flux, rate = film_flux(stack.film, d, outer)
    return flux, rate / (1.0 - resistance * rate)


@njit(cache=True, nogil=True, error_model="numpy")
def _links(stack, d, left, link):  # type: ignore[no-untyped-def]
    """Fill the conductances when `left` of the top layer remains."""
    n_cell = stack.layer.size
    link[n_cell] = stack.link[n_cell, d]
    for i in range(n_cell):
        here = stack.half[i, d] * (left if stack.layer[i] == 0 else 1.0)
        if i == 0:
            link[0] = 1.0 / here
        else:
            before = stack.half[i - 1, d] * (left if stack.layer[i - 1] == 0 else 1.0)
            contact = 0.0
            if stack.layer[i] != stack.layer[i - 1]:
                contact = 1.0 / stack.link[i, d] - stack.half[i - 1, d] - stack.half[i, d]
            link[i] = 1.0 / (before + contact + here)
    if n_cell > 0 and stack.layer[n_cell - 1] == 0:
        link[n_cell] = stack.link[n_cell, d] / left


@njit(cache=True, nogil=True, error_model="numpy")
def _rates(stack, ablation, d, temperature, speed, gone, rest):  # type: ignore[no-untyped-def]
    """Fill net heating, heat content and their slopes by cell; return the flows.

    `rest` = (link, rate, heat, below, main, above): the slopes of the heating against the temperatures; in main[i]
    without the heat stored. Returned: flux in, out beneath, to the rings, taken by decomposition, slopes of the two
    fluxes against the faces.
    """
    link, rate, heat, gain, below, main, above, dense, warm = rest
    n_cell = stack.layer.size
    thick = 0.0
    for i in range(n_cell):
        if stack.layer[i] == 0:
            thick += stack.width[i, d]
    left = 1.0 - gone / thick
    _links(stack, d, left, link)
    flux_in, slope_in = _gas_side(stack, d, temperature[0], ablation.char[d] * gone)
    flux_back, slope_back = film_flux(stack.back, d, temperature[n_cell + 1])
    ring_total = 0.0
    for i in range(n_cell):
        own = stack.layer[i]
        share = left if own == 0 else 1.0
        dense[i], warm[i] = _content(stack, own, d, temperature[i + 1])
        mass = stack.mass[i, d] * share
        heat[i], gain[i] = mass * dense[i], mass * warm[i]
        ring = stack.ring[i, d] * share
        ring_flow = ring * (temperature[i + 1] - stack.ring_temperature[own, d])
        ring_total += ring_flow
        come = link[i] * (temperature[i] - temperature[i + 1])
        rate[i] = come - link[i + 1] * (temperature[i + 1] - temperature[i + 2]) - ring_flow
        below[i], above[i] = link[i], link[i + 1]
        main[i] = -link[i] - link[i + 1] - ring
    density = stack.mass[0, d] / stack.width[0, d]
    face_content, _ = _content(stack, 0, d, temperature[0])
    if speed != 0.0:
        rate[0] -= speed * density * face_content
        edge = 0.0
        for i in range(n_cell - 1):
            if stack.layer[i + 1] != 0:
                break
            edge += stack.width[i, d]
            carried = speed * density * (1.0 - edge / thick)
            share = stack.width[i, d] / (stack.width[i, d] + stack.width[i + 1, d])
            flow = carried * (dense[i] * (1.0 - share) + dense[i + 1] * share)
            rate[i] += flow
            rate[i + 1] -= flow
            main[i] += carried * (1.0 - share) * warm[i]
            above[i] += carried * share * warm[i + 1]
            below[i + 1] -= carried * (1.0 - share) * warm[i]
            main[i + 1] -= carried * share * warm[i + 1]
    lost = speed * (ablation.heat[d] + density * face_content)
    return flux_in, -flux_back, ring_total, lost, slope_in, slope_back


@njit(cache=True, nogil=True, error_model="numpy")
def _newton(stack, ablation, d, held, inverse, known, gone_known, state, rest, probe, system):  # type: ignore[no-untyped-def]
    """Solve one stage with the face held at the onset, or free; return the speed and whether it converged."""
    n_cell = stack.layer.size
    right, column, ratio = system
    speed = state[n_cell + 2] if held else 0.0
    if held:
        state[0] = ablation.onset[d]
    temperature = state[: n_cell + 2]
    for _ in range(MOST_ITERATIONS):
        gone = gone_known + speed / inverse
        flux, _, _, _, slope_in, slope_back = _rates(stack, ablation, d, temperature, speed, gone, rest)
        link, rate, heat, gain, below, main, above, _, _ = rest
        last = temperature[n_cell + 1]
        conducted = link[0] * (temperature[0] - temperature[1])
        back_right = -(film_flux(stack.back, d, last)[0] - link[n_cell] * (last - temperature[n_cell]))
        for i in range(n_cell):
            right[i + 1] = -(rate[i] - inverse * (heat[i] - known[i]))
            column[i + 1] = 0.0
        right[0] = 0.0 if held else -(flux - conducted)
        column[0], column[n_cell + 1] = 0.0, 0.0
        right[n_cell + 1] = back_right
        balance = flux - conducted - speed * ablation.heat[d]
        steeper = 0.0
        if held:
            nudge = 1e-4 * speed + 1e-9
            near = gone_known + (speed + nudge) / inverse
            other, _, _, _, _, _ = _rates(stack, ablation, d, temperature, speed + nudge, near, probe)
            for i in range(n_cell):
                moved = probe[1][i] - inverse * (probe[2][i] - known[i])
                column[i + 1] = (moved + right[i + 1]) / nudge
            moved = other - probe[0][0] * (temperature[0] - temperature[1]) - (speed + nudge) * ablation.heat[d]
            steeper = (moved - balance) / nudge
            column[n_cell + 1] = 0.0
        # forward sweep over face, cells, face; the two right-hand sides together
        pivot = 1.0 if held else slope_in - link[0]
        ratio[0] = 0.0 if held else link[0] / pivot
        right[0] /= pivot
        column[0] /= pivot
        for i in range(1, n_cell + 2):
            if i <= n_cell:
                low, middle, high = below[i - 1], main[i - 1] - inverse * gain[i - 1], above[i - 1]
            else:
                low, middle, high = link[n_cell], slope_back - link[n_cell], 0.0
            pivot = middle - low * ratio[i - 1]
            ratio[i] = high / pivot
            right[i] = (right[i] - low * right[i - 1]) / pivot
            column[i] = (column[i] - low * column[i - 1]) / pivot
        for i in range(n_cell, -1, -1):
            right[i] -= ratio[i] * right[i + 1]
            column[i] -= ratio[i] * column[i + 1]
        faster = 0.0
        if held:
            faster = (-balance - link[0] * right[1]) / (steeper - link[0] * column[1])
        largest = 0.0
        for i in range(n_cell + 2):
            change = right[i] - column[i] * faster
            temperature[i] += change
            largest = max(largest, abs(change))
        speed += faster
        if not np.isfinite(speed) or not np.isfinite(largest):
            return np.nan, False
        if largest <= TOLERANCE and abs(faster) <= SPEED_TOLERANCE * abs(speed) + 1e-12:
            return speed, True
    return speed, False


@njit(cache=True, nogil=True, error_model="numpy")
def _stage(stack, ablation, d, held, inverse, known, gone_known, state, rest, probe, system):  # type: ignore[no-untyped-def]
    """Solve one stage whichever way holds; return speed, whether held, and whether it converged."""
    guess = state.copy()
    speed, good = 0.0, False
    for _ in range(2):
        speed, good = _newton(stack, ablation, d, held, inverse, known, gone_known, state, rest, probe, system)
        wrong = speed < 0.0 if held else state[0] > ablation.onset[d] + TOLERANCE
        if good and not wrong:
            break
        state[:] = guess
        held = not held
        state[-1] = 0.0
    state[-1] = speed if held else 0.0
    return held, good


@njit(cache=True, nogil=True, error_model="numpy")
def _write(stack, d, column, depth, state, gone, history, k):  # type: ignore[no-untyped-def]
    """Write one state at the fixed depths, from the nodes that have moved with the face."""
    n_cell = stack.layer.size
    n_depth = depth.shape[0]
    place, level, link = np.empty(n_depth), np.empty(n_depth), np.empty(n_cell + 1)
    thick = 0.0
    for i in range(n_cell):
        if stack.layer[i] == 0:
            thick += stack.width[i, d]
    left = 1.0 - gone / thick
    _links(stack, d, left, link)
    node = 0
    for i in range(n_cell + 2):
        level[node] = state[i]
        node += 1
        if 0 < i < n_cell and stack.layer[i] != stack.layer[i - 1]:
            flux = link[i] * (state[i] - state[i + 1])
            level[node] = state[i] - flux * stack.half[i - 1, d] * (left if stack.layer[i - 1] == 0 else 1.0)
            level[node + 1] = state[i + 1] + flux * stack.half[i, d]
            node += 2
    top = 0  # nodes that move
    for j in range(n_depth):
        place[j] = gone + left * depth[j, column] if depth[j, column] < thick * (1 - 1e-12) else depth[j, column]
        top += depth[j, column] < thick * (1 - 1e-12)
    history.faces[k, 0, column] = state[0]
    history.faces[k, 1, column] = state[n_cell + 1]
    near = 0
    for j in range(n_depth):
        z = depth[j, column]
        if j >= top or gone == 0.0:
            history.temperature[k, j, column] = level[j]
        elif z < gone:
            history.temperature[k, j, column] = np.nan
        else:
            while near < top - 1 and place[near + 1] < z:
                near += 1
            share = (z - place[near]) / (place[near + 1] - place[near])
            history.temperature[k, j, column] = level[near] + share * (level[near + 1] - level[near])


@njit(cache=True, nogil=True, error_model="numpy")
def _recede(stack, ablation, march, d, column, depth, history, recession, consumed, watch):  # type: ignore[no-untyped-def]
    """March one draw on from the step in which its face arrives; `d` is its column in the block, `column` in the whole."""
    n_cell = stack.layer.size
    thick = 0.0
    for i in range(n_cell):
        if stack.layer[i] == 0:
            thick += stack.width[i, d]
    c, f = n_cell, n_cell + 2
    rest = (np.empty(c + 1), np.empty(c), np.empty(c), np.empty(c), np.empty(c), np.empty(c), np.empty(c),
            np.empty(c), np.empty(c))  # fmt: skip
    probe = (np.empty(c + 1), np.empty(c), np.empty(c), np.empty(c), np.empty(c), np.empty(c), np.empty(c),
             np.empty(c), np.empty(c))  # fmt: skip
    system = (np.empty(f), np.empty(f), np.empty(f))
    old, middle, new = np.empty(f + 1), np.empty(f + 1), np.empty(f + 1)
    old_rate, old_heat, known, middle_heat, middle_rate = (
        np.empty(c), np.empty(c), np.empty(c), np.empty(c), np.empty(c)
    )  # fmt: skip
    flow, middle_flow = np.zeros(4), np.zeros(4)
    total, middle_total, new_total = np.zeros(5), np.zeros(5), np.zeros(5)
    old[:f] = watch.temperature[:, d]
    old[f] = 0.0
    flow[0], flow[1], flow[2], flow[3], _, _ = _rates(stack, ablation, d, old[:f], old[f], 0.0, rest)
    old_rate[:], old_heat[:] = rest[1], rest[2]
    total[:3] = watch.total[:, d]
    total[4] = old_heat.sum()
    arrival = watch.step[d]
    gone, now, ended, held = 0.0, march.step[:arrival].sum(), False, False
    for n in range(arrival, march.step.size):
        whole, done, attempt = march.step[n], 0.0, march.step[n]
        k = march.first[n]
        while not ended and done < whole * (1.0 - 1e-12):
            step = min(attempt, whole - done)
            inverse = 1.0 / (DIAGONAL * step)
            known[:] = old_heat + DIAGONAL * step * old_rate
            middle[:] = old
            middle_gone = gone + DIAGONAL * step * old[f]
            middle_held, good = _stage(
                stack, ablation, d, held, inverse, known, middle_gone, middle, rest, probe, system
            )
            middle_gone += DIAGONAL * step * middle[f]
            new_gone = gone
            new_held = middle_held
            if good and middle_gone < thick:
                m = _rates(stack, ablation, d, middle[:f], middle[f], middle_gone, rest)
                middle_flow[0], middle_flow[1], middle_flow[2], middle_flow[3] = m[0], m[1], m[2], m[3]
                middle_heat[:] = rest[2]
                middle_rate[:] = inverse * (middle_heat - known)
                known[:] = old_heat + WEIGHT * step * (old_rate + middle_rate)
                new[:] = old + (middle - old) / GAMMA
                new_gone = gone + WEIGHT * step * (old[f] + middle[f])
                new[f] = middle[f]
                new_held, good = _stage(
                    stack, ablation, d, middle_held, inverse, known, new_gone, new, rest, probe, system
                )
                new_gone += DIAGONAL * step * new[f]
            bite = max(middle_gone, new_gone) - gone
            arrives = (new_held != held or middle_held != held) and step > 0.2 * whole
            if (not good or arrives or bite > LARGEST_BITE * (thick - gone)) and step > 1e-6 * whole:
                attempt = 0.5 * step
                continue
            flows = _rates(stack, ablation, d, new[:f], new[f], new_gone, rest)
            for i in range(4):
                middle_total[i] = total[i] + DIAGONAL * step * (flow[i] + middle_flow[i])
                past = WEIGHT * step * (flow[i] + middle_flow[i])
                if i == 0:
                    flow[i] = flows[0]
                elif i == 1:
                    flow[i] = flows[1]
                elif i == 2:
                    flow[i] = flows[2]
                else:
                    flow[i] = flows[3]
                new_total[i] = total[i] + past + DIAGONAL * step * flow[i]
            middle_total[4], new_total[4] = middle_heat.sum(), rest[2].sum()
            while k < march.first[n + 1] and march.share[k] * whole <= (done + step) * (1.0 + 1e-12):
                s = min(max((march.share[k] * whole - done) / step, 0.0), 1.0)
                a = (s - GAMMA) * (s - 1.0) / GAMMA
                b = s * (s - 1.0) / (GAMMA * (GAMMA - 1.0))
                e = s * (s - GAMMA) / (1.0 - GAMMA)
                recession[k, column] = min(max(a * gone + b * middle_gone + e * new_gone, gone), max(gone, new_gone))
                if new_gone == 0.0:
                    recession[k, column] = 0.0
                _write(stack, d, column, depth, a * old + b * middle + e * new, recession[k, column], history, k)
                for i in range(3):
                    history.energy[k, i, column] = a * total[i] + b * middle_total[i] + e * new_total[i]
                history.energy[k, 3, column] = a * total[4] + b * middle_total[4] + e * new_total[4]
                history.energy[k, 4, column] = a * total[3] + b * middle_total[3] + e * new_total[3]
                k += 1
            old_rate[:] = inverse * (rest[2] - known)
            old_heat[:] = rest[2]
            old[:], total[:] = new, new_total
            gone, held = new_gone, new_held
            done += step
            attempt = max(whole - done, 1e-9 * whole)
            if thick - gone < CONSUMED * thick:
                ended = True
                consumed[column] = now + done + (thick - gone) / old[f]
        if ended:
            for j in range(k, march.first[n + 1]):
                history.temperature[j, :, column] = np.nan
                history.faces[j, :, column] = np.nan
                history.energy[j, :, column] = np.nan
                recession[j, column] = thick
        now += whole


@njit(cache=True, nogil=True, error_model="numpy")
def recede_block(stack, ablation, march, low, depth, history, recession, consumed, watch):  # type: ignore[no-untyped-def]
    """March on the draws of a block whose face has passed the onset; overwrite from the column `low` on."""
    for d in range(stack.initial.size):
        column = low + d
        sound = np.isfinite(stack.initial[d]) and np.isfinite(ablation.onset[d])
        sound = sound and np.isfinite(ablation.heat[d]) and np.isfinite(ablation.char[d])
        sound = sound and np.isfinite(stack.film[:, d].sum()) and np.isfinite(stack.back[:, d].sum())
        sound = sound and np.isfinite(stack.link[:, d].sum()) and np.isfinite(stack.mass[:, d].sum())
        for i in range(stack.capacity.shape[0]):
            sound = sound and np.isfinite(stack.capacity[i, d]) and np.isfinite(stack.ring_temperature[i, d])
            for j in range(stack.knot.shape[1]):
                sound = sound and np.isfinite(stack.knot[i, j, d]) and np.isfinite(stack.slope[i, j, d])
                sound = sound and np.isfinite(stack.span[i, j, d])
        if sound and np.isfinite(stack.ring[:, d].sum()):
            if watch.step[d] >= 0:
                _recede(stack, ablation, march, d, column, depth, history, recession, consumed, watch)
        else:
            history.temperature[:, :, column] = np.nan
            history.faces[:, :, column] = np.nan
            history.energy[:, :, column] = np.nan
            recession[:, column] = np.nan
            consumed[column] = np.nan
