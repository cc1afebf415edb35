"""How far does the crown span, and how firmly does the ring belt hold its edge?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray

FREE_EDGE, HELD_EDGE = 6.0, 11.26
"""Limit-load factors of a simply supported and of a clamped Tresca plate (Hopkins and Prager 1953)."""


def belt_moment(
    belt_thickness: ArrayLike,
    belt_height: ArrayLike,
    wall_thickness: ArrayLike,
    radius: ArrayLike,
    belt_strength: ArrayLike,
) -> FloatArray:
    """Return the moment with which ring belt and skirt's wall hold the crown's edge when they yield, per length of edge.

    The belt resists turning by its hoop, the wall by its bending.

        M_belt = sigma_belt (w H^2/(4 R) + s^2/4)

    Parameters
    ----------
    belt_thickness, belt_height : [m] w, H, of the ring belt below the face, its grooves taken off the thickness
    wall_thickness : [m] s, of the skirt's wall beneath
    radius : [m] R, of the crown within the belt
    belt_strength : [Pa] sigma_belt, yield strength of the belt, which stays cold

    Returns
    -------
    [N]

    References
    ----------
    Our own estimate; the tests hold it against a plastic section.

    Examples
    --------
    Belt and wall 3.4 mm, belt 10 mm high, radius 24 mm, 35 MPa: 35 x (3.4 x 100/96 + 2.89) N

    >>> round(float(belt_moment(3.4e-3, 10e-3, 3.4e-3, 24e-3, 35e6)), 1)
    225.1
    """
    w, height, s, r, strength = (
        np.asarray(v, dtype=float) for v in (belt_thickness, belt_height, wall_thickness, radius, belt_strength)
    )
    return strength * (w * height**2 / (4 * r) + s**2 / 4)


def bending_limit(plastic_moment: ArrayLike, belt_moment: ArrayLike, radius: ArrayLike) -> FloatArray:
    """Return the pressure at which a crown held by its ring belt yields in bending.

    The edge holds as far as the belt's moment goes against the crown's own: the softer the crown, the firmer it is held.

        p = (6 M_p + 5.26 min(M_p, M_belt))/R^2

    Parameters
    ----------
    plastic_moment : [N] M_p, of the crown's section, hot, (..., n_draw)
    belt_moment : [N] M_belt, see `belt_moment`
    radius : [m] R

    Returns
    -------
    [Pa] (..., n_draw)

    References
    ----------
    The two ends, 6 and 11.26: Hopkins and Prager 1953. The way between is our own estimate; see the tests.

    Examples
    --------
    A cold crown of 6 mm and 35 MPa (M_p = 315 N) with the belt of `belt_moment`, by its factor p R^2/M_p:

    >>> round(float(bending_limit(315.0, 225.1, 24e-3)) * 24e-3**2 / 315.0, 1)
    9.8
    """
    crown, belt, r = (np.asarray(v, dtype=float) for v in (plastic_moment, belt_moment, radius))
    return (FREE_EDGE * crown + (HELD_EDGE - FREE_EDGE) * np.minimum(crown, belt)) / r**2


def edge_factor_at_load(
    load: ArrayLike, belt_moment: ArrayLike, radius: ArrayLike, error: ArrayLike = 1.0
) -> FloatArray:
    """Return the limit-load factor of a crown at the moment at which it just carries its load.

    The limit pressure f (6 M_p + 5.26 min(M_p, M_belt))/R^2 rises with the crown's plastic moment, so the load itself says
    with which moment, and with which factor k = p R^2/M_p, it is just carried.

    Parameters
    ----------
    load : [Pa] p, (n_draw,)
    belt_moment : [N] what belt and wall hold, see `belt_moment`
    radius : [m] R
    error : [1] f, on the whole limit load

    Returns
    -------
    [1] 6 f to 11.26 f

    Examples
    --------
    A belt that holds 300 N, radius 24 mm: at 20 bar (20e5 x 0.024^2 = 1,152 N = 11.26 x 102.3) it clamps the edge; at
    100 bar the crown's moment is (5,760 - 5.26 x 300)/6 = 697 N, the factor 8.26.

    >>> edge_factor_at_load([20e5, 100e5], 300.0, 24e-3).round(2)
    array([11.26,  8.26])
    """
    p, belt, r, f = (np.asarray(v, dtype=float) for v in (load, belt_moment, radius, error))
    wanted = p * r**2 / f
    moment = np.where(
        wanted <= HELD_EDGE * belt, wanted / HELD_EDGE, (wanted - (HELD_EDGE - FREE_EDGE) * belt) / FREE_EDGE
    )
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(wanted > 0, f * wanted / moment, f * HELD_EDGE)


def centre_stress_factor(
    thickness: ArrayLike,
    radius: ArrayLike,
    belt_thickness: ArrayLike,
    belt_height: ArrayLike,
    wall_thickness: ArrayLike,
    poisson: ArrayLike = 0.37,
) -> FloatArray:
    """Return the factor of the elastic tension at the centre of a crown's underside: sigma = c p (R/t)^2.

    A plate of one modulus on a ring that turns and a long thin wall; the belt hardly clamps it, so a brittle crown breaks
    there and not at its edge. A factor of 18 % either way is what the section model of the tests leaves for thicknesses of
    0.17 to 0.45 R.

        c = 6 ((3 + nu)/16 - 1/8/(1 + (1 + nu) D/(k R)))
        D = t^3/(12 (1 - nu^2)),  k = w H^3/(12 R_b^2) + beta s^3/(12 (1 - nu^2)),  beta^4 = 3 (1 - nu^2)/(R_w s)^2

    Parameters
    ----------
    thickness, radius : [m] t, R, of the crown within the belt
    belt_thickness, belt_height : [m] w, H, its grooves taken off the thickness in part
    wall_thickness : [m] s, of the skirt's wall
    poisson : [1] nu

    Returns
    -------
    [1], between a clamped plate's 3 (1 + nu)/8 and a supported one's 3 (3 + nu)/8

    References
    ----------
    Timoshenko and Woinowsky-Krieger 1959, articles 16 (plate) and 114 (long cylinder); Timoshenko, Strength of Materials II,
    turning of a ring (from memory). Put together by us; see the section model in the tests.

    Examples
    --------
    A crown of 6 mm, radius 22.2 mm, belt 4.2 by 10 mm, wall 3.4 mm; the section model gives 0.91:

    >>> round(float(centre_stress_factor(6e-3, 22.2e-3, 4.2e-3, 10e-3, 3.4e-3)), 2)
    0.91
    """
    t, r, w, height, s, nu = (
        np.asarray(v, dtype=float) for v in (thickness, radius, belt_thickness, belt_height, wall_thickness, poisson)
    )
    plate = t**3 / (12 * (1 - nu**2))
    beta = (3 * (1 - nu**2) / ((r + s / 2) * s) ** 2) ** 0.25
    hold = w * height**3 / (12 * (r + w / 2) ** 2) + beta * s**3 / (12 * (1 - nu**2))
    return 6 * ((3 + nu) / 16 - 1 / 8 / (1 + (1 + nu) * plate / (hold * r)))
