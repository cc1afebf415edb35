"""How far does the surface swing within a cycle? Periodic flux into a deep solid."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange

Floats = NDArray[np.float64]
HIGHEST_HARMONIC_SAMPLES = 8
"""Instants looked at per period of the highest harmonic, to find the peak."""


def flux_harmonics(flux: ArrayLike, count: int = 60) -> NDArray[np.complex128]:
    """Return the first `count` harmonics of a flux given evenly over one cycle.

    q(t) = mean + Re sum_m Q_m exp(i m w t), m = 1 ... count; the mean is left out.

    Parameters
    ----------
    flux : one cycle, evenly in time, end not repeated, `(n_angle,)` or `(n_angle, n_draw)` [W/m2]
    count : harmonics kept, at most (n_angle - 1) // 2

    Returns
    -------
    complex `(n_harmonic,)` or `(n_harmonic, n_draw)` [W/m2]
    """
    cycle = np.asarray(flux, dtype=np.float64)
    most = (cycle.shape[0] - 1) // 2
    return np.asarray(2.0 * np.fft.rfft(cycle, axis=0)[1 : min(count, most) + 1] / cycle.shape[0])


def swing_over_cycle(
    flux_harmonics: ArrayLike, cycle_frequency: ArrayLike, effusivity: ArrayLike, samples: int | None = None
) -> Floats:
    """Return the surface temperature about its mean over one cycle, `(n_sample,)` or `(n_sample, n_draw)` [K].

    Holds where the layer is much deeper than the swing goes (`swing_depth`), for a flux that does not itself depend
    on the swing. T(t) = Re sum_m Q_m exp(i m w t)/(e sqrt(i m w)): a harmonic of flux Q at angular frequency w
    swings the surface by Q/(e sqrt w), 45 degrees behind.

    Parameters
    ----------
    flux_harmonics : of the flux, from the first on, as `flux_harmonics` gives, `(n_harmonic,)` or
        `(n_harmonic, n_draw)`, complex [W/m2]
    cycle_frequency : cycles a second (of a four-stroke: half the speed), a number or `(n_draw,)` [1/s]
    effusivity : sqrt(k rho c), a number or `(n_draw,)` [J/(m2 K s^0.5)]
    samples : instants over the cycle, more than two per period of the highest harmonic; default 8

    Raises
    ------
    OutOfRange
        frequency or effusivity not positive.

    References
    ----------
    Carslaw & Jaeger 1959, Conduction of Heat in Solids, section 2.6, from memory.
    """
    frequency, e = (np.asarray(part, dtype=np.float64) for part in (cycle_frequency, effusivity))
    for name, value in (("cycle_frequency", frequency), ("effusivity", e)):
        if np.any(value <= 0):
            raise OutOfRange(f"surface swing, {name}: got {np.nanmin(value):g}; must be above 0")
    harmonics = np.asarray(flux_harmonics, dtype=np.complex128)
    order = np.arange(1, harmonics.shape[0] + 1)
    single = harmonics.ndim == 1 and frequency.ndim == 0 and e.ndim == 0
    rows = harmonics if harmonics.ndim == 2 else harmonics[:, None]
    omega = 2.0 * np.pi * order[:, None] * np.atleast_1d(frequency)
    with np.errstate(invalid="ignore"):  # NaN in, NaN out
        response = rows / (np.atleast_1d(e) * np.sqrt(1j * omega))
    instants = samples or HIGHEST_HARMONIC_SAMPLES * order.size
    spectrum = np.concatenate([np.zeros_like(response[:1]), response * (instants / 2.0)])
    swing = np.fft.irfft(spectrum, instants, axis=0)
    return swing[:, 0] if single else swing


def surface_swing(flux_harmonics: ArrayLike, cycle_frequency: ArrayLike, effusivity: ArrayLike) -> Floats:
    """Return the rise of the surface's peak above its mean temperature within a cycle, `()` or `(n_draw,)` [K].

    The highest value of `swing_over_cycle`, which see for parameters, validity and source.

    Examples
    --------
    One harmonic of 100 kW/m2 at 15 cycles a second on a polymer (e = 670): 1e5/(670 sqrt(2 pi 15)) = 15.4 K.

    >>> round(float(surface_swing([1e5], 15.0, 670.0)), 1)
    15.4
    """
    swing = swing_over_cycle(flux_harmonics, cycle_frequency, effusivity)
    return np.asarray(swing.max(axis=0))


def swing_depth(cycle_frequency: ArrayLike, diffusivity: ArrayLike) -> Floats:
    """Return the depth at which the first harmonic is down to 1/e, sqrt(2 a/w) [m].

    Parameters
    ----------
    cycle_frequency : [1/s]
    diffusivity : k/(rho c) [m2/s]

    References
    ----------
    Carslaw & Jaeger 1959, section 2.6, from memory.
    """
    omega = 2.0 * np.pi * np.asarray(cycle_frequency, dtype=np.float64)
    return np.asarray(np.sqrt(2.0 * np.asarray(diffusivity, dtype=np.float64) / omega))
