"""What does a crown's section carry whose strength varies through its depth, draw by draw, compiled?

The strength is piecewise linear over depth (temperature straight between nodes, strength straight between knots), so
every integral here is exact for those straight lines.
"""

from __future__ import annotations

from typing import NamedTuple

import numba
import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray


class Sections(NamedTuple):
    """The sections of all draws at all moments: SI, contiguous, each array with its draws.

    depth (n_depth, n_draw); temperature (n_time, n_depth, n_draw); knots [K] and heights [Pa] of the strength curves
    (n_curve, n_knot, n_draw), of which each curve uses its first `knot_count` (n_curve,); layer (n_depth - 1,), the curve
    of each cell; recession (n_time, n_draw); bonded, whether layers bend as one.
    """

    depth: FloatArray
    temperature: FloatArray
    knots: FloatArray
    heights: FloatArray
    knot_count: NDArray[np.int64]
    layer: NDArray[np.int64]
    recession: FloatArray
    bonded: bool


class Draw(NamedTuple):
    """One draw of `Sections`; `known` (n_curve,): the curve holds no NaN; `lines`: room for one section's straight lines."""

    depth: FloatArray
    temperature: FloatArray
    knots: FloatArray
    heights: FloatArray
    knot_count: NDArray[np.int64]
    known: NDArray[np.bool_]
    layer: NDArray[np.int64]
    recession: FloatArray
    bonded: bool
    lines: FloatArray


class Factors(NamedTuple):
    """What turns moment and force into pressure, (n_draw,): k/R^2 [1/m2] and 2 s/R [1/m]."""

    moment: FloatArray
    force: FloatArray


class Cell(NamedTuple):
    """One cell of the section: depth [m] and temperature [K] of its upper and its lower face."""

    top: float
    bottom: float
    hot: float
    cold: float


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
def _add_cell(cell: Cell, knots: FloatArray, heights: FloatArray, lines: FloatArray, count: int) -> int:
    """Append the straight strength lines of one cell to `lines` (depth, depth, strength, strength)."""
    hot, cold = cell.hot, cell.cold
    rising = cold >= hot
    piece = -1
    for knot in range(knots.size):
        if (rising and knots[knot] <= hot) or (not rising and knots[knot] < hot):
            piece = knot
    start, here = cell.top, hot
    while True:
        target = piece + 1 if rising else piece
        last = True
        if 0 <= target < knots.size:
            last = knots[target] >= cold if rising else knots[target] <= cold
        there = cold if last else knots[target]
        end = cell.bottom if last else cell.top + (cell.bottom - cell.top) * (there - hot) / (cold - hot)
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
def _one_draw(sections: Sections, draw: int, lines: FloatArray) -> Draw:
    """Return one draw's section, with its curves looked through for NaN."""
    knots, heights = sections.knots[:, :, draw].copy(), sections.heights[:, :, draw].copy()
    known = np.ones(knots.shape[0], np.bool_)
    for curve in range(knots.shape[0]):
        for knot in range(sections.knot_count[curve]):
            if np.isnan(knots[curve, knot] + heights[curve, knot]):
                known[curve] = False
    return Draw(
        sections.depth[:, draw].copy(),
        sections.temperature[:, :, draw],
        knots,
        heights,
        sections.knot_count,
        known,
        sections.layer,
        sections.recession[:, draw],
        sections.bonded,
        lines,
    )


@numba.njit(cache=True, error_model="numpy")
def _room(sections: Sections) -> FloatArray:
    """Return room for the straight lines of one section."""
    return np.empty(((sections.depth.shape[0] - 1) * (sections.knots.shape[1] + 1), 4))


@numba.njit(cache=True, error_model="numpy")
def _moment_and_force(draw: Draw, time: int) -> tuple[float, float]:
    """Return (plastic moment [N], force [N/m]) of one draw's section at one moment; loose layers add moments."""
    temperature, recession = draw.temperature[time].copy(), draw.recession[time]
    depth, layer, lines = draw.depth, draw.layer, draw.lines
    count, first, moment, force = 0, 0, 0.0, 0.0
    for cell in range(depth.size - 1):
        if cell > 0 and layer[cell] != layer[cell - 1] and not draw.bonded:
            bent, pull = _moment_of_lines(lines, first, count)
            moment += bent
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
        curve = layer[cell]
        if hot != hot or cold != cold or bottom != bottom or top != top or not draw.known[curve]:
            return np.nan, np.nan
        used = draw.knot_count[curve]
        knots, heights = draw.knots[curve, :used], draw.heights[curve, :used]
        count = _add_cell(Cell(top, bottom, hot, cold), knots, heights, lines, count)
    bent, pull = _moment_of_lines(lines, first, count)
    return moment + bent, force + pull


@numba.njit(cache=True, error_model="numpy")
def _limit(draw: Draw, time: int, bending: float, shear: float) -> float:
    """Return the pressure [Pa] that one draw's crown carries at one moment: in bending or in shear, the lower."""
    moment, force = _moment_and_force(draw, time)
    return min(bending * moment, shear * force)


@numba.njit(cache=True, nogil=True, error_model="numpy")
def section_history(sections: Sections) -> tuple[FloatArray, FloatArray]:
    """Return plastic moment [N] and force [N/m], each (n_time, n_draw)."""
    n_time, _, n_draw = sections.temperature.shape
    moment, force, lines = np.empty((n_time, n_draw)), np.empty((n_time, n_draw)), _room(sections)
    for draw in range(n_draw):
        part = _one_draw(sections, draw, lines)
        for time in range(n_time):
            moment[time, draw], force[time, draw] = _moment_and_force(part, time)
    return moment, force


@numba.njit(cache=True, nogil=True, error_model="numpy")
def limit_history(sections: Sections, factors: Factors) -> FloatArray:
    """Return the limit pressure [Pa], (n_time, n_draw)."""
    n_time, _, n_draw = sections.temperature.shape
    limit, lines = np.empty((n_time, n_draw)), _room(sections)
    for draw in range(n_draw):
        part = _one_draw(sections, draw, lines)
        for time in range(n_time):
            limit[time, draw] = _limit(part, time, factors.moment[draw], factors.force[draw])
    return limit


@numba.njit(cache=True, nogil=True, error_model="numpy")
def bracket_collapse(
    sections: Sections, factors: Factors, load: FloatArray, carried: FloatArray, levels: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Bisect the time levels, per draw: return the level after the crossing and the limit before and after.

    The load is taken to be carried at the first `carried` (n_draw,) levels, and only the first `levels` are looked at.
    Level 0: collapsed at the start; `levels`: not within them; -1: a needed value is NaN. The limit must not rise in time.
    """
    n_draw = load.size
    level, before, after = np.empty(n_draw), np.empty(n_draw), np.empty(n_draw)
    lines = _room(sections)
    for draw in range(n_draw):
        low, high = int(carried[draw]) - 1, int(levels[draw])
        limit_low, limit_high = np.nan, np.nan
        level[draw], before[draw], after[draw] = high, np.nan, np.nan
        if low >= high - 1:
            continue
        part = _one_draw(sections, draw, lines)
        last = high
        probe = 0 if low < 0 else last - 1
        while True:
            limit = _limit(part, probe, factors.moment[draw], factors.force[draw])
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
