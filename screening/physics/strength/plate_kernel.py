"""Plastic moment and force of a crown section whose strength varies through its depth, compiled.

One draw and one moment at a time: the strength is piecewise linear over depth (temperature straight between
nodes, strength straight between knots), so every integral here is exact for those straight lines.
"""

from __future__ import annotations

import numba
import numpy as np
from numpy.typing import NDArray

from screening.physics.curves.temperature_curve import FloatArray


@numba.njit(cache=True, error_model="numpy")
def _piece_value(piece: int, temperature: float, knots: FloatArray, heights: FloatArray) -> float:
    """Strength on one straight piece: -1 below the first knot, n_knot - 1 above the last."""
    if piece < 0:
        return heights[0]
    if piece >= knots.size - 1:
        return 0.0
    width = knots[piece + 1] - knots[piece]
    if width <= 0.0:
        return heights[piece + 1]
    return heights[piece] + (heights[piece + 1] - heights[piece]) * (temperature - knots[piece]) / width


@numba.njit(cache=True, error_model="numpy")
def _add_cell(
    top: float,
    bottom: float,
    hot: float,
    cold: float,
    knots: FloatArray,
    heights: FloatArray,
    lines: FloatArray,
    count: int,
) -> int:
    """Append the straight strength lines of one cell to `lines` (depth, depth, strength, strength)."""
    rising = cold >= hot
    piece = -1
    for knot in range(knots.size):
        if (rising and knots[knot] <= hot) or (not rising and knots[knot] < hot):
            piece = knot
    start, here = top, hot
    while True:
        target = piece + 1 if rising else piece
        last = True
        if 0 <= target < knots.size:
            last = knots[target] >= cold if rising else knots[target] <= cold
        there = cold if last else knots[target]
        end = bottom if last else top + (bottom - top) * (there - hot) / (cold - hot)
        if end > start:
            lines[count, 0] = start
            lines[count, 1] = end
            lines[count, 2] = _piece_value(piece, here, knots, heights)
            lines[count, 3] = _piece_value(piece, there, knots, heights)
            count += 1
        if last:
            return count
        start, here = end, there
        piece += 1 if rising else -1


@numba.njit(cache=True, error_model="numpy")
def _moment_of_lines(lines: FloatArray, first: int, last: int) -> tuple[float, float]:
    """Return (moment about the axis of equal force, whole force) per width of lines first..last-1."""
    force = 0.0
    for row in range(first, last):
        force += 0.5 * (lines[row, 2] + lines[row, 3]) * (lines[row, 1] - lines[row, 0])
    if not force > 0.0:
        return (force if force != force else 0.0), force
    half, above, axis = 0.5 * force, 0.0, lines[last - 1, 1]
    for row in range(first, last):
        height = lines[row, 1] - lines[row, 0]
        left, right = lines[row, 2], lines[row, 3]
        part = 0.5 * (left + right) * height
        if above + part >= half and part > 0.0:
            need = (half - above) / height
            slope = right - left
            root = np.sqrt(max(left * left + 2.0 * slope * need, 0.0))
            axis = lines[row, 0] + height * min(2.0 * need / (left + root), 1.0)
            break
        above += part
    moment = 0.0
    for row in range(first, last):
        moment += _about(axis, lines[row, 0], lines[row, 1], lines[row, 2], lines[row, 3])
    return moment, force


@numba.njit(cache=True, error_model="numpy")
def _about(axis: float, start: float, end: float, left: float, right: float) -> float:
    """Integral of strength times distance from `axis` over one straight line of strength."""
    if start < axis < end:
        middle = left + (right - left) * (axis - start) / (end - start)
        return _about(axis, start, axis, left, middle) + _about(axis, axis, end, middle, right)
    a, b = abs(start - axis), abs(end - axis)
    return (end - start) * (a * (2.0 * left + right) + b * (left + 2.0 * right)) / 6.0


@numba.njit(cache=True, error_model="numpy")
def known_curves(knots: FloatArray, heights: FloatArray, knot_count: FloatArray) -> NDArray[np.bool_]:
    """Return which of one draw's curves (n_curve, n_knot) hold no NaN, (n_curve,)."""
    known = np.ones(knots.shape[0], np.bool_)
    for curve in range(knots.shape[0]):
        for knot in range(int(knot_count[curve])):
            if np.isnan(knots[curve, knot] + heights[curve, knot]):
                known[curve] = False
    return known


@numba.njit(cache=True, error_model="numpy")
def section_of_draw(
    depth: FloatArray,
    temperature: FloatArray,
    knots: FloatArray,
    heights: FloatArray,
    knot_count: FloatArray,
    known: NDArray[np.bool_],
    layer: FloatArray,
    recession: float,
    bonded: bool,
    lines: FloatArray,
) -> tuple[float, float]:
    """Return (plastic moment [N], force [N/m]) of one section: depth and temperature (n_depth,).

    knots, heights (n_curve, n_knot); known (n_curve,) whether a curve has no NaN; layer (n_depth - 1,) the curve of each
    cell; loose layers add moments.
    """
    count, first, moment, force = 0, 0, 0.0, 0.0
    for cell in range(depth.size - 1):
        if cell > 0 and layer[cell] != layer[cell - 1] and not bonded:
            part, pull = _moment_of_lines(lines, first, count)
            moment += part
            force += pull
            first = count
        top, bottom = depth[cell], depth[cell + 1]
        if bottom <= recession or bottom <= top:
            continue
        hot, cold = temperature[cell], temperature[cell + 1]
        if top < recession:
            if hot == hot:
                hot += (cold - hot) * (recession - top) / (bottom - top)
            else:
                hot = cold
            top = recession
        if hot != hot or cold != cold or bottom != bottom or top != top:
            return np.nan, np.nan
        curve = int(layer[cell])
        used = int(knot_count[curve])
        if not known[curve]:
            return np.nan, np.nan
        count = _add_cell(top, bottom, hot, cold, knots[curve, :used], heights[curve, :used], lines, count)
    part, pull = _moment_of_lines(lines, first, count)
    return moment + part, force + pull


@numba.njit(cache=True, nogil=True, error_model="numpy")
def section_history(
    depth: FloatArray,
    temperature: FloatArray,
    knots: FloatArray,
    heights: FloatArray,
    knot_count: FloatArray,
    layer: FloatArray,
    recession: FloatArray,
    bonded: bool,
) -> tuple[FloatArray, FloatArray]:
    """Return moment and force (n_time, n_draw); depth (n_depth, n_draw), knots (n_curve, n_knot, n_draw)."""
    n_time, n_depth, n_draw = temperature.shape
    moment, force = np.empty((n_time, n_draw)), np.empty((n_time, n_draw))
    for draw in range(n_draw):
        lines = np.empty(((n_depth - 1) * (knots.shape[1] + 1), 4))
        here, curve_knots, curve_heights = (
            depth[:, draw].copy(),
            knots[:, :, draw].copy(),
            heights[:, :, draw].copy(),
        )
        known = known_curves(curve_knots, curve_heights, knot_count)
        for time in range(n_time):
            moment[time, draw], force[time, draw] = section_of_draw(
                here,
                temperature[time, :, draw].copy(),
                curve_knots,
                curve_heights,
                knot_count,
                known,
                layer,
                recession[time, draw],
                bonded,
                lines,
            )
    return moment, force


@numba.njit(cache=True, nogil=True, error_model="numpy")
def bracket_collapse(
    depth: FloatArray,
    temperature: FloatArray,
    knots: FloatArray,
    heights: FloatArray,
    knot_count: FloatArray,
    layer: FloatArray,
    recession: FloatArray,
    bonded: bool,
    moment_factor: FloatArray,
    force_factor: FloatArray,
    load: FloatArray,
    carried: FloatArray,
    levels: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Bisect the time levels, per draw: return the level after the crossing and the limit before and after.

    The load is taken to be carried at the first `carried` (n_draw,) levels, and only the first `levels` are looked at.
    Level 0: collapsed at the start; `levels`: not within them; -1: a needed value is NaN. The limit must not rise in time.
    """
    _, n_depth, n_draw = temperature.shape
    level, before, after = np.empty(n_draw), np.empty(n_draw), np.empty(n_draw)
    lines = np.empty(((n_depth - 1) * (knots.shape[1] + 1), 4))
    for draw in range(n_draw):
        low, high = int(carried[draw]) - 1, int(levels[draw])
        limit_low, limit_high = np.nan, np.nan
        level[draw], before[draw], after[draw] = high, np.nan, np.nan
        if low >= high - 1:
            continue
        here, curve_knots, curve_heights = (
            depth[:, draw].copy(),
            knots[:, :, draw].copy(),
            heights[:, :, draw].copy(),
        )
        known = known_curves(curve_knots, curve_heights, knot_count)
        last = high
        probe = 0 if low < 0 else last - 1
        while True:
            moment, force = section_of_draw(
                here,
                temperature[probe, :, draw].copy(),
                curve_knots,
                curve_heights,
                knot_count,
                known,
                layer,
                recession[probe, draw],
                bonded,
                lines,
            )
            limit = min(moment_factor[draw] * moment, force_factor[draw] * force)
            if not (limit == limit and load[draw] == load[draw]):
                high = -1
                break
            if probe == low or limit > load[draw]:
                low, limit_low = probe, limit
            else:
                high, limit_high = probe, limit
            if high - low <= 1:
                if low < 0 or high == last or limit_low == limit_low:
                    break
                probe = low  # what was taken to be carried has not been looked at yet
            else:
                probe = last - 1 if high == last else (low + high) // 2
        level[draw], before[draw], after[draw] = high, limit_low, limit_high
    return level, before, after
