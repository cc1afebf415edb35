"""How warm does the skirt get? It is heated by the warming bore through the oil film, not by the crown."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange


@dataclass(frozen=True)
class BoreWarmUp:
    """A bore that warms by first order.

        T = T_settled - (T_settled - T_start) exp(-t/tau)

    Parameters
    ----------
    start : [K] a number or (n_draw,)
    settled : [K] a number or (n_draw,)
    time_constant : [s] tau, above 0, a number or (n_draw,)

    Raises
    ------
    OutOfRange : a time constant of 0 or less
    """

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
    """The skirt as a round wall; each a number or (n_draw,), above 0.

    Parameters
    ----------
    outer_radius : [m]
    thickness : [m] below the outer radius
    conductivity : [W/(m K)]
    density : [kg/m3]
    heat_capacity : [J/(kg K)]

    Raises
    ------
    OutOfRange : a value of 0 or less, a wall as thick as its radius
    """

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

    Parameters
    ----------
    times : [s] (n_time,)
    radius : [m] (n_cell[, n_draw]) of the cells' middles, from the inside out
    temperature : [K] (n_time, n_cell[, n_draw])
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
) -> SkirtHeat:
    """Return the temperatures of the skirt's wall while the bore warms.

    Holds for constant properties, heat across the wall only, no friction heat.

        rho c dT/dt = (1/r) d(r k dT/dr)/dr;  h_oil to T_bore(t) outside, h to the crankcase inside

    Parameters
    ----------
    times : [s] (n_time,), rising, 0 or more
    wall : SkirtWall
    bore : BoreWarmUp
    oil_film : [W/(m2 K)] from bore to skirt, about 1,000 to 2,500, (n_draw,)
    crankcase_film : [W/(m2 K)] inside, (n_draw,)
    crankcase_temperature : [K] inside, (n_draw,)
    initial : [K] (n_draw,)
    cells : number of rings across the wall

    Returns
    -------
    SkirtHeat; NaN in a draw of which something is NaN

    Raises
    ------
    OutOfRange : times that do not rise from 0 or more, a film of 0 or less

    Notes
    -----
    Finite volumes across the wall, second order. In time exact: with M the rings' heat capacities and K the
    conductances between them and to the films, M dT/dt = -K T + heat from the films; the eigenvectors of
    M^-1/2 K M^-1/2 part it into first-order warm-ups, each with a closed answer to a bore of first order.

    Example
    -------
    After a minute a wall of 3 mm is half-way; settled it lies near the bore of 146.85 degC, which the oil couples it to:

    >>> wall = SkirtWall(outer_radius=0.028, thickness=0.003, conductivity=0.25, density=1200.0, heat_capacity=1600.0)
    >>> heat = warm_skirt([60.0, 1e4], wall, BoreWarmUp(296.15, 420.0, 150.0), 1500.0, 90.0, 350.0, 296.15)
    >>> heat.mean_temperature.round(1).tolist()
    [333.4, 401.6]
    """
    moments = np.asarray(times, dtype=float)
    if moments.ndim != 1 or moments.size == 0 or moments[0] < 0 or np.any(np.diff(moments) <= 0):
        raise OutOfRange("times: must be (n_time,), rising from 0 or more")
    if np.any(np.asarray(oil_film) <= 0) or np.any(np.asarray(crankcase_film) <= 0):
        raise OutOfRange("oil_film and crankcase_film must be above 0")
    given = [getattr(wall, field.name) for field in fields(wall)] + [oil_film, crankcase_film, crankcase_temperature]
    given += [bore.start, bore.settled, bore.time_constant, initial]
    rows = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in given))
    flat = np.stack([row.reshape(-1) for row in rows])
    complete = ~np.isnan(flat).any(axis=0)
    temperature = np.full((moments.size, cells, complete.size), np.nan)
    temperature[:, :, complete] = _ring_temperatures(moments, flat[:, complete], cells)
    radius = flat[0] - flat[1] * (1.0 - (np.arange(cells) + 0.5)[:, None] / cells)
    if rows[0].ndim == 0:
        return SkirtHeat(moments, radius[:, 0], temperature[:, :, 0])
    return SkirtHeat(moments, radius, temperature)


def _ring_temperatures(times: FloatArray, draws: FloatArray, cells: int) -> FloatArray:
    """Return the temperatures of the wall's rings from the inside out, (n_time, cells, n_draw)."""
    outer, thickness, conductivity, density, heat_capacity, oil, air, crankcase, start, settled, constant, initial = (
        draws
    )
    width = thickness / cells
    face = outer - thickness + width * np.arange(cells + 1)[:, None]  # (cells + 1, n_draw)
    mass = density * heat_capacity * width * (face[:-1] + face[1:]) / 2
    links = face * conductivity / width
    links[0] = face[0] / (1 / air + 0.5 * width / conductivity)
    links[-1] = face[-1] / (1 / oil + 0.5 * width / conductivity)
    conduction = np.zeros((width.size, cells, cells))
    place = np.arange(cells)
    root = np.sqrt(mass)
    conduction[:, place, place] = ((links[:-1] + links[1:]) / mass).T
    conduction[:, place[1:], place[:-1]] = (-links[1:-1] / (root[1:] * root[:-1])).T
    rate, shape = np.linalg.eigh(conduction)  # reads the lower triangle; (n_draw, cells), (n_draw, cells, cells)
    # relative to the crankcase, so that only the bore drives it
    inflow = shape[:, -1, :].T * links[-1] / root[-1]  # per kelvin of bore
    begin = np.einsum("dcm,cd->md", shape, root) * (initial - crankcase)
    decay = 1 / constant
    # a mode as quick as the bore would divide by nothing: it is taken a millionth quicker
    rate = np.where(np.abs(rate.T - decay) < 1e-6 * decay, decay * (1 + 1e-6), rate.T)
    moments = times[:, None, None]
    faded = np.exp(-rate * moments)
    lag = (np.exp(-decay * moments) - faded) / (rate - decay)
    mode = begin * faded + inflow * ((settled - crankcase) * (1 - faded) / rate - (settled - start) * lag)
    return crankcase + np.einsum("dcm,tmd->tcd", shape, mode, optimize=True) / root
