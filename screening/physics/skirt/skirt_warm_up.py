"""How warm does the skirt get? It is heated by the warming bore through the oil film, not by the crown."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.curves.temperature_curve import FloatArray
from screening.physics.skirt.skirt_kernel import skirt_history


@dataclass(frozen=True)
class BoreWarmUp:
    """A bore that warms by first order: T = T_settled - (T_settled - T_start) exp(-t/tau); [K], [K], [s]."""

    start: ArrayLike
    settled: ArrayLike
    time_constant: ArrayLike

    def __post_init__(self) -> None:
        if np.any(np.asarray(self.time_constant) <= 0):
            raise OutOfRange("time_constant: must be above 0 s")

    def at(self, times: ArrayLike) -> FloatArray:
        """Return the bore temperature [K], (n_time, n_draw) or (n_time,)."""
        moments = np.asarray(times, dtype=float)
        start, settled, constant = (np.asarray(v, dtype=float) for v in (self.start, self.settled, self.time_constant))
        if max(start.ndim, settled.ndim, constant.ndim):
            moments = moments[:, None]
        return np.asarray(settled - (settled - start) * np.exp(-moments / constant))


@dataclass(frozen=True)
class SkirtWall:
    """The skirt as a round wall: [m], [m], [W/(m K)], [kg/m3], [J/(kg K)]; each a number or (n_draw,)."""

    outer_radius: ArrayLike
    thickness: ArrayLike
    conductivity: ArrayLike
    density: ArrayLike
    heat_capacity: ArrayLike

    def __post_init__(self) -> None:
        for field in fields(self):
            if np.any(np.asarray(getattr(self, field.name)) <= 0):
                raise OutOfRange(f"{field.name}: must be above 0")
        if np.any(np.asarray(self.thickness) >= np.asarray(self.outer_radius)):
            raise OutOfRange("thickness: must be below outer_radius")


@dataclass(frozen=True)
class SkirtHeat:
    """Temperatures of a skirt wall.

    Fields: times [s] (n_time,); radius [m] (n_cell[, n_draw]) of the cell middles, from the inside out;
    temperature [K] (n_time, n_cell[, n_draw]).
    """

    times: FloatArray
    radius: FloatArray
    temperature: FloatArray

    @property
    def mean_temperature(self) -> FloatArray:
        """The mean over the wall's volume [K], (n_time[, n_draw]): what a free ring grows by."""
        return np.asarray((self.temperature * self.radius).sum(axis=1) / self.radius.sum(axis=0))


def warm_skirt(
    times: ArrayLike,
    wall: SkirtWall,
    bore: BoreWarmUp,
    oil_film: ArrayLike,
    crankcase_film: ArrayLike,
    crankcase_temperature: ArrayLike,
    initial: ArrayLike,
    cells: int = 16,
    growth: float = 0.05,
) -> SkirtHeat:
    """Return the skirt's temperatures while the bore warms.

    Holds for constant properties, heat across the wall only, no friction heat.

        rho c dT/dt = (1/r) d(r k dT/dr)/dr;  h_oil to T_bore(t) outside, h to the crankcase inside

    Parameters
    ----------
    times : [s] (n_time,), rising, 0 or more
    wall : SkirtWall; bore : BoreWarmUp
    oil_film : [W/(m2 K)] from bore to skirt, about 1,000 to 2,500, (n_draw,)
    crankcase_film, crankcase_temperature : [W/(m2 K)], [K] inside, (n_draw,)
    initial : [K] (n_draw,)
    cells : number of rings across the wall
    growth : how long a step may get, as a share of the time gone by [1]

    Returns
    -------
    SkirtHeat

    Notes
    -----
    Finite volumes in space, TR-BDF2 in time, both second order; steps start at a fiftieth of `growth` times the
    wall's own time.
    """
    moments = np.ascontiguousarray(times, dtype=float)
    if moments.ndim != 1 or moments.size == 0 or moments[0] < 0 or np.any(np.diff(moments) <= 0):
        raise OutOfRange("times: must be (n_time,), rising from 0 or more")
    if np.any(np.asarray(oil_film) <= 0) or np.any(np.asarray(crankcase_film) <= 0):
        raise OutOfRange("oil_film and crankcase_film must be above 0")
    capacity = np.asarray(wall.density, dtype=float) * np.asarray(wall.heat_capacity, dtype=float)
    thick, k = np.asarray(wall.thickness, dtype=float), np.asarray(wall.conductivity, dtype=float)
    fine = growth / 50 * np.minimum(thick**2 * capacity / k, np.asarray(bore.time_constant, dtype=float))
    given = [wall.outer_radius, thick, k, capacity, oil_film, crankcase_film, crankcase_temperature]
    given += [bore.start, bore.settled, bore.time_constant, initial, fine]
    rows = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in given))
    inputs = np.stack([row.reshape(-1) for row in rows])
    known = ~np.isnan(inputs).any(axis=0)
    temperature = np.full((moments.size, cells, inputs.shape[1]), np.nan)
    temperature[:, :, known] = skirt_history(moments, np.ascontiguousarray(inputs[:, known]), cells, growth)
    middle = (np.arange(cells) + 0.5)[:, None] / cells
    radius = inputs[0] - inputs[1] * (1.0 - middle)
    if rows[0].ndim == 0:
        return SkirtHeat(moments, radius[:, 0], temperature[:, :, 0])
    return SkirtHeat(moments, radius, temperature)
