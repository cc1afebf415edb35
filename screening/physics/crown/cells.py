"""How the layers of a crown become cells: the arrays that the kernels march."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange
from screening.physics.crown.arrays import FILM, Floats, Stack
from screening.physics.crown.grid import cell_edges, share_cells
from screening.physics.crown.lanes import Ablation
from screening.physics.crown.layers import Decomposition, Film, Layer, check_crown


def build_stack(
    layers: Sequence[Layer],
    film: Film,
    back: Film,
    initial: ArrayLike,
    cells: int | Sequence[int],
    decomposition: Decomposition | None = None,
) -> tuple[Stack, bool, bool]:
    """Check everything; return the arrays, whether the problem is linear, and whether it has no draws.

    Raises
    ------
    OutOfRange
        as `heat_crown` does.
    """
    if not layers:
        raise OutOfRange("layers: none given; a crown has at least one")
    parts: list[tuple[str, Any]] = [(f"layer {place + 1}", layer) for place, layer in enumerate(layers)]
    parts += [("film", film), ("back", back)]
    parts += [("decomposition", decomposition)] if decomposition is not None else []
    start = np.asarray(initial, dtype=np.float64)
    count, single = check_crown(parts, start)
    shares = share_cells(cells, len(layers))
    curves = [_heat_capacity(parts[i][0], layer, count) for i, layer in enumerate(layers)]
    gas, beneath = _film("film", film, count), _film("back", back, count)
    stack = _assemble(layers, shares, curves, gas, beneath, np.broadcast_to(start, count))
    curved = any(layer.heat_capacity_temperature is not None for layer in layers) or any(
        _given(side.radiation_emissivity) or _given(side.coefficient_feedback) for side in (film, back)
    )
    return stack, not curved, single


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


def _film(place: str, film: Film, count: int) -> NDArray[np.void]:
    """Return a film by draw, as `FILM`."""
    about = np.abs(_row(film.feedback, count)) + np.abs(_row(film.coefficient_feedback, count))
    must = about if _given(film.feedback) or _given(film.coefficient_feedback) else 0.0
    rows = np.empty(count, FILM)
    rows["coefficient"] = film.coefficient
    rows["temperature"] = film.temperature
    rows["feedback"] = film.feedback
    rows["feedback_at"] = _needed(place, "feedback_at", film.feedback_at, must, count)
    rows["coefficient_feedback"] = film.coefficient_feedback
    rows["emissivity"] = film.radiation_emissivity
    rows["surroundings"] = _needed(
        place, "radiation_temperature", film.radiation_temperature, film.radiation_emissivity, count
    )
    return rows


def _heat_capacity(place: str, layer: Layer, count: int) -> tuple[Floats, Floats, Floats]:
    """Return heat capacity up to the first knot, the knots, and the change of slope at each."""
    if (layer.heat_capacity_temperature is None) != (layer.heat_capacity_values is None):
        raise OutOfRange(f"{place}, heat_capacity_temperature and heat_capacity_values: give both or neither")
    if layer.heat_capacity_temperature is None or layer.heat_capacity_values is None:
        none = np.empty((0, count))
        return _row(layer.heat_capacity, count), none, none
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
    rise = np.diff(values, axis=0)
    if np.any((span == 0.0) & (np.abs(rise) > 1e-9 * np.abs(values[1:]))):
        raise OutOfRange(f"{place}, heat_capacity_values: jump at a knot; give the jump a width, as 1 K")
    slope = np.where(span == 0.0, 0.0, rise / np.where(span == 0.0, 1.0, span))
    level = np.zeros((1, count))
    bend = np.diff(slope, axis=0, prepend=level, append=level)
    # a knot that is not known must spoil its draw even while nothing has got as warm as that
    return np.where(np.isnan(knots + bend).any(axis=0), np.nan, values[0]), knots, bend


def _assemble(
    layers: Sequence[Layer],
    shares: tuple[int, ...],
    curves: Sequence[tuple[Floats, Floats, Floats]],
    film: NDArray[np.void],
    back: NDArray[np.void],
    initial: Floats,
) -> Stack:
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
    knots = max(curve[1].shape[0] for curve in curves)
    knot, bend = np.full((len(layers), knots, count), np.inf), np.zeros((len(layers), knots, count))
    datum = np.zeros((len(layers), count))
    for i, curve in enumerate(curves):
        size = curve[1].shape[0]
        knot[i, :size], bend[i, :size] = curve[1:]
        for j in range(size):
            datum[i] += 0.5 * bend[i, j] * np.maximum(initial - knot[i, j], 0.0) ** 2
    capacity = np.array([curve[0] for curve in curves])
    return Stack(own, width, link, half, mass, capacity, knot, bend, datum, ring, bore, film, back, np.array(initial))


def node_depth(stack: Stack) -> Floats:
    """Return depth of faces, cells and both sides of interfaces, `(n_depth, n_draw)` [m]."""
    edges = np.vstack([np.zeros(stack.initial.size), np.cumsum(stack.width, axis=0)])
    rows = [edges[0]]
    for i in range(stack.layer.size):
        rows.append(0.5 * (edges[i] + edges[i + 1]))
        if i + 1 < stack.layer.size and stack.layer[i + 1] != stack.layer[i]:
            rows += [edges[i + 1], edges[i + 1]]
    return np.array([*rows, edges[-1]])


def build_ablation(decomposition: Decomposition, top: Layer, count: int) -> Ablation:
    """Return the decomposition of the top layer by draw."""
    given = np.ndim(decomposition.density) or not np.isnan(np.asarray(decomposition.density, dtype=np.float64))
    density = _row(decomposition.density if given else top.density, count)
    leaves = 1.0 - np.asarray(decomposition.char_yield)  # char is left or shed, but is no vapour
    char = np.asarray(decomposition.char_yield) * np.asarray(decomposition.char_retained)
    return Ablation(
        _row(decomposition.onset, count).copy(),
        density * _row(decomposition.gasification_heat, count),
        _row(char / np.asarray(decomposition.char_conductivity), count).copy(),
        density * _row(leaves * np.asarray(decomposition.vapour_heat_capacity), count),
    )
