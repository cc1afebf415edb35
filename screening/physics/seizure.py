"""When does the skirt seize: when does its grip on the bore cost more power than the engine has to spare?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.errors import OutOfRange
from screening.physics.first_crossing import first_crossing
from screening.physics.temperature_curve import FloatArray


def radial_interference(
    part_diameter: ArrayLike,
    part_strain: ArrayLike,
    bore_diameter: ArrayLike,
    bore_strain: ArrayLike,
    swelling: ArrayLike = 0.0,
) -> FloatArray:
    """Return how far the free skirt would stand into the bore wall, on the radius; below 0 it is clear of it.

    Holds for round, concentric parts.

        d = (D_p (1 + e_p)(1 + s) - D_b (1 + e_b))/2

    Parameters
    ----------
    part_diameter, bore_diameter : [m] cold, (n_draw,)
    part_strain, bore_strain : [1] thermal growth from cold, (n_time, n_draw)
    swelling : [1] linear, (n_draw,) or (n_time, n_draw)

    Returns
    -------
    [m] (n_time, n_draw)

    Example
    -------
    >>> round(1e6 * float(radial_interference(0.05595, 60e-6 * 60, 0.056, 11e-6 * 60)), 1)
    57.2
    """
    part, own, bore, grown, swelled = (
        np.asarray(v, dtype=float) for v in (part_diameter, part_strain, bore_diameter, bore_strain, swelling)
    )
    return np.asarray((part * (1.0 + own) * (1.0 + swelled) - bore * (1.0 + grown)) / 2.0)


def seizing_interference(
    spare_power: ArrayLike,
    modulus: ArrayLike,
    thickness: ArrayLike,
    radius: ArrayLike,
    contact_length: ArrayLike,
    friction: ArrayLike,
    piston_speed: ArrayLike,
) -> FloatArray:
    """Return the radial interference whose friction takes all the power the engine has to spare.

    Holds for a thin elastic skirt pressed all round into a stiff bore; a slipper skirt that touches over part
    of the circle takes more interference for the same power. Friction heat, which makes it run away sooner,
    is left out.

        p = E w d/R^2;  P = mu p 2 pi R L v  =>  d = P R/(2 pi mu E w L v)

    Parameters
    ----------
    spare_power : [W] P; modulus : [Pa] E, warm; thickness : [m] w; radius : [m] R; contact_length : [m] L
    friction : [1] mu, about 0.05 (oiled) to 0.3 (dry); piston_speed : [m/s] v, mean

    Returns
    -------
    [m] (n_draw,)

    Example
    -------
    >>> round(1e6 * float(seizing_interference(150.0, 2e9, 3e-3, 0.028, 0.03, 0.1, 4.0)), 1)
    9.3
    """
    names = ("modulus", "thickness", "radius", "contact_length", "friction", "piston_speed")
    values = [np.asarray(v, dtype=float) for v in (modulus, thickness, radius, contact_length, friction, piston_speed)]
    for name, value in zip(names, values, strict=True):
        if np.any(value <= 0):
            raise OutOfRange(f"{name}: got {np.nanmin(value):g}, must be above 0")
    stiff, wall, span, length, rub, speed = values
    power = np.asarray(spare_power, dtype=float)
    return np.asarray(power * span / (2.0 * np.pi * rub * stiff * wall * length * speed))


def seizure_time(times: ArrayLike, interference: ArrayLike, threshold: ArrayLike) -> FloatArray:
    """Return when the interference first reaches the seizing one, [s] (n_draw,); inf if never.

    Parameters
    ----------
    times : [s] (n_time,); interference : [m] (n_time, n_draw) or (n_time,); threshold : [m] (n_draw,)
    """
    history, limit = np.asarray(interference, dtype=float), np.asarray(threshold, dtype=float)
    if limit.ndim and history.ndim == 1:
        history = history[:, None]
    return first_crossing(times, history - limit)
