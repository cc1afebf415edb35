"""When does a brittle crown crack: by the elastic stress of bending, cold and when one face is hot?

A polymer that breaks at a small strain cannot shed load as a plastic hinge does. The elastic stress decides,
cold at the start too.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import trapezoid

from screening.errors import OutOfRange
from screening.physics.curves.shares import refuse_outside_share
from screening.physics.curves.temperature_curve import FloatArray


def elastic_moment_factor(restraint: ArrayLike = 1.0, poisson: ArrayLike = 0.37) -> FloatArray:
    """Return the largest elastic bending moment of a circular plate as a share of p R^2.

    Holds for a thin elastic plate under even pressure whose edge carries the part m of the clamping moment.

        M/(p R^2) = max(m/8, (3 + nu)/16 - m/8)

    Parameters
    ----------
    restraint : [1] m, 1 clamped (the edge decides), 0 simply supported (the centre decides)
    poisson : [1] nu, about 0.35 to 0.40 for glassy polymers

    Returns
    -------
    [1] (n_draw,): 1/8 when clamped

    References
    ----------
    Timoshenko, S., Woinowsky-Krieger, S. (1959), Theory of Plates and Shells, 2nd ed., art. 16; from memory.

    Example
    -------
    >>> float(elastic_moment_factor())
    0.125
    """
    share, ratio = np.asarray(restraint, dtype=float), np.asarray(poisson, dtype=float)
    refuse_outside_share("restraint", share)
    if np.any((ratio < 0) | (ratio > 0.5)):
        raise OutOfRange("poisson: must be 0 to 0.5")
    return np.maximum(share / 8.0, (3.0 + ratio) / 16.0 - share / 8.0)


def edge_stress(pressure: ArrayLike, radius: ArrayLike, thickness: ArrayLike, restraint: ArrayLike = 1.0) -> FloatArray:
    """Return the largest elastic stress in a crown of one even temperature.

    Holds for a thin plate, t below about R/4. Clamped: sigma = 0.75 p (R/t)^2, tension on the gas face.

    Parameters
    ----------
    pressure : [Pa]; radius : [m] R; thickness : [m] t; restraint : [1] as in `elastic_moment_factor`

    Returns
    -------
    [Pa] the broadcast of all

    Example
    -------
    >>> float(edge_stress(2e6, 0.02, 0.004)) / 1e6
    37.5
    """
    load, span, deep = (np.asarray(v, dtype=float) for v in (pressure, radius, thickness))
    if np.any(span <= 0) or np.any(deep <= 0):
        raise OutOfRange("radius and thickness must be above 0")
    return np.asarray(6.0 * elastic_moment_factor(restraint) * load * (span / deep) ** 2)


def brittle_limit_pressure(
    depth: ArrayLike,
    stiffness: ArrayLike,
    strength: ArrayLike,
    radius: ArrayLike,
    restraint: ArrayLike = 1.0,
    poisson: ArrayLike = 0.37,
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
    restraint : [1] m as in `elastic_moment_factor`, (n_draw,)
    poisson : [1] nu

    Returns
    -------
    [Pa] (n_time[, n_draw]); inf where nothing can crack, NaN where a value is NaN

    References
    ----------
    Timoshenko, S., Woinowsky-Krieger, S. (1959), Theory of Plates and Shells, 2nd ed., art. 16, with the bending stiffness
    of a layered section about its neutral axis; from memory.
    """
    stiff, strong, nodes = (np.asarray(v, dtype=float) for v in (stiffness, strength, depth))
    span, share = np.asarray(radius, dtype=float), np.asarray(restraint, dtype=float)
    if np.any(span <= 0):
        raise OutOfRange("radius must be above 0")
    refuse_outside_share("restraint", share)
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
