"""One step of the cycle, compiled: implicit trapezoid, valves shut or one open at a given pressure."""

from __future__ import annotations

from typing import NamedTuple

from numba import njit

from screening.physics.cylinder.gas_mixture import MixtureTable, level, mixture

_NEWTON_STEPS = 12
_NEWTON_TOLERANCE = 1e-6
"""Of the temperature with the valves shut: Newton converges squarely, so the error left is far smaller."""
_SECANT_TOLERANCE = 1e-9
"""Of the temperature with a valve open, by a secant. The energy is booked exactly whatever the last digits are."""


class State(NamedTuple):
    """The gas at one moment, SI.

    `burned` is the mass of burned gas, `film` the film coefficient [W/(m2 K)], `trend` what the step before added to the
    temperature [K].
    """

    temperature: float
    pressure: float
    mass: float
    energy: float
    burned: float
    gas_constant: float
    film: float
    trend: float


class Span(NamedTuple):
    """One step: gas volume [m3] and bare liner [m2] at its start and end, and half its time [s]."""

    volume: float
    next_volume: float
    bare: float
    next_bare: float
    half_time: float


class Loss(NamedTuple):
    """Heat lost in a step [J]: `lost` + `conductance` T - `sink`, with T [K] at its end."""

    lost: float
    conductance: float
    sink: float


class Port(NamedTuple):
    """What the intake port holds for the cylinder: the gas pushed back into it [kg], [J], [kg burned], and fresh mixture.

    `fresh_enthalpy` [J/kg] is that of the fresh mixture, which comes once the gas pushed back has returned.
    """

    mass: float
    enthalpy: float
    burned: float
    fresh_enthalpy: float


class Flow(NamedTuple):
    """What came in over a step (less than 0: left): mass [kg], enthalpy [J], burned mass [kg]."""

    mass: float
    enthalpy: float
    burned: float


@njit(cache=True, error_model="numpy")
def closed_step(
    table: MixtureTable, state: State, guess: float, row: float, burned: float, span: Span, loss: Loss
) -> tuple[float, float, float]:
    """Temperature, pressure and gas constant after a step with the valves shut; `burned` [kg] at its end."""
    mass, half = state.mass, 0.5 * (span.next_volume - span.volume)
    given = state.energy - half * state.pressure - loss.lost + loss.sink
    t, share, r, dr = guess, burned / mass, 0.0, 0.0
    push = half * mass / span.next_volume
    for _ in range(_NEWTON_STEPS):
        u, cv, r, dr = mixture(table, t, row, share)
        change = (mass * u + push * r * t + loss.conductance * t - given) / (
            mass * cv + push * (r + t * dr) + loss.conductance
        )
        t -= change
        r -= dr * change
        if abs(change) < _NEWTON_TOLERANCE * t:
            break
    return t, mass * r * t / span.next_volume, r


@njit(cache=True, error_model="numpy")
def _drawn_in(mass: float, port: Port) -> tuple[float, float]:
    """Enthalpy [J] and burned mass [kg] drawn in; what was pushed back returns first."""
    if mass <= port.mass:
        share = mass / port.mass if port.mass > 0.0 else 0.0
        return port.enthalpy * share, port.burned * share
    return port.enthalpy + (mass - port.mass) * port.fresh_enthalpy, port.burned


@njit(cache=True, error_model="numpy")
def open_step(
    table: MixtureTable, state: State, port: Port, intake: bool, p1: float, span: Span, loss: Loss
) -> tuple[float, float, Flow]:
    """Temperature and gas constant after a step that ends at the pressure `p1` [Pa], and what flowed.

    Through the exhaust port (not `intake`) flows gas of the cylinder's state either way.
    """
    row = level(table, p1)
    mass0, burned0 = state.mass, state.burned
    given = state.energy - 0.5 * (span.next_volume - span.volume) * (state.pressure + p1) - loss.lost + loss.sink
    share0 = burned0 / mass0
    t, share = state.temperature, share0
    u, cv, r, _ = mixture(table, t, row, share)
    h0 = u + r * t
    gain, enthalpy, burned = 0.0, 0.0, 0.0
    change, wrong_before = 0.0, 0.0
    for _ in range(4 * _NEWTON_STEPS):
        gain = p1 * span.next_volume / (r * t) - mass0
        if gain > 0.0 and intake:
            enthalpy, burned = _drawn_in(gain, port)
        else:
            enthalpy, burned = gain * 0.5 * (h0 + u + r * t), gain * share0
        mass = mass0 + gain
        share = (burned0 + burned) / mass
        u, cv, r, _ = mixture(table, t, row, share)
        wrong = mass * u + loss.conductance * t - enthalpy - given
        slope = mass * (cv + r) + loss.conductance
        if abs(change) > 1e-6:  # a secant in bounds: what flows in changes the mixture, which `slope` leaves out
            slope = min(max((wrong_before - wrong) / change, 0.3 * slope), 1.5 * slope)
        wrong_before = wrong
        change = wrong / slope
        t -= change
        if abs(change) < _SECANT_TOLERANCE * t:
            break
    return t, r, Flow(gain, enthalpy, burned)


@njit(cache=True, error_model="numpy")
def port_after(port: Port, flow: Flow) -> Port:
    """What the intake port holds after a step of the intake."""
    if flow.mass > port.mass:
        return Port(0.0, 0.0, 0.0, port.fresh_enthalpy)
    return Port(port.mass - flow.mass, port.enthalpy - flow.enthalpy, port.burned - flow.burned, port.fresh_enthalpy)
