"""One step of the cycle, compiled: implicit trapezoid, valves shut or one open at a given pressure."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from screening.physics.cylinder.gas_mixture import Gas, mixture

_NEWTON_STEPS = 12
_NEWTON_TOLERANCE = 1e-6
"""Of the temperature with the valves shut: Newton converges squarely, so the error left is far smaller."""
_SECANT_TOLERANCE = 1e-9
"""Of the temperature with a valve open, found by a secant. The energy is booked exactly whatever the last digits are."""


@njit(cache=True, error_model="numpy")
def closed_step(
    gas: Gas,
    state: NDArray[np.float64],
    guess: float,
    row: float,
    burned: float,
    volume0: float,
    volume1: float,
    lost: float,
    conductance: float,
    sink: float,
) -> tuple[float, float, float]:
    """Temperature, pressure and gas constant after a step with the valves shut.

    `state` is T, p, mass, energy, burned mass. Heat lost in the step is `lost` + `conductance` T - `sink`
    [J].
    """
    mass, half = state[2], 0.5 * (volume1 - volume0)
    known = state[3] - half * state[1] - lost + sink
    t, share, r, dr = guess, burned / mass, 0.0, 0.0
    push = half * mass / volume1
    for _ in range(_NEWTON_STEPS):
        u, cv, r, dr = mixture(gas, t, row, share)
        change = (mass * u + push * r * t + conductance * t - known) / (mass * cv + push * (r + t * dr) + conductance)
        t -= change
        r -= dr * change
        if abs(change) < _NEWTON_TOLERANCE * t:
            break
    return t, mass * r * t / volume1, r


@njit(cache=True, error_model="numpy")
def inflow(mass: float, slug: NDArray[np.float64], fresh_enthalpy: float) -> tuple[float, float]:
    """Enthalpy [J] and burned mass [kg] drawn in; what was pushed back (`slug`) returns first."""
    if mass <= slug[0]:
        share = mass / slug[0] if slug[0] > 0.0 else 0.0
        return slug[1] * share, slug[2] * share
    return slug[1] + (mass - slug[0]) * fresh_enthalpy, slug[2]


@njit(cache=True, error_model="numpy")
def open_step(
    gas: Gas,
    state: NDArray[np.float64],
    slug: NDArray[np.float64],
    fresh_enthalpy: float,
    row: float,
    p1: float,
    volume0: float,
    volume1: float,
    lost: float,
    conductance: float,
    sink: float,
) -> tuple[float, float, float, float, float]:
    """Temperature, mass gained, its enthalpy, its burned mass and the gas constant after a step that ends at
    `p1`.

    A NaN `fresh_enthalpy` means the exhaust port: what flows has the state of the cylinder. Else as
    `closed_step`.
    """
    mass0, burned0 = state[2], state[4]
    known = state[3] - 0.5 * (volume1 - volume0) * (state[1] + p1) - lost + sink
    share0 = burned0 / mass0
    t, share = state[0], share0
    u, cv, r, _ = mixture(gas, t, row, share)
    h0 = u + r * t
    gain, enthalpy, burned = 0.0, 0.0, 0.0
    change, wrong_before = 0.0, 0.0
    for _ in range(4 * _NEWTON_STEPS):
        gain = p1 * volume1 / (r * t) - mass0
        if gain > 0.0 and not np.isnan(fresh_enthalpy):
            enthalpy, burned = inflow(gain, slug, fresh_enthalpy)
        else:
            enthalpy, burned = gain * 0.5 * (h0 + u + r * t), gain * share0
        mass = mass0 + gain
        share = (burned0 + burned) / mass
        u, cv, r, _ = mixture(gas, t, row, share)
        wrong = mass * u + conductance * t - enthalpy - known
        slope = mass * (cv + r) + conductance
        if abs(change) > 1e-6:  # a secant in bounds: what flows in changes the mixture, which `slope` leaves out
            slope = min(max((wrong_before - wrong) / change, 0.3 * slope), 1.5 * slope)
        wrong_before = wrong
        change = wrong / slope
        t -= change
        if abs(change) < _SECANT_TOLERANCE * t:
            break
    return t, gain, enthalpy, burned, r


@njit(cache=True, error_model="numpy")
def book_flow(
    books: NDArray[np.float64],
    slug: NDArray[np.float64],
    intake: bool,
    gain: float,
    enthalpy: float,
    burned: float,
    fresh: float,
) -> None:
    """Book what a step let out or drew in: from the slug first, then from the fresh mixture; or add to the slug."""
    if not intake:
        books[5] -= enthalpy
    elif gain > slug[0]:
        books[4] += (gain - slug[0]) * fresh
        books[6] += gain - slug[0]
        slug[:] = 0.0
    else:
        slug[0] -= gain
        slug[1] -= enthalpy
        slug[2] -= burned
