"""When does a brittle crown crack: by the elastic stress of bending, cold and when one face is hot?

A polymer that breaks at a small strain cannot shed load as a plastic hinge does. The elastic stress decides,
cold at the start too.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import trapezoid

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.curves.shares import refuse_outside_share


def edge_stress(pressure: ArrayLike, radius: ArrayLike, thickness: ArrayLike) -> FloatArray:
    """Return the largest elastic stress in a clamped crown of one even temperature: tension on its gas face, at the edge.

    Holds for a thin plate, t below about R/4.

        sigma = 0.75 p (R/t)^2

    Parameters
    ----------
    pressure : [Pa] p, (n_draw,)
    radius : [m] R, above 0, (n_draw,)
    thickness : [m] t, above 0, (n_draw,)

    Returns
    -------
    [Pa] the broadcast of all

    Raises
    ------
    OutOfRange : a radius or thickness of 0 or less

    References
    ----------
    Timoshenko, S., Woinowsky-Krieger, S. (1959), Theory of Plates and Shells, 2nd ed., art. 16; from memory.

    Example
    -------
    >>> float(edge_stress(2e6, 0.02, 0.004)) / 1e6
    37.5
    """
    load, span, deep = (np.asarray(v, dtype=float) for v in (pressure, radius, thickness))
    if np.any(span <= 0) or np.any(deep <= 0):
        raise OutOfRange("radius and thickness must be above 0")
    return np.asarray(0.75 * load * (span / deep) ** 2)


def brittle_limit_pressure(
    depth: ArrayLike,
    stiffness: ArrayLike,
    strength: ArrayLike,
    radius: ArrayLike,
    poisson: ArrayLike,
    restraint: ArrayLike = 1.0,
) -> FloatArray:
    """Return the pressure at which tension from bending first meets the strength somewhere in a crown hot on one side.

    Holds for a thin bonded elastic plate whose modulus falls through its depth. Gas pressure pulls on what lies above the
    neutral axis at the clamped edge, and on what lies below it at the centre. What yields instead of breaking still
    stiffens the plate but does not crack: give it an infinite strength. Stress from uneven heating is not in it.

        z_n = int E z dz/int E dz;  D = int E (z - z_n)^2 dz
        p = min sigma(z) D/(E(z) |z - z_n| c R^2),  c = m/8 above the axis, (3 + nu)/16 - m/8 below it

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw), from the gas face down
    stiffness : [Pa] E, (n_time, n_depth) or (n_time, n_depth, n_draw); 0 where nothing is left
    strength : [Pa] sigma, like `stiffness`; inf where it yields
    radius : [m] R, (n_draw,)
    poisson : [1] nu, 0 to 0.5, (n_draw,)
    restraint : [1] m, 1 clamped, 0 simply supported, (n_draw,)

    Returns
    -------
    [Pa] (n_time[, n_draw]); inf where nothing can crack, NaN where a value is NaN

    Raises
    ------
    OutOfRange : a radius of 0 or less, a Poisson's ratio or restraint out of its range

    References
    ----------
    Timoshenko, S., Woinowsky-Krieger, S. (1959), Theory of Plates and Shells, 2nd ed., art. 16, with the bending stiffness
    of a layered section about its neutral axis; from memory.

    Example
    -------
    One even plate of 60 MPa, R/t = 5: by hand 60 MPa/(0.75 x 25)

    >>> depth = np.linspace(0.0, 0.004, 401)
    >>> even = np.ones((1, 401))
    >>> (brittle_limit_pressure(depth, 3e9 * even, 60e6 * even, 0.02, 0.37) / 1e6).round(2).tolist()
    [3.2]
    """
    stiff, strong, nodes = (np.asarray(v, dtype=float) for v in (stiffness, strength, depth))
    span, share = np.asarray(radius, dtype=float), np.asarray(restraint, dtype=float)
    if np.any(span <= 0):
        raise OutOfRange("radius must be above 0")
    refuse_outside_share("restraint", share)
    if np.any((np.asarray(poisson) < 0) | (np.asarray(poisson) > 0.5)):
        raise OutOfRange("poisson: must be 0 to 0.5")
    nodes = nodes[:, None] if nodes.ndim == 1 and stiff.ndim == 3 else nodes
    whole = trapezoid(stiff, nodes, axis=1)
    axis = trapezoid(stiff * nodes, nodes, axis=1) / np.where(whole > 0, whole, np.nan)
    arm = nodes - axis[:, None]
    bending = trapezoid(stiff * arm**2, nodes, axis=1)
    at_edge, at_centre = share / 8.0, (3.0 + np.asarray(poisson, dtype=float)) / 16.0 - share / 8.0
    stress = stiff * np.abs(arm) * np.where(arm < 0, at_edge, at_centre) * span**2
    pulled = stress > 0
    limit = np.where(pulled, strong / np.where(pulled, stress, 1.0), np.inf).min(axis=1)
    missing = np.isnan(stiff).any(axis=1) | np.isnan(strong).any(axis=1)
    cracks = np.isfinite(limit)
    return np.where(missing, np.nan, np.where(cracks, np.where(cracks, limit, 0.0) * bending, np.inf))
