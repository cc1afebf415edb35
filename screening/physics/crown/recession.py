"""How fast does a decomposing crown recede? Many draws abreast, each with its own steps.

Until the gas face gets to the onset of decomposition nothing differs from plain conduction. From then on the face is
held at the onset and takes up what the polymer beneath does not conduct away:

    v = ds/dt = (q_net - q_conducted)/(rho dH),     v >= 0;

where v would be negative the face comes off the onset again. The cells of the top layer keep their share of what is
left of it (Landau's coordinate), so heat is carried across their moving edges; char adds the resistance
char_yield char_retained s/k_char between gas and face and stores no heat. Depth and temperatures are solved for
together, by the two stages of TR-BDF2; a draw begins at the moment at which its face arrives, with short steps.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from screening.physics.crown.arrays import DIAGONAL, GAMMA, WEIGHT
from screening.physics.crown.lanes import keep, leave, load, new_lanes, write_draw
from screening.physics.crown.march import blend_weights
from screening.physics.crown.recession_stage import (
    FAILED,
    MOST_ITERATIONS,
    MOVES,
    MOVING,
    SETTLED,
    correct,
    end_stage,
    evaluate,
)

LARGEST_BITE = 0.2
"""A step is meant to take this share of what is left of the layer, and taken again shorter if it takes twice that."""
CONSUMED = 0.02
"""The layer counts as consumed when only this share of it is left; the rest goes at the last speed."""
STEP_OF_AGE = 0.13
"""Longest step against the time since the start, about what the march of plain conduction takes."""
FIRST_OF_AGE = 0.02
"""The first step after the arrival, likewise; each may be twice the one before."""
SHORTEST = 1e-7
"""A draw that finds no solution in a step this short against its age is given up as NaN."""


@njit(cache=True, nogil=True, error_model="numpy")
def _guess(lanes, d, factor, held):  # type: ignore[no-untyped-def]
    """Fill what one lane's stage is tried with: old + factor (middle - old)."""
    old, middle, new = lanes.old, lanes.middle, lanes.new
    for i in range(old.temperature.shape[0]):
        new.temperature[i, d] = old.temperature[i, d] + factor * (middle.temperature[i, d] - old.temperature[i, d])
    if held > 0.0:
        new.temperature[0, d] = lanes.onset[d]
    new.speed[d] = max(old.speed[d] + factor * (middle.speed[d] - old.speed[d]), 0.0) * held
    new.held[d] = held
    lanes.stands[d] = MOVES


@njit(cache=True, nogil=True, error_model="numpy")
def _first_stage(lanes, d, step, before, inverse, known, gone_known):  # type: ignore[no-untyped-def]
    """Set one lane to solve the first stage of a step, a trapezoidal rule."""
    old = lanes.old
    for i in range(old.heat.shape[0]):
        known[i, d] = old.heat[i, d] + DIAGONAL * step * old.rate[i, d]
    inverse[d] = 1.0 / (DIAGONAL * step)
    gone_known[d] = old.gone[d] + DIAGONAL * step * old.speed[d]
    # the stage of the step before is still there: go on along the line from it
    _guess(lanes, d, -GAMMA * step / ((1.0 - GAMMA) * before), old.held[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _second_stage(lanes, d, step, known, gone_known):  # type: ignore[no-untyped-def]
    """Set one lane to solve the second stage of its step, a backward difference."""
    old, middle = lanes.old, lanes.middle
    for i in range(old.heat.shape[0]):
        known[i, d] = old.heat[i, d] + WEIGHT * step * (old.rate[i, d] + middle.rate[i, d])
    gone_known[d] = old.gone[d] + WEIGHT * step * (old.speed[d] + middle.speed[d])
    _guess(lanes, d, 1.0 / GAMMA, middle.held[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _holds(lanes, d, scale):  # type: ignore[no-untyped-def]
    """Tell whether the step of one lane holds, by whether it was solved and what it bit off."""
    old, middle, new = lanes.old, lanes.middle, lanes.new
    bite = max(middle.gone[d], new.gone[d]) - old.gone[d]
    good = lanes.stands[d] == SETTLED and np.isfinite(new.temperature[0, d] + new.gone[d])
    return good and not bite > 2.0 * LARGEST_BITE * min(scale, 1.0) * (lanes.thick[d] - old.gone[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _add_up(lanes, d, step):  # type: ignore[no-untyped-def]
    """Fill the energies of one lane that have flowed by the stage and by the end of its step."""
    old, middle, new = lanes.old, lanes.middle, lanes.new
    for i in range(4):
        both = old.flow[i, d] + middle.flow[i, d]
        middle.total[i, d] = old.total[i, d] + DIAGONAL * step * both
        new.total[i, d] = old.total[i, d] + WEIGHT * step * both + DIAGONAL * step * new.flow[i, d]


@njit(cache=True, nogil=True, error_model="numpy")
def _next_step(lanes, d, step, now, scale):  # type: ignore[no-untyped-def]
    """Return how long a lane's next step is meant to be [s]."""
    longest = min(2.0 * step, scale * (STEP_OF_AGE * now + 1e-3))
    if lanes.old.speed[d] > 0.0:
        left = lanes.thick[d] - lanes.old.gone[d]
        longest = min(longest, min(scale, 1.0) * LARGEST_BITE * left / lanes.old.speed[d])
    return longest


@njit(cache=True, nogil=True, error_model="numpy")
def _within(longest, now, end):  # type: ignore[no-untyped-def]
    """Return the step that ends in time, and does not leave a sliver."""
    return end - now if longest > 0.99 * (end - now) else longest


@njit(cache=True, nogil=True, error_model="numpy")
def _void(history, recession, k, column, gone):  # type: ignore[no-untyped-def]
    """Write from the look `k` on that there is no crown, or none known."""
    history.temperature[k:, :, column] = np.nan
    history.faces[k:, :, column] = np.nan
    history.energy[k:, :, column] = np.nan
    history.speed[k:, column] = 0.0 if gone == gone else np.nan
    recession[k:, column] = gone


@njit(cache=True, nogil=True, error_model="numpy")
def _finish_step(lanes, d, column, k, now, step, end, times, depth, out):  # type: ignore[no-untyped-def]
    """Write what one lane's step has passed; return the next look and whether the draw is done."""
    history, recession, consumed = out
    _add_up(lanes, d, step)
    last = now + step >= end * (1.0 - 1e-12)
    while k < times.size and times[k] <= (end if last else now + step):
        weights = blend_weights(min((times[k] - now) / step, 1.0))
        write_draw(lanes, d, weights, column, depth, k, history, recession)
        k += 1
    keep(lanes.new, d, lanes.old, d)
    left = lanes.thick[d] - lanes.old.gone[d]
    if left < CONSUMED * lanes.thick[d]:
        consumed[column] = now + step + left / lanes.old.speed[d]
        _void(history, recession, k, column, lanes.thick[d])
        last = True
    return k, last


@njit(cache=True, nogil=True, error_model="numpy")
def recede(stack, ablation, arrival, rest, columns, until, times, depth, scale, abreast, out):  # type: ignore[no-untyped-def]
    """March the draws `columns` on from where they rest; overwrite their history from there to the look `until`.

    `until` (n_draw,) is the index of the last look wanted of each draw; `scale` shortens all steps; `abreast` is how
    many draws stand side by side. Each lane is at its own stage of its own step and waits for no other; one that is
    done takes the next draw.
    """
    lanes = new_lanes(stack, abreast)
    run, second, tried = np.zeros(abreast, np.bool_), np.zeros(abreast, np.bool_), np.zeros(abreast, np.int64)
    column, k, end = np.zeros(abreast, np.int64), np.zeros(abreast, np.int64), np.zeros(abreast)
    step, meant, now, before = np.ones(abreast), np.ones(abreast), np.zeros(abreast), np.full(abreast, np.inf)
    inverse, gone_known, known = np.ones(abreast), np.zeros(abreast), np.zeros((stack.layer.size, abreast))
    moving = lanes.row[MOVING]
    for d in range(abreast):
        load(stack, ablation, arrival, rest, columns[0], lanes, d)  # lanes without a draw need numbers, too
        _first_stage(lanes, d, 1.0, np.inf, inverse, known, gone_known)
    waiting, active = 0, 0
    while active > 0 or waiting < columns.size:
        for d in range(abreast):
            while not run[d] and waiting < columns.size:
                column[d], now[d] = columns[waiting], rest.time[columns[waiting]]
                waiting += 1
                k[d] = np.searchsorted(times, now[d], side="right")
                end[d] = times[until[column[d]]]
                if k[d] <= until[column[d]]:
                    load(stack, ablation, arrival, rest, column[d], lanes, d)
                    meant[d] = rest.step[column[d]]
                    if meant[d] == 0.0:
                        meant[d] = scale * (FIRST_OF_AGE * now[d] + 1e-3)
                    step[d] = _within(meant[d], now[d], end[d])
                    run[d], before[d], second[d], tried[d] = True, np.inf, False, 0
                    _first_stage(lanes, d, step[d], before[d], inverse, known, gone_known)
                    active += 1
        evaluate(lanes, inverse, gone_known)
        for d in range(abreast):
            moving[d] = 1.0 if run[d] and lanes.stands[d] == MOVES else 0.0
            if not run[d] or lanes.stands[d] == MOVES:
                continue
            tried[d] = 0
            if lanes.stands[d] == SETTLED:
                end_stage(lanes, d, inverse, known)
                if not second[d]:
                    keep(lanes.new, d, lanes.middle, d)
                    second[d] = True
                    _second_stage(lanes, d, step[d], known, gone_known)
                    continue
            second[d], done = False, False
            if _holds(lanes, d, scale):
                k[d], done = _finish_step(lanes, d, column[d], k[d], now[d], step[d], end[d], times, depth, out)
                now[d] += step[d]
                before[d] = step[d]
                meant[d] = _next_step(lanes, d, max(step[d], 0.5 * meant[d]), now[d], scale)
                if done:
                    leave(lanes, d, end[d], meant[d], rest, column[d])
                step[d] = _within(meant[d], now[d], end[d])
            else:
                step[d] *= 0.25
                meant[d] = step[d]
                before[d] = np.inf
                if step[d] < SHORTEST * now[d]:
                    _void(out[0], out[1], k[d], column[d], np.nan)
                    out[2][column[d]], done = np.nan, True
            if done:
                run[d] = False
                active -= 1
            else:
                _first_stage(lanes, d, step[d], before[d], inverse, known, gone_known)
        correct(lanes, inverse, known)
        for d in range(abreast):
            tried[d] += 1
            if tried[d] > MOST_ITERATIONS and lanes.stands[d] == MOVES:
                lanes.stands[d] = FAILED
