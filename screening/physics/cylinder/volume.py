"""Where the piston is, and how much room and wall that leaves the gas: exact slider-crank geometry."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange


def swept_volume(bore: ArrayLike, stroke: ArrayLike) -> NDArray[np.float64]:
    """Return the swept volume of one cylinder, pi/4 bore^2 stroke [m3]; `bore` and `stroke` in [m]."""
    return np.asarray(np.pi / 4.0 * np.square(np.asarray(bore, float)) * np.asarray(stroke, float))


def clearance_volume(swept: ArrayLike, compression_ratio: ArrayLike) -> NDArray[np.float64]:
    """Return the volume left at top dead centre, swept/(compression ratio - 1).

    Parameters
    ----------
    swept : swept volume [m3]
    compression_ratio : [1], above 1

    Returns
    -------
    clearance : [m3]

    Raises
    ------
    OutOfRange : a compression ratio of 1 or less
    """
    ratio = np.asarray(compression_ratio, float)
    if np.any(ratio <= 1.0):
        raise OutOfRange(f"compression_ratio is {ratio.min()}; it must be above 1 (total over clearance volume)")
    return np.asarray(swept, float) / (ratio - 1.0)


def piston_travel(crank_angle: ArrayLike, stroke: ArrayLike, rod_length: ArrayLike) -> NDArray[np.float64]:
    """Return the distance of the piston below top dead centre.

    Exact for a bore axis through the crank's centre (no pin offset).
    x = l + a - a cos(theta) - sqrt(l^2 - a^2 sin^2(theta)), a = stroke/2.

    Parameters
    ----------
    crank_angle : after top dead centre [rad]
    stroke : [m]
    rod_length : between centres [m], above stroke/2

    Returns
    -------
    travel : [m], the inputs broadcast

    Raises
    ------
    OutOfRange : a rod no longer than the crank's throw

    References
    ----------
    Heywood 1988, eq. 2.5 (from memory).

    Examples
    --------
    >>> round(float(piston_travel(np.pi / 2, 0.040, 0.070)), 5)
    0.02292
    """
    throw, rod = np.asarray(stroke, float) / 2.0, np.asarray(rod_length, float)
    if np.any(rod <= throw):
        raise OutOfRange(f"rod_length is {np.min(rod)} m; it must be longer than half the stroke, {np.max(throw)} m")
    return np.asarray(below_top_centre(np.asarray(crank_angle, float), throw, rod))


def below_top_centre(
    angle: NDArray[np.float64], throw: float | NDArray[np.float64], rod: float | NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the travel of `piston_travel` without its checks, in a form that can be compiled [m]."""
    aside = throw * np.sin(angle)
    return rod + throw - throw * np.cos(angle) - np.sqrt(rod * rod - aside * aside)


def cylinder_volume(
    crank_angle: ArrayLike,
    bore: ArrayLike,
    stroke: ArrayLike,
    rod_length: ArrayLike,
    compression_ratio: ArrayLike,
) -> NDArray[np.float64]:
    """Return the gas volume at a crank angle.

    V = V_clearance + pi/4 bore^2 x(theta), x from `piston_travel`.

    Parameters
    ----------
    crank_angle : after top dead centre [rad]
    bore, stroke, rod_length : [m]
    compression_ratio : [1], above 1

    Returns
    -------
    volume : [m3], the inputs broadcast

    Raises
    ------
    OutOfRange : compression ratio not above 1, or rod shorter than the throw

    References
    ----------
    Heywood 1988, eq. 2.4-2.6 (from memory).
    """
    clearance = clearance_volume(swept_volume(bore, stroke), compression_ratio)
    area = np.pi / 4.0 * np.square(np.asarray(bore, float))
    return np.asarray(clearance + area * piston_travel(crank_angle, stroke, rod_length))


def flat_head_area_ratio(bore: ArrayLike, stroke: ArrayLike, compression_ratio: ArrayLike) -> NDArray[np.float64]:
    """Return the head's wall over the bore's cross-section for a plain disc-shaped chamber [1].

    1 + 4 H/bore with H = stroke/(compression ratio - 1), the disc's height; its rim counts with the head.

    Parameters
    ----------
    bore, stroke : [m]
    compression_ratio : [1]

    Returns
    -------
    ratio : [1], the inputs broadcast

    Raises
    ------
    OutOfRange : a compression ratio of 1 or less
    """
    height = clearance_volume(stroke, compression_ratio)  # per area of the bore
    return np.asarray(1.0 + 4.0 * height / np.asarray(bore, float))
