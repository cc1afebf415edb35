"""When does a brittle crown crack: by the elastic stress at its edge, and by the heat alone?

A polymer that breaks at a small strain cannot shed load as a plastic hinge does. The elastic stress decides,
cold at the start too.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.integrate import trapezoid

from screening.errors import OutOfRange
from screening.physics.modulus import ModulusCurve
from screening.physics.strength import StrengthCurve, refuse_outside_share
from screening.physics.temperature_curve import FloatArray


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
    temperature: ArrayLike,
    strength: StrengthCurve,
    modulus: ModulusCurve,
    radius: ArrayLike,
    brittle_below: ArrayLike,
    restraint: ArrayLike = 1.0,
) -> FloatArray:
    """Return the pressure at which the elastic stress first meets the strength somewhere in the brittle part.

    Holds for a thin bonded plate whose stiffness falls with the temperature through its depth. What is warmer
    than `brittle_below` still stiffens the plate by what modulus it has left, but does not crack; when all of
    it is warmer the limit is inf and plastic collapse decides. Take the lower of this and `limit_pressure`.
    Stress from uneven heating is not in it (see `thermal_stress`).

        z_n = int E z dz/int E dz;  D = int E (z - z_n)^2 dz;  p = min sigma(z) D/(E(z) |z - z_n| c R^2)

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw)
    temperature : [K] (n_time, n_depth) or (n_time, n_depth, n_draw)
    strength, modulus : curves of the one material
    radius, restraint : [m], [1] (n_draw,)
    brittle_below : [K] about the glass transition less some tens of kelvin, (n_draw,)

    Returns
    -------
    [Pa] (n_time[, n_draw])
    """
    field, nodes = np.asarray(temperature, dtype=float), np.asarray(depth, dtype=float)
    span = np.asarray(radius, dtype=float)
    if np.any(span <= 0):
        raise OutOfRange("radius must be above 0")
    nodes = nodes[:, None] if nodes.ndim == 1 and field.ndim == 3 else nodes
    stiff = modulus.at(field)
    whole = trapezoid(stiff, nodes, axis=1)
    axis = trapezoid(stiff * nodes, nodes, axis=1) / np.where(whole > 0, whole, np.nan)
    arm = np.abs(nodes - axis[:, None])
    bending = trapezoid(stiff * arm**2, nodes, axis=1)
    strain = stiff * arm / np.where(bending > 0, bending, np.nan)[:, None]
    brittle = (field < np.asarray(brittle_below, dtype=float)) & (strain > 0)
    moment = np.where(brittle, strength.at(field) / np.where(brittle, strain, 1.0), np.inf).min(axis=1)
    missing = np.isnan(field).any(axis=1) | np.isnan(strength.at(field) + stiff).any(axis=1)
    return np.where(missing, np.nan, moment / (elastic_moment_factor(restraint) * span**2))


def thermal_stress(
    depth: ArrayLike,
    temperature: ArrayLike,
    modulus: ModulusCurve,
    expansion: ArrayLike,
    held_flat: bool = True,
    poisson: float = 0.37,
) -> FloatArray:
    """Return the elastic stress that uneven heating alone puts into the crown; tension is positive.

    Holds before anything has yielded or crept, so it is an upper bound in the hot part. It balances itself:
    it does not lower a ductile limit load, but it pulls on the cold underside and cracks the skin on cooling.

        sigma(z) = E/(1 - nu) (e + q z - alpha (T - T_first)), no net force, and no curvature q (held flat) or
        no net moment (free)

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw)
    temperature : [K] (n_time, n_depth) or (n_time, n_depth, n_draw), the first moment free of stress
    modulus : ModulusCurve
    expansion : [1/K] (n_draw,)
    held_flat : True when the ring belt keeps the crown from doming
    poisson : [1]

    Returns
    -------
    [Pa] like `temperature`
    """
    field, nodes = np.asarray(temperature, dtype=float), np.asarray(depth, dtype=float)
    nodes = nodes[:, None] if nodes.ndim == 1 and field.ndim == 3 else nodes
    nodes = np.broadcast_to(nodes, field.shape[1:])
    stiff = modulus.at(field) / (1.0 - poisson)
    growth = np.asarray(expansion, dtype=float) * (field - field[:1])
    e0 = trapezoid(stiff, nodes, axis=1)
    mean = trapezoid(stiff * growth, nodes, axis=1) / e0
    strain = np.broadcast_to(mean[:, None], field.shape)
    if not held_flat:
        axis = trapezoid(stiff * nodes, nodes, axis=1) / e0
        arm = nodes - axis[:, None]
        bend = trapezoid(stiff * growth * arm, nodes, axis=1) / trapezoid(stiff * arm**2, nodes, axis=1)
        strain = strain + bend[:, None] * arm
    return stiff * (strain - growth)
