"""What pulls a crown's underside: the pressure that bends it, and the hot depth above that wants to grow."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def tension_of_bending(
    depth: ArrayLike, modulus: ArrayLike, pressure: ArrayLike, radius: ArrayLike, centre_factor: ArrayLike
) -> FloatArray:
    """Return the tension at the centre of the underside of a crown under pressure, its modulus varying through its depth.

    A thin plate whose centre bears the moment of `centre_stress_factor`; even all through it is c p (R/t)^2.

        sigma = (c/6) p R^2 E_b (z_b - z_n)/D,   z_n = int E z dz/int E dz,   D = int E (z - z_n)^2 dz

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw), from the gas-side face
    modulus : [Pa] E at each depth (..., n_depth, n_draw); 0 where it has burned away
    pressure : [Pa] p, (n_draw,)
    radius : [m] R, (n_draw,)
    centre_factor : [1] c, (n_draw,)

    Returns
    -------
    [Pa] (..., n_draw); inf where nothing is left to bend

    References
    ----------
    Timoshenko and Woinowsky-Krieger 1959, article 16, with the bending stiffness of a layered section (from memory).

    Examples
    --------
    Even, 6 mm thick, radius 21.3 mm, 20 bar, c 0.9: 0.9 x 2 MPa x (21.3/6)^2 = 22.7 MPa.

    >>> z = np.linspace(0, 6e-3, 601)[:, None]
    >>> tension_of_bending(z, np.full((601, 1), 2e9), 2e6, 21.3e-3, 0.9).round(-5)
    array([22700000.])
    """
    z, stiff, p, r, c = (np.asarray(v, dtype=float) for v in (depth, modulus, pressure, radius, centre_factor))
    z = z if z.ndim == 2 else z[:, None]
    with np.errstate(invalid="ignore", divide="ignore"):
        axis = np.trapezoid(stiff * z, z, axis=-2) / np.trapezoid(stiff, z, axis=-2)
        bending = np.trapezoid(stiff * (z - axis[..., None, :]) ** 2, z, axis=-2)
        tension = c / 6 * p * r**2 * stiff[..., -1, :] * (z[-1] - axis) / bending
    return np.where(np.isfinite(tension), tension, np.inf)


def tension_of_warming(
    depth: ArrayLike, modulus: ArrayLike, strain: ArrayLike, belt_share: ArrayLike, poisson: ArrayLike = 0.37
) -> FloatArray:
    """Return the tension at the underside of a crown that is hot above, kept flat, and free to grow but for its belt.

    The hot depth wants to grow and the cold depth holds it back; of the growth the cold ring belt takes its share too. 0 at
    an even temperature when the belt takes nothing.

        sigma = E_b/(1 - nu) ((1 - c_b) int(E e) dz/int(E) dz - e_b)

    Parameters
    ----------
    depth : [m] (n_depth,) or (n_depth, n_draw), from the gas-side face
    modulus : [Pa] E at each depth (..., n_depth, n_draw); 0 where it has burned away
    strain : [1] e, free thermal strain at each depth, like `modulus`
    belt_share : [1] c_b, share of the crown's growth that the belt keeps back, (n_draw,)
    poisson : [1] nu

    Returns
    -------
    [Pa] (..., n_draw), tension positive

    References
    ----------
    Timoshenko and Goodier 1970, article 149 (from memory), with the modulus varying through the depth.

    Examples
    --------
    Modulus 10 GPa throughout, strain 0.4 % at the face falling in a straight line to 0: the mean is 0.2 %.

    >>> z = np.linspace(0, 6e-3, 3)[:, None]
    >>> e = np.array([[4e-3], [2e-3], [0.0]])
    >>> tension_of_warming(z, np.full((3, 1), 10e9), e, 0.0, 0.0).round(-3)
    array([20000000.])
    """
    z, stiff, free, share, nu = (np.asarray(v, dtype=float) for v in (depth, modulus, strain, belt_share, poisson))
    z = z if z.ndim == 2 else z[:, None]
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.trapezoid(stiff * free, z, axis=-2) / np.trapezoid(stiff, z, axis=-2)
    return stiff[..., -1, :] / (1 - nu) * ((1 - share) * mean - free[..., -1, :])
