"""How well the gas in the cylinder passes heat to its walls: three published film coefficients, and their
harmonics.

The three differ in shape as well as size, so a study samples the correlation as well as a multiplier. All are
dimensional fits to engines larger than a pump engine's; no one has shown that they hold below 100 cc.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

CORRELATIONS = ("woschni", "hohenberg", "annand")
"""Names of the correlations; the index of a name is its number in `CycleInputs.correlation`."""

# Woschni 1967, gas speed = first x mean piston speed + second x pressure-rise term (no swirl; from memory).
WOSCHNI_EXCHANGE, WOSCHNI_CLOSED, WOSCHNI_COMBUSTION = 6.18, 2.28, 3.24e-3
# Annand 1963: a = 0.35-0.8 by charge motion, 0.49 often taken for four-strokes; radiation 0.075 sigma (spark
# ignition). From memory.
ANNAND_CONVECTION, ANNAND_RADIATION = 0.49, 4.25e-9
# Power laws fitted to burned isooctane in air, 300-2,500 K, from the GRI-Mech transport data in Cantera:
# within 3 %.
_GAS_CONDUCTIVITY, _CONDUCTIVITY_EXPONENT = 0.0736, 0.881  # [W/(m K)] at 1,000 K
_GAS_VISCOSITY, _VISCOSITY_EXPONENT = 4.04e-5, 0.716  # [Pa s] at 1,000 K


def woschni(
    pressure: NDArray[np.float64],
    temperature: NDArray[np.float64],
    bore: NDArray[np.float64],
    gas_speed: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return Woschni's film coefficient.

    h = 129.8 bore^-0.2 p^0.8 T^-0.53 w^0.8 with p in bar. The often quoted 3.26 with T^-0.55 and p in kPa is
    13 % lower near 1,000 K: constant, exponent and unit go together.

    Parameters
    ----------
    pressure : [Pa]
    temperature : mean gas temperature [K]
    bore : [m]
    gas_speed : w, see `woschni_gas_speed` [m/s]

    Returns
    -------
    film_coefficient : [W/(m2 K)]

    Notes
    -----
    Fitted to a diesel engine; a dimensional correlation.

    References
    ----------
    Woschni 1967, SAE 670931 (110 kcal/(m2 h K) with p in kgf/cm2, converted; from memory).
    """
    # One exponential instead of three powers: these lines take a good part of the cycle's time.
    power = 0.8 * np.log(pressure * 1e-5 * gas_speed) - 0.53 * np.log(temperature) - 0.2 * np.log(bore)
    return 129.8 * np.exp(power)


def woschni_gas_speed(
    piston_speed: NDArray[np.float64],
    factor: NDArray[np.float64],
    swept: NDArray[np.float64],
    pressure_rise: NDArray[np.float64],
    reference_temperature: NDArray[np.float64],
    reference_pressure: NDArray[np.float64],
    reference_volume: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return Woschni's characteristic gas speed w = C1 S_p + C2 (V_s T_r/(p_r V_r)) (p - p_motored).

    Parameters
    ----------
    piston_speed : mean [m/s]
    factor : C1, `WOSCHNI_EXCHANGE` with a valve open, `WOSCHNI_CLOSED` else [1]
    swept : V_s [m3]
    pressure_rise : p - p_motored, 0 before combustion and with a valve open [Pa]
    reference_temperature, reference_pressure, reference_volume : at intake closing [K, Pa, m3]

    Returns
    -------
    gas_speed : [m/s]

    References
    ----------
    Woschni 1967; Heywood 1988, eq. 12.18 (from memory).
    """
    combustion = WOSCHNI_COMBUSTION * swept * reference_temperature / (reference_pressure * reference_volume)
    return factor * piston_speed + combustion * pressure_rise


def hohenberg(
    pressure: NDArray[np.float64],
    temperature: NDArray[np.float64],
    volume: NDArray[np.float64],
    piston_speed: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return Hohenberg's film coefficient.

    h = 130 V^-0.06 p^0.8 T^-0.4 (S_p + 1.4)^0.8 with p in bar, V in m3.

    Parameters
    ----------
    pressure : [Pa]
    temperature : mean gas temperature [K]
    volume : of the gas at that moment [m3]
    piston_speed : mean [m/s]

    Returns
    -------
    film_coefficient : [W/(m2 K)]

    Notes
    -----
    Fitted to diesel engines, closed part of the cycle; used here over the whole cycle. A dimensional
    correlation.

    References
    ----------
    Hohenberg 1979, SAE 790825 (from memory).
    """
    driven = 0.8 * np.log(pressure * 1e-5 * (piston_speed + 1.4))
    return 130.0 * np.exp(driven - 0.06 * np.log(volume) - 0.4 * np.log(temperature))


def annand(
    pressure: NDArray[np.float64],
    temperature: NDArray[np.float64],
    bore: NDArray[np.float64],
    piston_speed: NDArray[np.float64],
    gas_constant: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return the convective part of Annand's film coefficient.

    h = 0.49 (k/bore) Re^0.7, Re = rho S_p bore/mu.

    Parameters
    ----------
    pressure : [Pa]
    temperature : mean gas temperature [K]
    bore : [m]
    piston_speed : mean [m/s]
    gas_constant : of the gas [J/(kg K)]

    Returns
    -------
    film_coefficient : [W/(m2 K)]

    Notes
    -----
    k and mu are power laws for burned gas (fit to GRI-Mech transport data, 3 %).

    References
    ----------
    Annand 1963, Proc. Inst. Mech. Eng. 177, 973-996 (from memory).
    """
    conductivity = _GAS_CONDUCTIVITY * (temperature * 1e-3) ** _CONDUCTIVITY_EXPONENT
    viscosity = _GAS_VISCOSITY * (temperature * 1e-3) ** _VISCOSITY_EXPONENT
    density = pressure / (gas_constant * temperature)
    reynolds = density * piston_speed * bore / viscosity
    return ANNAND_CONVECTION * conductivity / bore * reynolds**0.7


def annand_radiation(temperature: NDArray[np.float64], wall_temperature: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return Annand's radiation as a film coefficient, c (T^4 - T_w^4)/(T - T_w), c = 0.075 of Stefan's
    constant.

    For spark ignition, from ignition to exhaust opening.

    Parameters
    ----------
    temperature, wall_temperature : [K]

    Returns
    -------
    film_coefficient : [W/(m2 K)]

    References
    ----------
    Annand 1963 (from memory).
    """
    return ANNAND_RADIATION * (temperature**2 + wall_temperature**2) * (temperature + wall_temperature)


@dataclass(frozen=True, eq=False)
class FilmHarmonics:
    """Fourier series over one cycle of the film's h T and h, whose difference is the flux into a wall.

    `heating` of h T [W/m2] and `coefficient` of h [W/(m2 K)] are complex, (n_harmonic + 1, [n_draw]); row k
    belongs to exp(i k theta/2), row 0 is the mean. The flux into a wall at T_s is Re sum of (heating - T_s
    coefficient).
    """

    heating: NDArray[np.complex128]
    coefficient: NDArray[np.complex128]

    def flux(self, surface_temperature: ArrayLike) -> NDArray[np.complex128]:
        """Return the complex amplitudes of the flux into a wall at `surface_temperature` [K] (W/m2)."""
        return np.asarray(self.heating - np.asarray(surface_temperature, float) * self.coefficient)


def film_flux_harmonics(film_coefficient: ArrayLike, gas_temperature: ArrayLike, count: int) -> FilmHarmonics:
    """Return the Fourier series of the film's heating over one cycle, for the swing of a wall's surface.

    For an evenly spaced, half-open cycle (first axis). q(theta) = h (T - T_s).

    Parameters
    ----------
    film_coefficient : h, (n_angle, [n_draw]) [W/(m2 K)]
    gas_temperature : T, same shape [K]
    count : harmonics wanted, below n_angle/2; harmonic k has the frequency k times cycles per second

    Returns
    -------
    FilmHarmonics
    """
    h = np.asarray(film_coefficient, float)
    heating = np.fft.rfft(h * np.asarray(gas_temperature, float), axis=0)[: count + 1] * 2.0 / h.shape[0]
    coefficient = np.fft.rfft(h, axis=0)[: count + 1] * 2.0 / h.shape[0]
    heating[0] /= 2.0
    coefficient[0] /= 2.0
    return FilmHarmonics(heating, coefficient)
