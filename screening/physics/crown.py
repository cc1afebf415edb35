"""How hot does the crown get, how deep, and when? One-dimensional conduction through a stack of layers."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange
from screening.physics import crown_kernel as kernel
from screening.physics.crown_grid import cell_edges, plan_march, share_cells
from screening.physics.crown_heat import CrownHeat, SteadyCrown
from screening.physics.crown_recession import Ablation, recede_block

Floats = NDArray[np.float64]

DRAWS_ABREAST = 64


@dataclass(frozen=True)
class Layer:
    """One layer of the stack, from the gas side down; every field a number or `(n_draw,)`.

    Parameters
    ----------
    thickness : [m]
    conductivity : [W/(m K)]
    density : [kg/m3]
    heat_capacity : [J/(kg K)]; not used where a curve is given below
    contact_resistance : towards the layer beneath (of the last layer: not used) [m2 K/W]
    ring_conductance : sideways to the bore, referred to the face area of the crown, spread evenly through the
        layer [W/(m2 K)]
    ring_temperature : of what it leads to [K]
    heat_capacity_temperature : knots of the heat capacity, rising, `(n_knot,)` or `(n_knot, n_draw)` [K]
    heat_capacity_values : heat capacity at the knots, straight between, level beyond [J/(kg K)]
    """

    thickness: ArrayLike
    conductivity: ArrayLike
    density: ArrayLike
    heat_capacity: ArrayLike
    contact_resistance: ArrayLike = 0.0
    ring_conductance: ArrayLike = 0.0
    ring_temperature: ArrayLike = np.nan
    heat_capacity_temperature: ArrayLike | None = None
    heat_capacity_values: ArrayLike | None = None


@dataclass(frozen=True)
class Film:
    """What a face exchanges heat with; every field a number or `(n_draw,)`.

    Flux into the face at T: h (T_gas - T) - emissivity sigma (T^4 - T_radiation^4), with
    T_gas = temperature + feedback (T - feedback_at) and h = coefficient + coefficient_feedback (T - feedback_at).

    Parameters
    ----------
    coefficient : [W/(m2 K)]
    temperature : of the gas or liquid [K]
    feedback : rise of the gas temperature per rise of the face's, below 1 [K/K]
    feedback_at : face temperature at which `coefficient` and `temperature` hold [K]
    coefficient_feedback : rise of the coefficient per rise of the face's temperature [W/(m2 K2)]
    radiation_emissivity : effective, of face and surroundings together [1]
    radiation_temperature : of the surroundings [K]
    """

    coefficient: ArrayLike
    temperature: ArrayLike
    feedback: ArrayLike = 0.0
    feedback_at: ArrayLike = np.nan
    coefficient_feedback: ArrayLike = 0.0
    radiation_emissivity: ArrayLike = 0.0
    radiation_temperature: ArrayLike = np.nan


@dataclass(frozen=True)
class Decomposition:
    """How the top layer decomposes at its face; every field a number or `(n_draw,)`.

    Parameters
    ----------
    onset : temperature at which the face is held while it recedes [K]
    gasification_heat : latent heat at the onset per kg of polymer lost, sensible heat not included [J/kg]
    char_yield : mass left as char per mass of polymer [1]
    char_retained : share of the char that stays on, 0 (all shed) to 1; thickness char_yield x char_retained x
        recession [1]
    char_conductivity : [W/(m K)]
    density : of the polymer that is lost [kg/m3]; nan: that of the top layer
    """

    onset: ArrayLike
    gasification_heat: ArrayLike
    char_yield: ArrayLike = 0.0
    char_retained: ArrayLike = 0.0
    char_conductivity: ArrayLike = 0.2
    density: ArrayLike = np.nan


# field -> lowest and whether it may be equal to it; feedback and the like are checked on their own
_POSITIVE = ("thickness", "conductivity", "density", "heat_capacity", "onset", "gasification_heat",
             "char_conductivity", "heat_capacity_values", "initial")  # fmt: skip
_NOT_NEGATIVE = ("contact_resistance", "ring_conductance", "coefficient", "radiation_emissivity", "temperature",
                 "char_yield", "char_retained")  # fmt: skip
_AT_MOST_ONE = ("radiation_emissivity", "char_yield", "char_retained")


def heat_crown(
    layers: Sequence[Layer],
    film: Film,
    back: Film,
    initial: ArrayLike,
    times: ArrayLike,
    decomposition: Decomposition | None = None,
    cells: int | Sequence[int] = 32,
    steps: int = 96,
) -> CrownHeat:
    """Return temperature against depth and time of a crown that is at `initial` when the films begin to act.

    Holds for a crown that is wide against its thickness, with constant films. Each layer obeys

        rho c(T) dT/dt = d/dx (k dT/dx) - g (T - T_ring)/thickness

    solved by finite volumes (enthalpy kept exactly, graded cells) and TR-BDF2 (second order, L-stable) with
    Newton's method at each stage. With `decomposition` the gas face is held at the onset once it gets there and
    recedes at v = (q_net - q_conducted)/(rho dH); see `crown_recession`.

    Parameters
    ----------
    layers : from the gas side to the crankcase
    film, back : what the gas face and the face beneath exchange heat with
    initial : [K], a number or `(n_draw,)`
    times : rising, from 0 on, at which the result is wanted (not the steps) [s], `(n_time,)`
    decomposition : of the top layer
    cells : for the whole stack (shared out evenly, at least 12 a layer), or one number for each layer
    steps : to the last of `times`, growing geometrically from about a millisecond

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
    A draw's result does not depend on what other draws are computed with it, to the last bit. At 32 cells and 96
    steps a 6 mm polymer crown is within 0.5 K of the exact solution from 0.1 s on.

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
    when = _check_times(times)
    stack, straight, single = _build_stack(layers, film, back, initial, cells, decomposition)
    march = plan_march(when, steps)
    count = stack.initial.size
    depth = _depth(stack)
    history = kernel.History(
        np.empty((when.size, depth.shape[0], count)),
        np.empty((when.size, 2, count)),
        np.empty((when.size, 5, count)),
    )
    recession = np.zeros((when.size, count))
    consumed = np.where(np.isnan(stack.initial), np.nan, np.inf)
    if decomposition is None:
        never = kernel.Watch.out(np.full(DRAWS_ABREAST, np.inf), stack.layer.size)
        _in_blocks(stack, lambda part, low: kernel.march_block(part, march, straight, low, history, never))
    else:
        ablation = _build_ablation(decomposition, layers[0], count)

        def recede(part: kernel.Stack, low: int) -> None:
            own = Ablation(*(row[low : low + DRAWS_ABREAST] for row in ablation))
            watch = kernel.Watch.out(own.onset, stack.layer.size)
            kernel.march_block(part, march, straight, low, history, watch)
            recede_block(part, own, march, low, depth, history, recession, consumed, watch)

        _in_blocks(stack, recede)
    return CrownHeat.of(when, depth, history, recession, consumed, stack.initial, single)


def steady_crown(layers: Sequence[Layer], film: Film, back: Film, cells: int | Sequence[int] = 32) -> SteadyCrown:
    """Return the state that a crown settles to if nothing decomposes.

    Exact for conduction in series; with a ring conductance within the error of the grid. Parameters as in
    `heat_crown`; raises as it does.

    References
    ----------
    Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, section 3.1.3 (composite wall), from memory.
    """
    stack, _, single = _build_stack(layers, film, back, 300.0, cells)
    depth = _depth(stack)
    temperature, flow = np.empty(depth.shape), np.empty((3, depth.shape[1]))
    _in_blocks(stack, lambda part, low: kernel.steady_block(part, low, temperature, flow))
    return SteadyCrown.of(depth, temperature, flow, single)


def _in_blocks(stack: kernel.Stack, work: Callable[[kernel.Stack, int], None]) -> None:
    """Call `work(part, low)` on blocks of draws, on as many threads as there are processors."""
    count = stack.initial.size
    lows = range(0, count, DRAWS_ABREAST)

    def one(low: int) -> None:
        own = [np.ascontiguousarray(part[..., low : low + DRAWS_ABREAST]) for part in stack[1:]]
        work(kernel.Stack(stack.layer, *own), low)

    workers = min(len(lows), os.cpu_count() or 1)
    if workers == 1:
        for low in lows:
            one(low)
        return
    with ThreadPoolExecutor(workers) as pool:
        list(pool.map(one, lows))


def _check_times(times: ArrayLike) -> Floats:
    when = np.atleast_1d(np.asarray(times, dtype=np.float64))
    if when.ndim != 1 or when.size == 0 or not np.all(np.isfinite(when)):
        raise OutOfRange(f"times: shape {when.shape}; must be one row of finite seconds")
    if when[0] < 0 or np.any(np.diff(when) <= 0) or when[-1] <= 0:
        raise OutOfRange("times: must rise, from 0 s on, and end after 0 s")
    return when


def _each_field(parts: Sequence[Any]) -> Iterator[tuple[str, str, Floats]]:
    for place, part in parts:
        for field in fields(part):
            value = getattr(part, field.name)
            if value is not None:
                yield place, field.name, np.asarray(value, dtype=np.float64)


def _check(place: str, name: str, value: Floats) -> None:
    """Refuse what no crown can have; NaN passes, to come out as NaN."""
    wrong = None
    if name in _POSITIVE and np.any(value <= 0):
        wrong = f"got {np.nanmin(value):g}; must be above 0"
    elif name in _NOT_NEGATIVE and np.any(value < 0):
        wrong = f"got {np.nanmin(value):g}; must be 0 or more"
    elif name in _AT_MOST_ONE and np.any(value > 1):
        wrong = f"got {np.nanmax(value):g}; must be at most 1"
    elif name == "feedback" and np.any(value >= 1):
        wrong = f"got {np.nanmax(value):g}; must be below 1, or the gas would outrun the wall"
    elif np.any(np.isinf(value)):
        wrong = "got inf; must be finite"
    if wrong:
        raise OutOfRange(f"{place}, {name}: {wrong}")


def _build_stack(
    layers: Sequence[Layer],
    film: Film,
    back: Film,
    initial: ArrayLike,
    cells: int | Sequence[int],
    decomposition: Decomposition | None = None,
) -> tuple[kernel.Stack, bool, bool]:
    """Check everything; return the arrays, whether the problem is linear, and whether it has no draws."""
    if not layers:
        raise OutOfRange("layers: none given; a crown has at least one")
    parts: list[tuple[str, Any]] = [(f"layer {place + 1}", layer) for place, layer in enumerate(layers)]
    parts += [("film", film), ("back", back)]
    parts += [("decomposition", decomposition)] if decomposition is not None else []
    start = np.asarray(initial, dtype=np.float64)
    _check("start", "initial", start)
    counts = {start.shape[0]} if start.ndim else set()
    for place, name, value in _each_field(parts):
        _check(place, name, value)
        flat = 1 if name.startswith("heat_capacity_") else 0
        if value.ndim > flat + 1:
            raise OutOfRange(f"{place}, {name}: got shape {value.shape}; must be a number or one for each draw")
        if value.ndim == flat + 1:
            counts.add(value.shape[flat])
    if len(counts - {1}) > 1:
        raise OutOfRange(f"draws: fields have {sorted(counts)} of them; all must have the same number, or one")
    count = max(counts, default=1)
    shares = share_cells(cells, len(layers))
    curves = [_heat_capacity(parts[i][0], layer, count) for i, layer in enumerate(layers)]
    gas, beneath = _film("film", film, count), _film("back", back, count)
    stack = _assemble(layers, shares, curves, gas, beneath, np.broadcast_to(start, count))
    curved = any(layer.heat_capacity_temperature is not None for layer in layers) or any(
        _given(side.radiation_emissivity) or _given(side.coefficient_feedback) for side in (film, back)
    )
    return stack, not curved, not counts


def _given(value: ArrayLike) -> bool:
    """Tell an array, or a number other than 0, from a plain 0: by form, so that all chunks of draws agree."""
    array = np.asarray(value)
    return bool(array.ndim or array != 0)


def _row(value: ArrayLike, count: int) -> Floats:
    return np.broadcast_to(np.asarray(value, dtype=np.float64), count)


def _needed(place: str, name: str, value: ArrayLike, because: ArrayLike, count: int) -> Floats:
    """Return `value` by draw, 0 where what needs it is 0; refuse it missing where it is needed."""
    if np.ndim(value) == 0 and np.isnan(np.asarray(value, dtype=np.float64)) and _given(because):
        raise OutOfRange(f"{place}, {name}: not given; must be, as what depends on it is not 0")
    return np.where(_row(because, count) == 0.0, 0.0, _row(value, count))


def _film(place: str, film: Film, count: int) -> Floats:
    """Return the fields of a film as `(7, n_draw)`."""
    about = np.abs(_row(film.feedback, count)) + np.abs(_row(film.coefficient_feedback, count))
    must = about if _given(film.feedback) or _given(film.coefficient_feedback) else 0.0
    return np.ascontiguousarray(
        [
            _row(film.coefficient, count),
            _row(film.temperature, count),
            _row(film.feedback, count),
            _needed(place, "feedback_at", film.feedback_at, must, count),
            _row(film.coefficient_feedback, count),
            _row(film.radiation_emissivity, count),
            _needed(place, "radiation_temperature", film.radiation_temperature, film.radiation_emissivity, count),
        ]
    )


def _heat_capacity(place: str, layer: Layer, count: int) -> tuple[Floats, Floats, Floats, Floats]:
    """Return heat capacity up to the first knot, and start, length and slope of each segment."""
    if (layer.heat_capacity_temperature is None) != (layer.heat_capacity_values is None):
        raise OutOfRange(f"{place}, heat_capacity_temperature and heat_capacity_values: give both or neither")
    if layer.heat_capacity_temperature is None or layer.heat_capacity_values is None:
        none = np.empty((0, count))
        return _row(layer.heat_capacity, count), none, none, none
    knots, values = (
        np.asarray(part, dtype=np.float64) for part in (layer.heat_capacity_temperature, layer.heat_capacity_values)
    )
    if knots.ndim == 0 or knots.shape[0] < 2 or values.shape[:1] != knots.shape[:1]:
        raise OutOfRange(f"{place}, heat_capacity_values: {values.shape} for knots {knots.shape}; must match, 2 up")
    size = (knots.shape[0], count)
    knots = np.broadcast_to(knots if knots.ndim == 2 else knots[:, None], size)
    values = np.broadcast_to(values if values.ndim == 2 else values[:, None], size)
    span = np.diff(knots, axis=0)
    if np.any(span < 0):
        raise OutOfRange(f"{place}, heat_capacity_temperature: falls by {-span.min():g} K; must rise")
    slope = np.where(span == 0.0, 0.0, np.diff(values, axis=0) / np.where(span == 0.0, 1.0, span))
    return values[0], knots[:-1], span, slope


def _assemble(
    layers: Sequence[Layer],
    shares: tuple[int, ...],
    curves: Sequence[tuple[Floats, Floats, Floats, Floats]],
    film: Floats,
    back: Floats,
    initial: Floats,
) -> kernel.Stack:
    """Cut the layers into cells."""
    count, last = initial.size, len(layers) - 1
    own = np.repeat(np.arange(len(layers)), shares)
    width, half, mass, ring = (np.empty((own.size, count)) for _ in range(4))
    bore = np.empty((len(layers), count))
    contact = np.zeros((own.size + 1, count))
    for i, layer in enumerate(layers):
        here = own == i
        part = np.diff(cell_edges(shares[i], True, i < last))[:, None]
        width[here] = part * _row(layer.thickness, count)
        half[here] = width[here] / (2.0 * _row(layer.conductivity, count))
        mass[here] = width[here] * _row(layer.density, count)
        ring[here] = part * _row(layer.ring_conductance, count)
        bore[i] = _needed(f"layer {i + 1}", "ring_temperature", layer.ring_temperature, layer.ring_conductance, count)
        if i < last:
            contact[np.flatnonzero(here)[-1] + 1] = _row(layer.contact_resistance, count)
    link = np.empty((own.size + 1, count))
    link[0], link[-1] = 1.0 / half[0], 1.0 / half[-1]
    link[1:-1] = 1.0 / (half[:-1] + contact[1:-1] + half[1:])
    segments = max(curve[1].shape[0] for curve in curves)
    knot, span, slope = (np.zeros((len(layers), segments, count)) for _ in range(3))
    for i, curve in enumerate(curves):
        size = curve[1].shape[0]
        knot[i, :size], span[i, :size], slope[i, :size] = curve[1:]
    capacity = np.array([curve[0] for curve in curves])
    return kernel.Stack(
        own, width, link, half, mass, capacity, knot, span, slope, ring, bore, film, back, np.array(initial)
    )


def _depth(stack: kernel.Stack) -> Floats:
    """Return depth of faces, cells and both sides of interfaces, `(n_depth, n_draw)` [m]."""
    edges = np.vstack([np.zeros(stack.initial.size), np.cumsum(stack.width, axis=0)])
    rows = [edges[0]]
    for i in range(stack.layer.size):
        rows.append(0.5 * (edges[i] + edges[i + 1]))
        if i + 1 < stack.layer.size and stack.layer[i + 1] != stack.layer[i]:
            rows += [edges[i + 1], edges[i + 1]]
    return np.array([*rows, edges[-1]])


def _build_ablation(decomposition: Decomposition, top: Layer, count: int) -> Ablation:
    given = np.ndim(decomposition.density) or not np.isnan(np.asarray(decomposition.density, dtype=np.float64))
    density = decomposition.density if given else top.density
    char = np.asarray(decomposition.char_yield) * np.asarray(decomposition.char_retained)
    return Ablation(
        _row(decomposition.onset, count).copy(),
        _row(density, count) * _row(decomposition.gasification_heat, count),
        _row(char / np.asarray(decomposition.char_conductivity), count).copy(),
    )
