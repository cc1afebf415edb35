"""How near a liquid lies to a polymer in Hansen space, and the interaction parameter that follows from it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants

FloatArray = NDArray[np.float64]

ATHERMAL = 0.34
"""Interaction parameter of a liquid that is a perfect match: what entropy alone leaves (Blanks & Prausnitz 1964)."""
CRITICAL = 0.5
"""Interaction parameter at which a long chain just stops dissolving (Flory 1953, ch. XIII)."""
SLOPE = 0.6
"""Share of the regular-solution term that published interaction parameters show (see Notes of the functions)."""
TEST_LIQUID_VOLUME = 2.0e-4
"""Largest molar volume of the liquids that spheres are usually drawn from [m3/mol] (Hansen 2007: 40 to 200 cm3/mol)."""
_MPA = 1e6


def hansen_distance_squared(liquid: ArrayLike, polymer: ArrayLike) -> FloatArray:
    """Return the squared Hansen distance; holds for liquids without acid-base bonds to the polymer.

    Ra^2 = 4 (dD1 - dD2)^2 + (dP1 - dP2)^2 + (dH1 - dH2)^2

    Parameters
    ----------
    liquid, polymer : array_like
        dD, dP, dH on the last axis [MPa^0.5]; the other axes broadcast.

    Returns
    -------
    ndarray
        [MPa]

    References
    ----------
    Hansen, C. M. (2007). Hansen Solubility Parameters: A User's Handbook, 2nd ed., eq. 1.9, from memory.

    Examples
    --------
    >>> float(hansen_distance_squared((15.0, 10.0, 7.0), (16.0, 10.0, 10.0)))
    13.0
    """
    difference = np.asarray(liquid, dtype=float) - np.asarray(polymer, dtype=float)
    return difference**2 @ np.array([4.0, 1.0, 1.0])


def distance_ratio(distance_squared: ArrayLike, radius: ArrayLike) -> FloatArray:
    """Return RED = Ra / R0 [1] from Ra^2 [MPa] and the sphere's radius R0 [MPa^0.5]."""
    return np.sqrt(np.asarray(distance_squared, dtype=float)) / np.asarray(radius, dtype=float)


def regular_solution_term(distance_squared: ArrayLike, molar_volume: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Return x = V1 Ra^2 / (4 R T) [1].

    Parameters
    ----------
    distance_squared : array_like
        Ra^2 [MPa].
    molar_volume : array_like
        V1 of the liquid [m3/mol].
    temperature : array_like
        [K]

    References
    ----------
    Hansen (2007), ch. 2: the factor 4 brings Ra^2 to the scale of a Hildebrand difference; from memory.
    """
    ra = np.asarray(distance_squared, dtype=float) * _MPA
    return ra * np.asarray(molar_volume, dtype=float) / (4 * constants.R * np.asarray(temperature, dtype=float))


def interaction_without_radius(regular_term: ArrayLike, slope: ArrayLike = SLOPE) -> FloatArray:
    """Return chi = 0.34 + slope x where only the polymer's centre is known, [1]."""
    return ATHERMAL + np.asarray(slope, dtype=float) * np.asarray(regular_term, dtype=float)


def unlike_pair_term(
    dispersion: ArrayLike,
    polymer_dispersion: ArrayLike,
    molar_volume: ArrayLike,
    temperature: ArrayLike,
    deviation: ArrayLike,
) -> FloatArray:
    """Return what chi gains where unlike molecules attract each other less than the geometric mean, [1].

    2 l dD1 dD2 V1 / (R T)

    Distance in Hansen space rests on the geometric mean, which fluorocarbons with hydrocarbons fall short of by about a
    tenth: they part although their parameters agree.

    Parameters
    ----------
    dispersion, polymer_dispersion : array_like
        dD of liquid and polymer [MPa^0.5].
    molar_volume : array_like
        V1 of the liquid [m3/mol].
    temperature : array_like
        [K]
    deviation : array_like
        l, the share by which the attraction falls short [1].

    References
    ----------
    Hildebrand, J. H., Prausnitz, J. M. & Scott, R. L. (1970). Regular and Related Solutions, from memory; Scott, R. L.
    (1958). J. Phys. Chem. 62, 136, from memory.
    """
    energy = np.asarray(dispersion, dtype=float) * np.asarray(polymer_dispersion, dtype=float) * _MPA
    volume = np.asarray(molar_volume, dtype=float)
    return 2 * np.asarray(deviation, dtype=float) * energy * volume / (constants.R * np.asarray(temperature))


def tested_volume(molar_volume: ArrayLike) -> FloatArray:
    """Return how much of a liquid's molar volume [m3/mol] a sphere can speak for: at most that of its test liquids."""
    return np.minimum(np.asarray(molar_volume, dtype=float), TEST_LIQUID_VOLUME)


def interaction_of_untested_size(
    distance_squared: ArrayLike, molar_volume: ArrayLike, temperature: ArrayLike, slope: ArrayLike = SLOPE
) -> FloatArray:
    """Return what the volume beyond that of any test liquid adds to chi [1]; 0 for a molecule no larger than those.

    slope (V1 - 200 cm3/mol) Ra^2 / (4 R T)

    A sphere is drawn with small liquids: that one of them lies within says nothing of a molecule three times its size
    (an oil) at the same place, so that the rest of an oil's volume counts by its distance from the centre alone. chi
    is continuous in V1.
    """
    volume = np.asarray(molar_volume, dtype=float)
    return np.asarray(slope, dtype=float) * regular_solution_term(
        distance_squared, volume - tested_volume(volume), temperature
    )


def interaction_from_sphere(
    ratio: ArrayLike, regular_term: ArrayLike, boundary: ArrayLike = CRITICAL, slope: ArrayLike = SLOPE
) -> FloatArray:
    """Return the interaction parameter chi from a sphere whose surface is drawn where chi reaches `boundary`.

    chi = 0.34 + (boundary - 0.34) RED^2 within the sphere, boundary + slope x (1 - 1/RED^2) outside, with
    x (1 - 1/RED^2) = V1 (Ra^2 - R0^2) / (4 R T). A sphere of dissolution has its surface at chi = 0.5.

    Parameters
    ----------
    ratio : array_like
        RED [1].
    regular_term : array_like
        x of `regular_solution_term` [1].
    boundary : array_like
        chi on the sphere's surface [1].
    slope : array_like
        Share of the regular-solution term outside.

    Notes
    -----
    With the full term (slope 1 and no sphere) chi comes out too high against published values of good liquids; see
    `tests/published/contact_interaction_parameters.csv`. The spread against them is about 0.4 in ln chi.
    """
    red2 = np.asarray(ratio, dtype=float) ** 2
    x = np.asarray(regular_term, dtype=float)
    edge = np.asarray(boundary, dtype=float)
    inside = ATHERMAL + (edge - ATHERMAL) * red2
    beyond = x * (1 - 1 / np.maximum(red2, 1.0))
    return np.where(red2 <= 1, inside, edge + np.asarray(slope, dtype=float) * beyond) + 0 * (red2 + x)
