"""How much pressure can the hot crown carry, and when does it no longer carry the engine's?

The crown is a circular plate held by the ring belt. Its yield stress varies through the depth with the
temperature; the plate collapses when its plastic moment, or the shear of its rim, no longer suffices.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange
from screening.physics.curves.first_crossing import between
from screening.physics.curves.temperature_curve import FloatArray
from screening.physics.strength.plate_kernel import bracket_collapse, section_history
from screening.physics.strength.strength import StrengthCurve

IndexArray = NDArray[np.int64]

TRESCA_SHEAR = 0.5


@dataclass(frozen=True)
class Section:
    """What the crown's section is made of, beyond one bonded layer that loses nothing.

    Parameters
    ----------
    layer : (n_depth - 1,) which curve of the list each cell (from node i to i + 1) follows; None: the first
    recession : [m] (n_time, n_draw) or (n_draw,), depth of material lost from the gas face
    bonded : True when the layers bend as one section; False when they slide and only add their moments
    """

    layer: ArrayLike | None = None
    recession: ArrayLike = 0.0
    bonded: bool = True


@dataclass(frozen=True)
class Plate:
    """How the crown is held: radius [m] and edge factor [1], numbers or (n_draw,), and tau/sigma in shear."""

    radius: ArrayLike
    edge_factor: ArrayLike
    shear_ratio: float = TRESCA_SHEAR

    def __post_init__(self) -> None:
        if np.any(np.asarray(self.radius) <= 0) or np.any(np.asarray(self.edge_factor) <= 0):
            raise OutOfRange("radius and edge_factor must be above 0")


@dataclass(frozen=True)
class _Arrays:
    """The kernel's view of a section: every array with its draws."""

    depth: FloatArray
    temperature: FloatArray
    knots: FloatArray
    heights: FloatArray
    knot_count: IndexArray
    layer: IndexArray
    recession: FloatArray
    bonded: bool
    drawn: bool

    def for_kernel(self) -> tuple[Any, ...]:
        """Return the arrays in the order in which the kernel takes them."""
        return (
            self.depth,
            self.temperature,
            self.knots,
            self.heights,
            self.knot_count,
            self.layer,
            self.recession,
            self.bonded,
        )


def plastic_moment(
    depth: ArrayLike,
    temperature: ArrayLike,
    curve: StrengthCurve | Sequence[StrengthCurve],
    section: Section | None = None,
) -> tuple[FloatArray, FloatArray]:
    """Return the plastic moment and the full force of a section, both per width.

    Holds for a rigid-plastic section of equal strength in tension and compression that carries no net force.

        N = int sigma dz;  int_0^z0 sigma dz = N/2;  M_p = int sigma |z - z0| dz

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw), from the gas face down; equal depths mark an interface
    temperature : [K] (n_time, n_depth) or (n_time, n_depth, n_draw)
    curve : one StrengthCurve, or one for each layer of `section`
    section : Section, when there are several layers or material is lost

    Returns
    -------
    (M_p [N], N [N/m]), each (n_time, n_draw), or (n_time,) when nothing has draws

    Notes
    -----
    Exact for temperatures straight between nodes. Tresca or Mises: every depth then yields at the same
    point of its own hexagon or ellipse, so the factors for a uniform plate hold with this M_p.

    Example
    -------
    >>> cold = StrengthCurve([296.15, 400.0], [40e6, 40e6])
    >>> moment, force = plastic_moment([0.0, 0.004], [[300.0, 300.0]], cold)
    >>> round(float(moment[0]), 6), round(float(force[0]), 3)
    (160.0, 160000.0)
    """
    arrays = _prepare(depth, temperature, curve, section, ())
    moment, force = section_history(*arrays.for_kernel())
    return (moment, force) if arrays.drawn else (moment[:, 0], force[:, 0])


def limit_pressure(
    depth: ArrayLike,
    temperature: ArrayLike,
    curve: StrengthCurve | Sequence[StrengthCurve],
    radius: ArrayLike,
    edge_factor: ArrayLike,
    shear_ratio: float = TRESCA_SHEAR,
    section: Section | None = None,
) -> FloatArray:
    """Return the pressure at which the crown collapses, at each moment.

    Holds for small deflection (no membrane help) and a plate that is free to draw in at its edge; so it is on
    the safe side. Bending and shear are taken apart, which is on the unsafe side near t = 0.36 R.

        p = min(k M_p/R^2, 2 s N/R),  s = tau/sigma

    Parameters
    ----------
    depth, temperature, curve, section : as in `plastic_moment`
    radius : [m] R, of the unsupported plate, (n_draw,)
    edge_factor : [1] k: 11.26 clamped (Tresca), 12.5 clamped (Mises), 6.0 simply supported, (n_draw,)
    shear_ratio : [1] s: 0.5 (Tresca) or 3**-0.5 (Mises)

    Returns
    -------
    [Pa] (n_time, n_draw), or (n_time,) when nothing has draws

    References
    ----------
    Hopkins, H. G., Prager, W. (1953), The load carrying capacities of circular plates, J. Mech. Phys.
    Solids 2, 1-13 (6.00 and 11.26); from memory, and solved again in the tests. 12.5: Hopkins, H. G., Wang,
    A. J. (1954), J. Mech. Phys. Solids 3, 117; from memory, solved again likewise.
    """
    span, factor = np.asarray(radius, dtype=float), np.asarray(edge_factor, dtype=float)
    if np.any(span <= 0) or np.any(factor <= 0):
        raise OutOfRange("radius and edge_factor must be above 0")
    moment, force = plastic_moment(depth, temperature, curve, section)
    if moment.ndim == 1 and max(span.ndim, factor.ndim):
        moment, force = moment[:, None], force[:, None]
    return np.asarray(np.minimum(factor / span**2 * moment, 2.0 * shear_ratio / span * force))


def crown_collapse_time(
    times: ArrayLike,
    depth: ArrayLike,
    temperature: ArrayLike,
    curve: StrengthCurve | Sequence[StrengthCurve],
    plate: Plate,
    load: ArrayLike,
    section: Section | None = None,
    known_until: ArrayLike = np.inf,
    carried_until: ArrayLike = -np.inf,
) -> FloatArray:
    """Return when the crown collapses, without working out the whole history.

    Holds while the limit pressure does not rise in time (a crown that warms up): the time levels are
    bisected, so about log2(n_time) of them are looked at. Same answer as where `limit_pressure` falls to the
    load.

    Parameters
    ----------
    times : [s] (n_time,)
    depth, temperature, curve, section : as in `plastic_moment`
    plate : Plate, the radius, the edge factor and the shear ratio
    load : [Pa] (n_draw,)
    known_until : [s] (n_draw,), later times are not looked at
    carried_until : [s] (n_draw,), up to then the load is known to be carried: earlier times are not looked at

    Returns
    -------
    [s] (n_draw,) or (); 0 at the start, inf not by `known_until`, NaN where a needed value is NaN
    """
    moments = np.asarray(times, dtype=float)
    span, factor, pressure = (np.asarray(v, dtype=float) for v in (plate.radius, plate.edge_factor, load))
    arrays = _prepare(depth, temperature, curve, section, (span, factor, pressure))
    n_time, _, n_draw = arrays.temperature.shape
    if moments.shape != (n_time,) or np.any(np.diff(moments) <= 0):
        raise OutOfRange(f"times {moments.shape}: must be ({n_time},) like the temperature, and rise")
    carried, levels = (
        _per_draw(np.searchsorted(moments, until, side="right").astype(float), n_draw)
        for until in (carried_until, known_until)
    )
    level, before, after = bracket_collapse(
        *arrays.for_kernel(),
        _per_draw(factor / span**2, n_draw),
        _per_draw(2.0 * plate.shear_ratio / span, n_draw),
        _per_draw(pressure, n_draw),
        carried,
        levels,
    )
    inside = (level > 0) & (level < levels)
    index = np.where(inside, level, 1).astype(int)
    drop = np.where(inside, before - after, 1.0)
    share = np.where(inside, (before - pressure) / np.where(drop > 0, drop, 1.0), 0.0)
    found = between(moments[index - 1], moments[index], share)
    result = np.where(inside, found, np.where(level == 0, 0.0, np.where(level < 0, np.nan, np.inf)))
    return result if arrays.drawn else result[0]


def _per_draw(value: FloatArray, n_draw: int) -> FloatArray:
    """Return a number or (n_draw,) as a contiguous (n_draw,)."""
    return _owned(value, (n_draw,))


def _owned(array: FloatArray, shape: tuple[int, ...]) -> FloatArray:
    """Return the array broadcast to `shape`, contiguous and writeable, the one kind the kernel is compiled for."""
    whole = array if array.shape == shape else np.broadcast_to(array, shape)
    return np.require(whole, dtype=np.float64, requirements=["C", "W"])


def _prepare(
    depth: ArrayLike,
    temperature: ArrayLike,
    curve: StrengthCurve | Sequence[StrengthCurve],
    section: Section | None,
    others: tuple[FloatArray, ...],
) -> _Arrays:
    """Return all arrays with their draw axis, refused where shapes do not fit together."""
    part = section or Section()
    curves = [curve] if isinstance(curve, StrengthCurve) else list(curve)
    field, nodes = np.asarray(temperature, dtype=float), np.asarray(depth, dtype=float)
    lost = np.asarray(part.recession, dtype=float)
    if field.ndim not in (2, 3) or nodes.ndim not in (1, 2) or field.shape[1:2] != nodes.shape[:1]:
        raise OutOfRange(
            f"depth {nodes.shape} and temperature {field.shape}: must be (n_depth[, n_draw]) and "
            "(n_time, n_depth[, n_draw])"
        )
    if np.any(np.diff(nodes, axis=0) < 0):
        raise OutOfRange("depth: must not fall from node to node")
    sizes = [field.shape[2:], nodes.shape[1:], *(value.shape for value in others)]
    sizes += [item.shape[1:] for c in curves for item in (c.temperature, c.strength)]
    sizes += [lost.shape[-1:]]
    draws = np.broadcast_shapes(*sizes)
    n_draw = draws[0] if draws else 1
    if field.ndim == 2:
        field = field[:, :, None]
    if lost.ndim == 1:
        lost = lost[None, :]
    count = np.array([c.temperature.shape[0] for c in curves], dtype=np.int64)
    knots = np.full((len(curves), int(count.max()), n_draw), np.nan)
    heights = knots.copy()
    for row, item in enumerate(curves):
        knots[row, : count[row]] = item.temperature.reshape(count[row], -1)
        heights[row, : count[row]] = item.strength.reshape(count[row], -1)
    return _Arrays(
        depth=_owned(nodes if nodes.ndim == 2 else nodes[:, None], (nodes.shape[0], n_draw)),
        temperature=_owned(field, (*field.shape[:2], n_draw)),
        knots=knots,
        heights=heights,
        knot_count=count,
        layer=_layers(part.layer, nodes.shape[0] - 1, len(curves)),
        recession=_owned(lost, (field.shape[0], n_draw)),
        bonded=part.bonded,
        drawn=bool(draws),
    )


def _layers(layer: ArrayLike | None, cells: int, curves: int) -> IndexArray:
    """Return the curve's index of each cell, refused unless there is one curve for each."""
    if layer is None:
        if curves > 1:
            raise OutOfRange(f"section.layer: got None with {curves} curves, must name the curve of each cell")
        return np.zeros(cells, dtype=np.int64)
    index = np.asarray(layer)
    if index.shape != (cells,) or np.any((index < 0) | (index >= curves)) or np.any(index != index.astype(int)):
        raise OutOfRange(f"section.layer: got shape {index.shape}, must be ({cells},) whole numbers, 0 to {curves - 1}")
    return index.astype(np.int64)
