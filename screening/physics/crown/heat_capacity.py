"""How does a polymer's heat capacity rise with temperature, and where does melting take heat?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange
from screening.physics.crown.conduction import Layer

Floats = NDArray[np.float64]

LIQUID_OVER_SOLID = 1.22
"""Heat capacity of liquid over solid at 298 K: a fit over polymers, roughly +-0.1."""
HIGHEST = 1200.0
"""Last knot [K]; beyond it the curve is level, and no polymer is left."""
COLDEST = 150.0


def heat_capacity_curve(
    heat_capacity_298: ArrayLike, transition: ArrayLike, over: float = 10.0
) -> tuple[Floats, Floats]:
    """Return knots of the heat capacity of a polymer of which only one value is known.

    Holds from about 150 K to decomposition, within some 5-10 %: c(T)/c(298 K) = 0.106 + 0.003 T of the solid, up to
    the transition; 1.22 (0.64 + 0.0012 T) of the liquid beyond.

    Parameters
    ----------
    heat_capacity_298 : of the solid at 298 K, a number or `(n_draw,)` [J/(kg K)]
    transition : glass transition of an amorphous polymer, melting point of a semicrystalline one, a number or
        `(n_draw,)` [K]
    over : width of the step at the transition [K]

    Returns
    -------
    temperature [K] and heat capacity [J/(kg K)], each `(4,)` or `(4, n_draw)`, as `Layer` takes them

    Raises
    ------
    OutOfRange
        heat capacity not positive, or transition outside 160-1,190 K.

    Notes
    -----
    The two lines cross at 439 K; above, the liquid's line would lie below the solid's and the heat capacity fall at
    the transition, as no polymer's does. There the curve goes on from the solid's value with the liquid's slope.

    References
    ----------
    van Krevelen & te Nijenhuis 2009, Properties of Polymers, chapter 5 (slopes of solid and liquid), from memory;
    the ratio 1.22 is this project's fit.
    """
    c, at = np.broadcast_arrays(
        np.asarray(heat_capacity_298, dtype=np.float64), np.asarray(transition, dtype=np.float64)
    )
    if np.any(c <= 0):
        raise OutOfRange(f"heat_capacity_298: got {np.nanmin(c):g} J/(kg K); must be above 0")
    if np.any(at - over / 2 <= COLDEST) or np.any(at + over / 2 >= HIGHEST):
        raise OutOfRange(f"transition: got {np.nanmin(at):g} to {np.nanmax(at):g} K; must lie in 160-1190 K")
    start, end = at - over / 2, at + over / 2
    solid_end = 0.106 + 0.003 * start
    liquid = np.maximum(LIQUID_OVER_SOLID * (0.64 + 0.0012 * end), solid_end)
    last = liquid + LIQUID_OVER_SOLID * 0.0012 * (HIGHEST - end)
    knots = np.array([np.full_like(at, COLDEST), start, end, np.full_like(at, HIGHEST)])
    values = c * np.array([np.full_like(at, 0.106 + 0.003 * COLDEST), solid_end, liquid, last])
    return knots, values


def with_heat_capacity_curve(layer: Layer, transition: ArrayLike, over: float = 10.0) -> Layer:
    """Return the layer with its heat capacity, taken as that at 298 K, rising as in `heat_capacity_curve`."""
    knots, values = heat_capacity_curve(layer.heat_capacity, transition, over)
    return replace(layer, heat_capacity_temperature=knots, heat_capacity_values=values)


def with_fusion(layer: Layer, melting_point: ArrayLike, heat_of_fusion: ArrayLike, half_width: float = 15.0) -> Layer:
    """Return the layer with its heat of fusion spread over the melting range, as a triangle on its heat capacity.

    The triangle stands on melting_point +- half_width, its area is the heat of fusion, exactly.

    Parameters
    ----------
    layer : with a heat capacity curve, or a single value
    melting_point : a number or `(n_draw,)` [K]
    heat_of_fusion : of the part as it is, crystallinity and filler included, 0 or more, a number or `(n_draw,)`
        [J/kg]
    half_width : [K]

    Raises
    ------
    OutOfRange
        heat of fusion negative, or half width not positive.
    """
    melting, heat = np.broadcast_arrays(
        np.asarray(melting_point, dtype=np.float64), np.asarray(heat_of_fusion, dtype=np.float64)
    )
    if np.any(heat < 0) or not half_width > 0:
        raise OutOfRange(f"fusion: got {np.nanmin(heat):g} J/kg over +-{half_width:g} K; heat 0 up, width above 0")
    base_knots, base_values = _curve(layer)
    count = max((part.shape[1] for part in (base_knots, base_values) if part.ndim == 2), default=0)
    draws = count or (melting.size if melting.ndim else 1)
    knots, values = (_columns(part, draws) for part in (base_knots, base_values))
    tent = np.broadcast_to(melting, draws) + half_width * np.array([-1.0, 0.0, 1.0])[:, None]
    every = np.sort(np.vstack([knots, tent]), axis=0)
    peak = np.broadcast_to(heat, draws) / half_width
    bump = peak * np.maximum(0.0, 1.0 - np.abs(every - np.broadcast_to(melting, draws)) / half_width)
    total = _straight(knots, values, every) + bump
    if not count and melting.ndim == 0:
        every, total = every[:, 0], total[:, 0]
    return replace(layer, heat_capacity_temperature=every, heat_capacity_values=total)


def _curve(layer: Layer) -> tuple[Floats, Floats]:
    if layer.heat_capacity_temperature is None or layer.heat_capacity_values is None:
        level = np.asarray(layer.heat_capacity, dtype=np.float64)
        return np.array([COLDEST, HIGHEST]), np.array([level, level])
    return (
        np.asarray(layer.heat_capacity_temperature, dtype=np.float64),
        np.asarray(layer.heat_capacity_values, dtype=np.float64),
    )


def _columns(part: Floats, draws: int) -> Floats:
    return np.broadcast_to(part if part.ndim == 2 else part[:, None], (part.shape[0], draws))


def _straight(knots: Floats, values: Floats, wanted: Floats) -> Floats:
    """Interpolate column by column, level beyond the ends; knots of no distance count as one."""
    span = np.diff(knots, axis=0)
    slope = np.where(span == 0.0, 0.0, np.diff(values, axis=0) / np.where(span == 0.0, 1.0, span))
    inside = np.clip(wanted[:, None] - knots[None, :-1], 0.0, span[None])
    return np.asarray(values[0] + np.sum(slope[None] * inside, axis=1))
