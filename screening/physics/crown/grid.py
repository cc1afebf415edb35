"""Where the crown is cut into cells and when it is looked at: graded in depth, geometric in time."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from screening.errors import OutOfRange
from screening.physics.crown.arrays import March

Floats = NDArray[np.float64]

GRADING = 2.5
"""ln(width of the coarsest cell / width of the finest) within a layer, in the limit of many cells."""
FINEST_OF_A_LAYER = 12
"""Cells that every layer gets at least, when the number for the whole stack is given."""
FIRST_STEP = 1e-3
"""First step [s] at 96 steps; it scales with 96 / steps, so that halving all steps halves this one too."""
USUAL_STEPS = 96


def share_cells(cells: int | Sequence[int], layers: int) -> tuple[int, ...]:
    """Return the number of cells of each layer.

    One number is shared out evenly, with at least 12 to a layer (all for the first when there is only one); it does
    not depend on the layers' thickness, so that draws of one material share a grid.

    Raises
    ------
    OutOfRange
        fewer than 4 cells in a layer, or as many numbers as there are not layers.
    """
    if isinstance(cells, int | np.integer):
        each = int(cells) if layers == 1 else max(FINEST_OF_A_LAYER, -(-int(cells) // layers))
        shares: tuple[int, ...] = (each,) * layers
    else:
        shares = tuple(int(count) for count in cells)
    if len(shares) != layers:
        raise OutOfRange(f"cells: {len(shares)} numbers for {layers} layers; give one for each, or one for all")
    if min(shares) < 4:
        raise OutOfRange(f"cells: {min(shares)} in a layer; at least 4 are needed")
    return shares


def cell_edges(cells: int, fine_above: bool, fine_below: bool) -> Floats:
    """Return edges of the cells of one layer as shares of its thickness, `(cells + 1,)`.

    Widths fall off exponentially towards a fine end, by e^2.5 in all; with two fine ends towards both, from the
    middle. A smooth map of an even grid, so that the scheme stays of second order on refinement.
    """
    even = np.linspace(0.0, 1.0, cells + 1)
    if fine_above and fine_below:
        rate = GRADING
        edges = 0.5 * (1.0 + np.tanh(rate * (even - 0.5)) / math.tanh(rate / 2))
    elif fine_above:
        edges = np.expm1(GRADING * even) / math.expm1(GRADING)
    elif fine_below:
        edges = 1.0 - np.expm1(GRADING * even[::-1]) / math.expm1(GRADING)
    else:
        edges = even
    edges[0], edges[-1] = 0.0, 1.0
    return edges


def crown_times(end: float, steps: int = USUAL_STEPS) -> Floats:
    """Return `(steps + 1,)` times [s] from 0 to `end`, their distance growing geometrically from about 1 ms.

    t_j = end expm1(b j/n)/expm1(b), with b such that the first of 96 steps is 1 ms; a run of under 0.1 s is cut
    evenly. b depends on `end` alone: doubling the steps halves every one of them, to first order.

    Raises
    ------
    OutOfRange
        `end` not positive and finite, or fewer than 4 steps.
    """
    if not (math.isfinite(end) and end > 0):
        raise OutOfRange(f"end of the run: got {end} s; it must be positive and finite")
    if steps < 4:
        raise OutOfRange(f"steps: got {steps}; at least 4 are needed")
    even = np.linspace(0.0, 1.0, steps + 1)
    short = FIRST_STEP * USUAL_STEPS
    if end <= short * 1.001:
        return end * even
    growth = brentq(lambda b: b * end - short * math.expm1(b), 1e-6, 60.0, xtol=1e-14)
    times = end * np.expm1(growth * even) / math.expm1(growth)
    times[-1] = end
    return np.asarray(times, dtype=np.float64)


def plan_march(times: Floats, steps: int) -> March:
    """Return the steps to the last of `times`, and in which step and where in it each of `times` falls."""
    grid = crown_times(float(times[-1]), steps)
    step = np.diff(grid)
    inside = np.clip(np.searchsorted(grid, times, side="left") - 1, 0, step.size - 1)
    first = np.searchsorted(inside, np.arange(step.size + 1), side="left")
    return March(step, first.astype(np.int64), (times - grid[inside]) / step[inside])
