"""How hot does the crown get, how deep, and when? One-dimensional conduction through a stack of layers."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import ArrayLike

from screening.physics.crown.arrays import Arrival, Counts, Floats, History, Stack, new_flows
from screening.physics.crown.cells import build_ablation, build_stack, node_depth
from screening.physics.crown.crown_heat import CrownHeat, SteadyCrown
from screening.physics.crown.grid import USUAL_STEPS, plan_march
from screening.physics.crown.lanes import Ablation, Rest
from screening.physics.crown.layers import Decomposition, Film, Layer, check_times
from screening.physics.crown.march import heating_left, march_block, steady_block
from screening.physics.crown.recession import Looks, recede

Follow = Callable[[CrownHeat], Floats]

DRAWS_ABREAST = 64


def heat_crown(
    layers: Sequence[Layer],
    film: Film,
    back: Film,
    initial: ArrayLike,
    times: ArrayLike,
    decomposition: Decomposition | None = None,
    cells: int | Sequence[int] = 48,
    steps: int = 96,
    follow: Follow | None = None,
) -> CrownHeat:
    """Return temperature against depth and time of a crown that is at `initial` when the films begin to act.

    Holds for a crown that is wide against its thickness, with constant films. Each layer obeys

        rho c(T) dT/dt = d/dx (k dT/dx) - g (T - T_ring)/thickness

    solved by finite volumes (enthalpy kept exactly, graded cells) and TR-BDF2 (second order, L-stable) with
    Newton's method at each stage. With `decomposition` the gas face is held at the onset once it gets there and
    recedes at v = (q_net - q_conducted)/(rho dH), the film of gas thinned by the vapour; see `recession` and `blowing`.

    Parameters
    ----------
    layers : from the gas side to the crankcase
    film, back : what the gas face and the face beneath exchange heat with
    initial : [K], a number or `(n_draw,)`
    times : rising, from 0 on, at which the result is wanted (not the steps) [s], `(n_time,)`
    decomposition : of the top layer
    cells : for the whole stack (shared out evenly, at least 12 a layer), or one number for each layer
    steps : to the last of `times`, growing geometrically from about a millisecond
    follow : receding is dear; given what is known so far, return up to when [s] it is wanted, `(n_draw,)`. It is asked
        once all faces that get to their onset are there, and again until it asks for no more. Left out: to the last

    Returns
    -------
    CrownHeat
        `(n_time, n_depth)`, or `(n_time, n_depth, n_draw)` if any input has draws. NaN in gives NaN in that draw.

    Raises
    ------
    OutOfRange
        a number that means nothing here, with the field's name; draws of different number; times not rising.

    Notes
    -----
    A draw's result does not depend on what other draws are computed with it, to the last bit. At 48 cells and 96
    steps a 6 mm polymer crown is within 0.5 K of the exact solution at every depth from 0.1 s on, for a gas 800 K hotter
    than the start. A draw for which no solution is
    found is NaN from there on.

    References
    ----------
    Bank et al. 1985, IEEE Trans. Electron Devices 32, 1992 (TR-BDF2); Hosea & Shampine 1996, Appl. Numer. Math.
    20, 21 (as a Runge-Kutta method): both from memory.

    Examples
    --------
    >>> crown = heat_crown([Layer(6e-3, 0.25, 1200.0, 1500.0)], Film(150.0, 900.0), Film(80.0, 360.0), 300.0, [60.0])
    >>> float(crown.surface_temperature[0]).__round__()
    731
    """
    when = check_times(times)
    stack, straight, single = build_stack(layers, film, back, initial, cells, decomposition)
    ablation = None if decomposition is None else build_ablation(decomposition, layers[0], stack.initial.size)
    return _heat(stack, straight, single, ablation, when, steps, follow)


def _heat(
    stack: Stack,
    straight: bool,
    single: bool,
    ablation: Ablation | None,
    times: Floats,
    steps: int,
    follow: Follow | None,
) -> CrownHeat:
    """March all draws, first as they conduct, then as they recede for as long as `follow` wants it."""
    count, depth, last = stack.initial.size, node_depth(stack), times.size - 1
    history = History.blank(times.size, depth.shape[0], count)
    onset = np.full(count, np.inf) if ablation is None else ablation.onset
    march, arrival = plan_march(times, steps), Arrival.awaited(onset, stack.layer.size)
    # like with like: a block of draws that soon get to their onset need not be marched to the end
    order = np.arange(count) if ablation is None else np.argsort(-heating_left(stack, onset), kind="stable")
    _in_blocks(stack, order, lambda part, block: march_block(part, march, straight, block, history, arrival))
    if times[0] == 0.0:
        # the faces, which hold no heat, are in balance with their films from the first moment on; before it they are not
        history.temperature[0], history.face[0], history.back[0] = (stack.initial,) * 3
    unsolved = np.isnan(history.face[-1]) & np.isinf(arrival.time)
    history.recession[:, unsolved], history.speed[:, unsolved], history.consumed[unsolved] = np.nan, np.nan, np.nan
    seen = np.full(count, last)

    def so_far() -> CrownHeat:
        followed = np.where(seen < 0, 0.0, times[seen])
        return CrownHeat.of(times, depth, history, followed, stack.initial, single)

    if ablation is not None:
        columns = _await_onset(ablation, arrival, times, seen, history)
        rest = Rest.at(arrival)
        while columns.size:
            until = np.full(count, last) if follow is None else _look(times, follow(so_far()))
            columns = columns[until[columns] > seen[columns]]
            _recede(stack, ablation, rest, columns, Looks(times, depth, until), USUAL_STEPS / steps, history)
            seen[columns] = np.where(np.isinf(history.consumed[columns]), until[columns], last)
    return so_far()


def steady_crown(layers: Sequence[Layer], film: Film, back: Film, cells: int | Sequence[int] = 48) -> SteadyCrown:
    """Return the state that a crown settles to if nothing decomposes.

    Exact for conduction in series; with a ring conductance within the error of the grid. Parameters as in
    `heat_crown`; raises as it does.

    Returns
    -------
    SteadyCrown

    References
    ----------
    Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, section 3.1.3 (composite wall), from memory.

    Examples
    --------
    900 K and 360 K over 1/150 + 0.006/0.25 + 1/80 m2 K/W: 12.5 kW/m2, so 817 K on the gas face:

    >>> steady = steady_crown([Layer(6e-3, 0.25, 1200.0, 1500.0)], Film(150.0, 900.0), Film(80.0, 360.0))
    >>> round(float(steady.temperature[0]))
    817
    """
    stack, _, single = build_stack(layers, film, back, 300.0, cells)
    depth = node_depth(stack)
    temperature, flow = np.empty(depth.shape), new_flows(depth.shape[1])
    every = np.arange(depth.shape[1])
    _in_blocks(stack, every, lambda part, block: steady_block(part, block, temperature, flow))
    return SteadyCrown.of(depth, temperature, flow, single)


def _await_onset(ablation: Ablation, arrival: Arrival, times: Floats, seen: Counts, history: History) -> Counts:
    """Return the draws that have come to their onset; set the last look `seen` of each and void what comes after it.

    Draws whose decomposition is NaN are void from the start.
    """
    unknown = np.isnan(ablation.onset + ablation.heat + ablation.char + ablation.vapour)
    arrived = np.isfinite(arrival.time) & ~unknown
    seen[arrived] = np.searchsorted(times, arrival.time[arrived], side="right") - 1
    later = (np.arange(times.size)[:, None] > seen) | unknown
    np.copyto(history.temperature, np.nan, where=later[:, None])
    for part in (history.face, history.back, *history.energy, history.recession, history.speed):
        part[later] = np.nan
    history.consumed[unknown] = np.nan
    return np.flatnonzero(arrived & (seen < times.size - 1))


def _look(times: Floats, wanted: ArrayLike) -> Counts:
    """Return the first look that is not before the time wanted, else the last, `(n_draw,)`."""
    return np.minimum(np.searchsorted(times, np.atleast_1d(wanted), side="left"), times.size - 1)


def _recede(
    stack: Stack, ablation: Ablation, rest: Rest, columns: Counts, looks: Looks, scale: float, history: History
) -> None:
    """March draws on from where they rest, those with the longest way first."""
    if columns.size == 0:  # the kernel reads the first of them unasked
        return
    columns = columns[np.argsort(-looks.until[columns], kind="stable")]
    recede(stack, ablation, rest, columns, looks, scale, history)


def _in_blocks(stack: Stack, order: Counts, work: Callable[[Stack, Counts], None]) -> None:
    """Call `work(part, columns)` on blocks of draws, taken in this order."""
    for low in range(0, order.size, DRAWS_ABREAST):
        block = order[low : low + DRAWS_ABREAST]
        work(stack.taken(block), block)


__all__ = ["CrownHeat", "Decomposition", "Film", "Layer", "SteadyCrown", "heat_crown", "steady_crown"]
