"""What the kernel knows of one draw: its record, geometry, film and the pressure with a valve open."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.cylinder import film

_woschni = njit(cache=True, error_model="numpy")(film.woschni)
_woschni_gas_speed = njit(cache=True, error_model="numpy")(film.woschni_gas_speed)
_hohenberg = njit(cache=True, error_model="numpy")(film.hohenberg)
_annand = njit(cache=True, error_model="numpy")(film.annand)
_annand_radiation = njit(cache=True, error_model="numpy")(film.annand_radiation)
_EXCHANGE, _CLOSED = film.WOSCHNI_EXCHANGE, film.WOSCHNI_CLOSED
_MOTORED_EXPONENT = 1.33  # polytropic exponent of the motored pressure in Woschni's speed term

DRAW = np.dtype(
    [
        ("bore", np.float64),
        ("stroke", np.float64),
        ("rod_length", np.float64),
        ("clearance", np.float64),
        ("speed", np.float64),
        ("equivalence_ratio", np.float64),
        ("fuel_mass_fraction", np.float64),
        ("fresh_mass", np.float64),
        ("intake_pressure", np.float64),
        ("intake_temperature", np.float64),
        ("exhaust_pressure", np.float64),
        ("latent_heat", np.float64),
        ("crown_temperature", np.float64),
        ("head_temperature", np.float64),
        ("liner_temperature", np.float64),
        ("head_area_ratio", np.float64),
        ("correlation", np.int64),
        ("multiplier", np.float64),
        ("combustion_start", np.float64),
        ("combustion_duration", np.float64),
        ("wiebe_efficiency", np.float64),
        ("wiebe_shape", np.float64),
        ("exhaust_opening", np.float64),
        ("blowdown_angle", np.float64),
        ("overlap_angle", np.float64),
        ("intake_closing", np.float64),
    ],
    align=True,
)
"""What the kernel needs of one draw, SI; see `CycleInputs` for the meaning. A record is passed by address: a
tuple of arrays cost more time than the physics."""


@njit(cache=True, error_model="numpy")
def geometry(q: Any, per_cycle: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Gas volume [m3] and liner area laid bare [m2] at each step of one turn of 720 degrees."""
    angle = np.arange(per_cycle) * (4.0 * np.pi / per_cycle)
    throw = 0.5 * q.stroke
    sine = throw * np.sin(angle)
    travel = q.rod_length + throw - throw * np.cos(angle) - np.sqrt(q.rod_length**2 - sine * sine)
    return q.clearance + 0.25 * np.pi * q.bore**2 * travel, np.pi * q.bore * travel


@njit(cache=True, error_model="numpy")
def coefficient(
    q: Any,
    p: float,
    t: float,
    volume: float,
    gas_constant: float,
    burning: bool,
    closed: bool,
    reference: NDArray[np.float64],
) -> float:
    """Film coefficient [W/(m2 K)]; `reference` holds T, p, V at intake closing, then p, V at ignition."""
    piston_speed = 2.0 * q.stroke * q.speed
    if q.correlation == 0:
        rise = 0.0
        if burning:
            motored = reference[3] * (reference[4] / volume) ** _MOTORED_EXPONENT
            rise = max(p - motored, 0.0)
        swept = 0.25 * np.pi * q.bore**2 * q.stroke
        factor = _CLOSED if closed else _EXCHANGE
        w = _woschni_gas_speed(piston_speed, factor, swept, rise, reference[0], reference[1], reference[2])
        h = _woschni(p, t, q.bore, w)
    elif q.correlation == 1:
        h = _hohenberg(p, t, volume, piston_speed)
    else:
        h = _annand(p, t, q.bore, piston_speed, gas_constant)
        if burning:
            wall = 0.5 * (q.crown_temperature + q.head_temperature)
            h += _annand_radiation(t, wall)
    return q.multiplier * h


@njit(cache=True, error_model="numpy")
def open_pressure(q: Any, angle: float, release: float, intake: float) -> float:
    """Pressure with a valve open [Pa]: blow-down, exhaust stroke, change-over about top centre, intake."""
    since = (angle - q.exhaust_opening) / q.blowdown_angle
    if since < 1.0:
        fall = 0.5 * (1.0 + np.cos(np.pi * since))
        return q.exhaust_pressure + (release - q.exhaust_pressure) * fall
    change = (angle - (2.0 * np.pi - 0.5 * q.overlap_angle)) / q.overlap_angle
    share = 0.5 * (1.0 - np.cos(np.pi * min(max(change, 0.0), 1.0)))
    return q.exhaust_pressure + (intake - q.exhaust_pressure) * share
