"""How hot is a surface that an infrared thermometer reads, and what does it read off a hot surface?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants
from scipy.optimize import elementwise

from screening.arrays import FloatArray
from screening.errors import OutOfRange

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(32)
_FIRST_RADIATION = 2 * constants.h * constants.c**2
_SECOND_RADIATION = constants.h * constants.c / constants.k
_COLDEST, _HOTTEST = 50.0, 6000.0


def band_radiance(temperature: ArrayLike, band: tuple[float, float] = (8e-6, 14e-6)) -> FloatArray:
    """Return the radiance of a black body within a wavelength band.

    Planck's law  B = 2 h c^2 / lambda^5 / (exp(h c / (lambda k T)) - 1)  integrated over the band by Gauss-Legendre
    quadrature (32 nodes; the relative error is below 1e-12 for 8 to 14 um above 150 K).

    Parameters
    ----------
    temperature : [K] any shape; 0 and below give NaN
    band : ([m], [m]) limits of the wavelength

    Returns
    -------
    [W/(m2 sr)] of the shape of `temperature`

    Raises
    ------
    OutOfRange : wavelengths that do not rise from above zero

    References
    ----------
    Planck's law with the constants of `scipy.constants` (CODATA).

    Example
    -------
    >>> round(float(band_radiance(300.0)), 1)
    54.9
    """
    low, high = band
    if not 0 < low < high:
        raise OutOfRange(f"band: got {band}; must be two rising wavelengths above 0 m, such as (8e-6, 14e-6)")
    kelvin = np.asarray(temperature, dtype=float)
    kelvin = np.where(kelvin > 0, kelvin, np.nan)[..., np.newaxis]
    wavelength = (low + high) / 2 + (high - low) / 2 * _NODES
    exponent = _SECOND_RADIATION / (wavelength * kelvin)
    spectral = _FIRST_RADIATION / wavelength**5 * np.exp(-exponent) / -np.expm1(-exponent)
    return (high - low) / 2 * np.sum(_WEIGHTS * spectral, axis=-1)


def surface_temperature(
    reading: ArrayLike,
    gun_emissivity: ArrayLike,
    surface_emissivity: ArrayLike,
    surroundings: ArrayLike,
    compensated_for: ArrayLike | None = None,
    band: tuple[float, float] = (8e-6, 14e-6),
) -> FloatArray:
    """Return the temperature of an opaque grey surface from the reading of a gun set to another emissivity.

    Holds for a surface that fills the gun's spot, in surroundings of one temperature, through clear air. Solves
    e B(T) + (1 - e) B(T_s) = e_gun B(T_r) + (1 - e_gun) B(T_c) for T, with B the band radiance.

    Parameters
    ----------
    reading : [K] T_r, what the gun shows
    gun_emissivity : [1] e_gun, what the gun is set to, above 0 to 1
    surface_emissivity : [1] e, above 0 to 1
    surroundings : [K] T_s, temperature of what the surface mirrors
    compensated_for : [K] T_c, what the gun takes that to be; None: just what it is
    band : ([m], [m]) the gun's wavelengths

    Returns
    -------
    [K] T, the broadcast of all; NaN where an argument is NaN

    Raises
    ------
    OutOfRange : an emissivity outside (0, 1], a temperature of 0 K or less, or a reading that no surface of that
        emissivity can give in those surroundings

    Notes
    -----
    Most guns take T_c to be their own temperature; on some it is set. A bright surface near a hot part mirrors that part:
    then T_s is neither T_c nor the air's temperature. At e = 1 T_s drops out, at e_gun = 1 T_c does.
    Few makers say the band of a gun; 8 to 14 um is the usual one of handheld guns.

    References
    ----------
    The balance of emitted and mirrored radiance is textbook radiometry; see Siegel and Howell, Thermal Radiation Heat
    Transfer (from memory).

    Example
    -------
    A gun set to 0.95 shows 60 degC off bare aluminium of emissivity 0.24 in a room at 20 degC:

    >>> round(float(surface_temperature(333.15, 0.95, 0.24, 293.15)) - 273.15)
    140
    """
    taken = surroundings if compensated_for is None else compensated_for
    read, gun, surface, around, taken_off = np.broadcast_arrays(
        *(np.asarray(x, dtype=float) for x in (reading, gun_emissivity, surface_emissivity, surroundings, taken))
    )
    for name, value in (("gun_emissivity", gun), ("surface_emissivity", surface)):
        if np.any((value <= 0) | (value > 1)):
            raise OutOfRange(
                f"{name}: got {value[(value <= 0) | (value > 1)].flat[0]:g}; must be above 0 and at most 1"
            )
    for name, value in (("reading", read), ("surroundings", around), ("compensated_for", taken_off)):
        if np.any(value <= 0):
            raise OutOfRange(f"{name}: got {value[value <= 0].flat[0]:g} K; must be above 0 K")
    emitted = _emitted(read, gun, surface, around, taken_off, band)
    if np.any((emitted <= band_radiance(_COLDEST, band)) | (emitted >= band_radiance(_HOTTEST, band))):
        raise OutOfRange(
            "reading: no surface of that emissivity can give it in those surroundings; "
            "check the emissivities, and what the surface mirrors"
        )
    finite = np.isfinite(emitted)
    root = elementwise.find_root(
        lambda kelvin, radiance: band_radiance(kelvin, band) / radiance - 1,
        (np.full(emitted.shape, _COLDEST), np.full(emitted.shape, _HOTTEST)),
        args=(np.where(finite, emitted, 1.0),),
        tolerances={"xrtol": 1e-12, "xatol": 1e-9, "frtol": 0, "fatol": 0},
    )
    return np.where(finite, root.x, np.nan)[()]


def can_be_read(
    reading: ArrayLike,
    gun_emissivity: ArrayLike,
    surface_emissivity: ArrayLike,
    surroundings: ArrayLike,
    compensated_for: ArrayLike | None = None,
    band: tuple[float, float] = (8e-6, 14e-6),
) -> NDArray[np.bool_]:
    """Return the cases in which a surface of that emissivity can give the reading in those surroundings.

    Holds as `surface_temperature` does, and tells beforehand where that would refuse: what the surface must emit has to
    lie between that of a black body at 50 K and at 6000 K.

    Parameters
    ----------
    reading, gun_emissivity, surface_emissivity, surroundings, compensated_for, band : as in `surface_temperature`

    Returns
    -------
    bool, the broadcast of all; False where an argument is NaN

    Example
    -------
    A gun that shows 5 degC off bright metal in a room at 20 degC was not pointed at that metal alone:

    >>> can_be_read(278.15, 0.95, [0.05, 0.9], 293.15).tolist()
    [False, True]
    """
    taken = surroundings if compensated_for is None else compensated_for
    read, gun, surface, around, taken_off = (
        np.asarray(x, dtype=float) for x in (reading, gun_emissivity, surface_emissivity, surroundings, taken)
    )
    emitted = _emitted(read, gun, surface, around, taken_off, band)
    return np.asarray((emitted > band_radiance(_COLDEST, band)) & (emitted < band_radiance(_HOTTEST, band)))


def _emitted(
    read: FloatArray,
    gun: FloatArray,
    surface: FloatArray,
    around: FloatArray,
    taken_off: FloatArray,
    band: tuple[float, float],
) -> FloatArray:
    """Return the radiance a black body of the surface's temperature has [W/(m2 sr)]; not positive where none can."""
    seen = gun * band_radiance(read, band) + (1 - gun) * band_radiance(taken_off, band)
    return (seen - (1 - surface) * band_radiance(around, band)) / surface


def expected_reading(
    temperature: ArrayLike,
    gun_emissivity: ArrayLike,
    surface_emissivity: ArrayLike,
    surroundings: ArrayLike,
    compensated_for: ArrayLike | None = None,
    band: tuple[float, float] = (8e-6, 14e-6),
) -> FloatArray:
    """Return the reading that a gun shows of a surface at a temperature: the inverse of `surface_temperature`.

    Holds as `surface_temperature` does; the same balance is solved for T_r.

    Parameters
    ----------
    temperature : [K] T, of the surface
    gun_emissivity, surface_emissivity, surroundings, compensated_for, band : as in `surface_temperature`

    Returns
    -------
    [K] T_r, the broadcast of all

    Raises
    ------
    OutOfRange : as `surface_temperature`

    Example
    -------
    >>> round(float(expected_reading(413.15, 0.95, 0.24, 293.15)) - 273.15)
    60
    """
    taken = surroundings if compensated_for is None else compensated_for
    return surface_temperature(temperature, surface_emissivity, gun_emissivity, taken, surroundings, band)
