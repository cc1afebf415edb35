"""One draw as the cycle's kernel takes it: its record, the room the gas has, its film, and the pressure with a valve open."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.cylinder import film
from screening.physics.cylinder.volume import below_top_centre

_travel = njit(cache=True, error_model="numpy")(below_top_centre)
_woschni = njit(cache=True, error_model="numpy")(film.woschni)
_woschni_gas_speed = njit(cache=True, error_model="numpy")(film.woschni_gas_speed)
_hohenberg = njit(cache=True, error_model="numpy")(film.hohenberg)
_annand = njit(cache=True, error_model="numpy")(film.annand)
_annand_radiation = njit(cache=True, error_model="numpy")(film.annand_radiation)
_EXCHANGE, _CLOSED = film.WOSCHNI_EXCHANGE, film.WOSCHNI_CLOSED
_MOTORED_EXPONENT = 1.33  # polytropic exponent of the motored pressure in Woschni's speed term


class Draw(NamedTuple):
    """One draw, SI; `CycleInputs` says what each field means.

    The kernel is handed a record of the same fields, by address: a tuple of numbers cost more time than the physics.
    """

    bore: float
    stroke: float
    rod_length: float
    clearance: float
    speed: float
    equivalence_ratio: float
    fuel_mass_fraction: float
    fresh_mass: float
    intake_pressure: float
    intake_temperature: float
    exhaust_pressure: float
    latent_heat: float
    crown_temperature: float
    head_temperature: float
    liner_temperature: float
    head_area_ratio: float
    correlation: int
    multiplier: float
    combustion_start: float
    combustion_duration: float
    wiebe_efficiency: float
    wiebe_shape: float
    exhaust_opening: float
    blowdown_angle: float
    overlap_angle: float
    intake_closing: float


DRAW = np.dtype([(name, np.int64 if name == "correlation" else np.float64) for name in Draw._fields], align=True)
"""The record of a `Draw`."""


class Turn(NamedTuple):
    """Gas volume [m3] and liner area laid bare [m2] at each of the finest steps of 720 degrees."""

    volume: NDArray[np.float64]
    bare: NDArray[np.float64]


class Gas(NamedTuple):
    """Pressure [Pa], temperature [K], volume [m3] and gas constant [J/(kg K)] at one moment."""

    pressure: float
    temperature: float
    volume: float
    gas_constant: float


class Phase(NamedTuple):
    """The part of the cycle, and the states at intake closing and at ignition that Woschni's gas speed refers to."""

    closed: bool
    burning: bool
    closing: Gas
    ignition_pressure: float
    ignition_volume: float


@njit(cache=True, error_model="numpy")
def turn_of(draw: Draw, count: int) -> Turn:
    """Room of the gas over 720 degrees in `count` steps."""
    travel = _travel(np.arange(count) * (4.0 * np.pi / count), 0.5 * draw.stroke, draw.rod_length)
    return Turn(draw.clearance + 0.25 * np.pi * draw.bore**2 * travel, np.pi * draw.bore * travel)


@njit(cache=True, error_model="numpy")
def film_coefficient(draw: Draw, gas: Gas, phase: Phase) -> float:
    """Film coefficient of the draw's correlation [W/(m2 K)]."""
    p, t = gas.pressure, gas.temperature
    piston_speed = 2.0 * draw.stroke * draw.speed
    if draw.correlation == 0:
        rise = 0.0
        if phase.burning:
            motored = phase.ignition_pressure * (phase.ignition_volume / gas.volume) ** _MOTORED_EXPONENT
            rise = max(p - motored, 0.0)
        swept = 0.25 * np.pi * draw.bore**2 * draw.stroke
        factor, closing = _CLOSED if phase.closed else _EXCHANGE, phase.closing
        w = _woschni_gas_speed(piston_speed, factor, swept, rise, closing.temperature, closing.pressure, closing.volume)
        h = _woschni(p, t, draw.bore, w)
    elif draw.correlation == 1:
        h = _hohenberg(p, t, gas.volume, piston_speed)
    else:
        h = _annand(p, t, draw.bore, piston_speed, gas.gas_constant)
        if phase.burning:
            h += _annand_radiation(t, 0.5 * (draw.crown_temperature + draw.head_temperature))
    return float(draw.multiplier * h)


@njit(cache=True, error_model="numpy")
def open_pressure(draw: Draw, angle: float, release: float, intake: float) -> float:
    """Pressure with a valve open [Pa]: blow-down, exhaust stroke, change-over about top centre, intake."""
    since = (angle - draw.exhaust_opening) / draw.blowdown_angle
    if since < 1.0:
        fall = 0.5 * (1.0 + np.cos(np.pi * since))
        return float(draw.exhaust_pressure + (release - draw.exhaust_pressure) * fall)
    change = (angle - (2.0 * np.pi - 0.5 * draw.overlap_angle)) / draw.overlap_angle
    share = 0.5 * (1.0 - np.cos(np.pi * min(max(change, 0.0), 1.0)))
    return float(draw.exhaust_pressure + (intake - draw.exhaust_pressure) * share)
