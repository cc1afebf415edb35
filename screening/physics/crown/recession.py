"""How fast does a decomposing crown recede? Many draws abreast, each with its own steps.

Until the gas face gets to the onset of decomposition nothing differs from plain conduction. From then on the face is
held at the onset and takes up what the polymer beneath does not conduct away:

    v = ds/dt = (q_net - q_conducted)/(rho dH),     v >= 0;

where v would be negative the face comes off the onset again. The cells of the top layer keep their share of what is
left of it (Landau's coordinate), so heat is carried across their moving edges; char adds the resistance
char_yield char_retained s/k_char between gas and face and stores no heat. The vapour, rho (1 - char_yield) v, thins the
film of gas (`blowing`); what it takes up on its way through the char is left out, the safe side. Depth and temperatures are solved for
together, by the two stages of TR-BDF2; a draw begins at the moment at which its face arrives, with short steps.
"""

from __future__ import annotations

from typing import Any, NamedTuple, get_type_hints

import numpy as np
from numba import njit

from screening.physics.crown.arrays import Counts, Floats, History, Stack
from screening.physics.crown.lanes import Ablation, Lanes, Rest, keep, leave, load, new_lanes, new_newton
from screening.physics.crown.recession_history import write_draw
from screening.physics.crown.recession_stage import (
    FAILED,
    MOST_ITERATIONS,
    MOVES,
    SETTLED,
    correct,
    end_stage,
    evaluate,
)
from screening.physics.crown.tr_bdf2 import DIAGONAL, GAMMA, before_end, before_stage, to_stage, weights_at

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


LANES = 32
"""Draws that stand side by side."""


class Looks(NamedTuple):
    """When and where the crown is looked at, and how far each draw is wanted."""

    times: Floats  # (n_time,) [s]
    depth: Floats  # (n_depth, n_draw) [m]
    until: Counts  # (n_draw,) index of the last look wanted


class Clock(NamedTuple):
    """Where one lane is in its own step; the kernel keeps a record of the same fields, `CLOCK`."""

    runs: bool  # whether a draw is in the lane
    second: bool  # whether it is at the second stage
    tried: int  # iterations of the stage so far
    column: int  # the draw
    look: int  # the next look
    end: float  # of the way [s]
    step: float  # [s]
    meant: float  # the step before it was cut to end in time [s]
    now: float  # [s]
    before: float  # the step before [s], inf if its stage is no guide


CLOCK = np.dtype(list(get_type_hints(Clock).items()), align=True)


@njit(cache=True, nogil=True, error_model="numpy")
def _guess(lanes: Lanes, d: int, factor: float, held: float) -> None:
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
def _first_stage(lanes: Lanes, d: int, step: float, before: float) -> None:
    """Set one lane to solve the first stage of a step."""
    old = lanes.old
    for i in range(old.heat.shape[0]):
        lanes.known[i, d] = before_stage(old.heat[i, d], old.rate[i, d], step)
    lanes.inverse[d] = 1.0 / (DIAGONAL * step)
    lanes.gone_known[d] = before_stage(old.gone[d], old.speed[d], step)
    # the stage of the step before is still there: go on along the line from it
    _guess(lanes, d, -to_stage(step, before), old.held[d])


@njit(cache=True, nogil=True, error_model="numpy")
def _second_stage(lanes: Lanes, d: int, step: float) -> None:
    """Set one lane to solve the second stage of its step."""
    old, middle = lanes.old, lanes.middle
    for i in range(old.heat.shape[0]):
        lanes.known[i, d] = before_end(old.heat[i, d], old.rate[i, d], middle.rate[i, d], step)
    lanes.gone_known[d] = before_end(old.gone[d], old.speed[d], middle.speed[d], step)
    _guess(lanes, d, 1.0 / GAMMA, middle.held[d])


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _holds(lanes: Lanes, d: int, scale: float) -> bool:
    """Whether the step of one lane holds: whether it was solved, and what it bit off."""
    old, middle, new = lanes.old, lanes.middle, lanes.new
    bite = max(middle.gone[d], new.gone[d]) - old.gone[d]
    good = lanes.stands[d] == SETTLED and np.isfinite(new.temperature[0, d] + new.gone[d])
    return bool(good and not bite > 2.0 * LARGEST_BITE * min(scale, 1.0) * (lanes.thick[d] - old.gone[d]))


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _add_up(lanes: Lanes, d: int, step: float) -> None:
    """Fill the energies of one lane that have flowed by the stage and by the end of its step."""
    old, middle, new = lanes.old, lanes.middle, lanes.new
    begin, at_stage, at_end = old.total[d], middle.total[d], new.total[d]
    first, second, third = old.flow[d], middle.flow[d], new.flow[d]
    both = first.into + second.into
    at_stage.into = before_stage(begin.into, both, step)
    at_end.into = before_stage(before_end(begin.into, first.into, second.into, step), third.into, step)
    both = first.beneath + second.beneath
    at_stage.beneath = before_stage(begin.beneath, both, step)
    at_end.beneath = before_stage(before_end(begin.beneath, first.beneath, second.beneath, step), third.beneath, step)
    both = first.ring + second.ring
    at_stage.ring = before_stage(begin.ring, both, step)
    at_end.ring = before_stage(before_end(begin.ring, first.ring, second.ring, step), third.ring, step)
    both = first.lost + second.lost
    at_stage.lost = before_stage(begin.lost, both, step)
    at_end.lost = before_stage(before_end(begin.lost, first.lost, second.lost, step), third.lost, step)


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _next_step(lanes: Lanes, d: int, step: float, now: float, scale: float) -> float:
    """Return the length that a lane's next step is meant to have [s]."""
    longest = min(2.0 * step, scale * (STEP_OF_AGE * now + 1e-3))
    if lanes.old.speed[d] > 0.0:
        left = lanes.thick[d] - lanes.old.gone[d]
        longest = min(longest, min(scale, 1.0) * LARGEST_BITE * left / lanes.old.speed[d])
    return longest


@njit(cache=True, nogil=True, error_model="numpy")
def _within(longest: float, now: float, end: float) -> float:
    """Return the step that ends in time, and does not leave a sliver."""
    return end - now if longest > 0.99 * (end - now) else longest


@njit(cache=True, nogil=True, error_model="numpy")
def _void(history: History, k: int, column: int, gone: float) -> None:
    """Write from the look `k` on that there is no crown, or none that could be solved for."""
    history.temperature[k:, :, column] = np.nan
    history.face[k:, column] = np.nan
    history.back[k:, column] = np.nan
    for i in range(5):
        history.energy[i][k:, column] = np.nan
    history.speed[k:, column] = 0.0 if gone == gone else np.nan
    history.recession[k:, column] = gone


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _finish_step(lanes: Lanes, clock: Any, d: int, looks: Looks, history: History) -> bool:
    """Write what one lane's step has passed; return whether the draw is done."""
    now, step, end, column = clock.now, clock.step, clock.end, clock.column
    _add_up(lanes, d, step)
    last = now + step >= end * (1.0 - 1e-12)
    while clock.look < looks.times.size and looks.times[clock.look] <= (end if last else now + step):
        weights = weights_at(min((looks.times[clock.look] - now) / step, 1.0))
        write_draw(lanes, d, weights, column, looks.depth, clock.look, history)
        clock.look += 1
    keep(lanes.new, d, lanes.old, d)
    left = lanes.thick[d] - lanes.old.gone[d]
    if left < CONSUMED * lanes.thick[d]:
        history.consumed[column] = now + step + left / lanes.old.speed[d]
        _void(history, clock.look, column, lanes.thick[d])
        last = True
    return bool(last)


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _set_out(lanes: Lanes, clock: Any, d: int, rest: Rest, scale: float) -> None:
    """Give the draw just loaded into the lane `d` its first step."""
    clock.meant = rest.step[clock.column]
    if clock.meant == 0.0:
        clock.meant = scale * (FIRST_OF_AGE * clock.now + 1e-3)
    clock.step = _within(clock.meant, clock.now, clock.end)
    clock.runs, clock.before, clock.second, clock.tried = True, np.inf, False, 0
    _first_stage(lanes, d, clock.step, clock.before)


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _go_on(lanes: Lanes, clock: Any, d: int, scale: float, looks: Looks, history: History) -> bool:
    """End the step of one lane, or take it again shorter; return whether the draw is done."""
    if _holds(lanes, d, scale):
        done = _finish_step(lanes, clock, d, looks, history)
        step = clock.step
        clock.now += step
        clock.before = step
        clock.meant = _next_step(lanes, d, max(step, 0.5 * clock.meant), clock.now, scale)
        clock.step = _within(clock.meant, clock.now, clock.end)
        return done
    clock.step *= 0.25
    clock.meant = clock.step
    clock.before = np.inf
    if clock.step < SHORTEST * clock.now:
        _void(history, clock.look, clock.column, np.nan)
        history.consumed[clock.column] = np.nan
        return True
    return False


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _after_iteration(
    lanes: Lanes, clock: Any, d: int, scale: float, looks: Looks, history: History, rest: Rest
) -> bool:
    """Take one lane whose stage no longer moves on to the next one; return whether its draw is done."""
    clock.tried = 0
    if lanes.stands[d] == SETTLED and not clock.second:
        keep(lanes.new, d, lanes.middle, d)
        clock.second = True
        _second_stage(lanes, d, clock.step)
        return False
    clock.second = False
    done = _go_on(lanes, clock, d, scale, looks, history)
    if done:
        leave(lanes, d, clock.end, clock.meant, rest, clock.column)
    if not done:
        _first_stage(lanes, d, clock.step, clock.before)
    return done


@njit(cache=True, nogil=True, error_model="numpy")
def recede(
    stack: Stack, ablation: Ablation, rest: Rest, columns: Counts, looks: Looks, scale: float, history: History
) -> None:
    """March the draws `columns` on from where they rest; overwrite their history from there to the last look wanted.

    `scale` shortens all steps. Each lane is at its own stage of its own step and waits for no other; one that is done
    takes the next draw.
    """
    lanes, newton = new_lanes(stack, LANES), new_newton(stack.layer.size, LANES)
    clocks, moving, stands = np.zeros(LANES, CLOCK), newton.face.moving, lanes.stands
    for d in range(LANES):
        load(stack, ablation, rest, columns[0], lanes, d)  # lanes without a draw need numbers, too
        _first_stage(lanes, d, 1.0, np.inf)
    waiting, active = 0, 0
    while active > 0 or waiting < columns.size:
        for d in range(LANES):
            clock = clocks[d]
            while not clock.runs and waiting < columns.size:
                column = columns[waiting]
                waiting += 1
                clock.column, clock.now = column, rest.time[column]
                clock.look = np.searchsorted(looks.times, clock.now, side="right")
                clock.end = looks.times[looks.until[column]]
                if clock.look <= looks.until[column]:
                    load(stack, ablation, rest, column, lanes, d)
                    _set_out(lanes, clock, d, rest, scale)
                    active += 1
        evaluate(lanes, newton)
        for d in range(LANES):
            clock = clocks[d]
            moving[d] = 1.0 if clock.runs and stands[d] == MOVES else 0.0
            if not clock.runs or stands[d] == MOVES:
                continue
            if stands[d] == SETTLED:
                end_stage(lanes, newton, d)
            if _after_iteration(lanes, clock, d, scale, looks, history, rest):
                clock.runs = False
                active -= 1
        correct(lanes, newton)
        for d in range(LANES):
            clocks[d].tried += 1
            if clocks[d].tried > MOST_ITERATIONS and stands[d] == MOVES:
                stands[d] = FAILED
