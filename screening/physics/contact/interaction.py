"""Which interaction parameter chi do a liquid and a polymer have, from where they lie in Hansen space?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy import constants

from screening.arrays import FloatArray

ATHERMAL = 0.34
"""Interaction parameter of a liquid that is a perfect match: what entropy alone leaves (Blanks & Prausnitz 1964)."""
CRITICAL = 0.5
"""Interaction parameter at which a long chain just stops dissolving (Flory 1953, ch. XIII)."""
SLOPE = 0.6
"""Share of the regular-solution term that published interaction parameters show (see Notes of `interaction_from_sphere`)."""
TEST_LIQUID_VOLUME = 2.0e-4
"""Largest molar volume of the liquids that spheres are usually drawn from [m3/mol] (Hansen 2007: 40 to 200 cm3/mol)."""
_PASCAL_OF_MPA = 1e6


def regular_solution_term(distance_squared: ArrayLike, molar_volume: ArrayLike, temperature: ArrayLike) -> FloatArray:
    """Return the part of the interaction parameter that unlike cohesion makes, by the theory of regular solutions.

    Holds for liquids without specific bonds to the polymer.

        x = V1 Ra^2/(4 R T)

    Parameters
    ----------
    distance_squared : [MPa] Ra^2
    molar_volume : [m3/mol] V1 of the liquid
    temperature : [K] T

    Returns
    -------
    [1] the broadcast of all

    References
    ----------
    Hansen (2007), ch. 2: the factor 4 brings Ra^2 to the scale of a Hildebrand difference; from memory.

    Example
    -------
    >>> round(float(regular_solution_term(50.0, 1e-4, 298.15)), 3)
    0.504
    """
    energy = np.asarray(distance_squared, dtype=float) * _PASCAL_OF_MPA
    return energy * np.asarray(molar_volume, dtype=float) / (4 * constants.R * np.asarray(temperature, dtype=float))


def interaction_without_radius(regular_term: ArrayLike, slope: ArrayLike = SLOPE) -> FloatArray:
    """Return the interaction parameter where the polymer's sphere has a centre and no radius.

        chi = 0.34 + slope x

    Parameters
    ----------
    regular_term : [1] x of `regular_solution_term`
    slope : [1] share of the regular-solution term

    Returns
    -------
    [1] chi, the broadcast of both

    References
    ----------
    Blanks, R. F., Prausnitz, J. M. (1964), Ind. Eng. Chem. Fundam. 3, 1 (0.34, slope 1); from memory. The slope of 0.6:
    Notes of `interaction_from_sphere`.

    Example
    -------
    >>> float(interaction_without_radius(0.5))
    0.64
    """
    return ATHERMAL + np.asarray(slope, dtype=float) * np.asarray(regular_term, dtype=float)


def interaction_from_sphere(
    ratio: ArrayLike, regular_term: ArrayLike, boundary: ArrayLike = CRITICAL, slope: ArrayLike = SLOPE
) -> FloatArray:
    """Return the interaction parameter from a sphere whose surface is drawn where chi reaches `boundary`.

    Holds for molecules no larger than those that the sphere was drawn with (`volume_like_test_liquids`). A sphere of dissolution has
    its surface at chi = 0.5.

        chi = 0.34 + (boundary - 0.34) RED^2 within;  boundary + slope x (1 - 1/RED^2) outside,
        where x (1 - 1/RED^2) = V1 (Ra^2 - R0^2)/(4 R T)

    Parameters
    ----------
    ratio : [1] RED
    regular_term : [1] x of `regular_solution_term`
    boundary : [1] chi on the sphere's surface
    slope : [1] share of the regular-solution term outside

    Returns
    -------
    [1] chi, the broadcast of all

    Notes
    -----
    With the full term (slope 1 and no sphere) chi comes out too high against published values of good liquids; see
    `tests/published/contact_interaction_parameters.csv`. The spread against them is about 0.4 in ln chi.

    Example
    -------
    >>> float(interaction_from_sphere(1.0, 0.8)), round(float(interaction_from_sphere(2.0, 0.8)), 2)
    (0.5, 0.86)
    """
    red_squared = np.asarray(ratio, dtype=float) ** 2
    x = np.asarray(regular_term, dtype=float)
    edge = np.asarray(boundary, dtype=float)
    inside = ATHERMAL + (edge - ATHERMAL) * red_squared
    beyond = x * (1 - 1 / np.maximum(red_squared, 1.0))
    either = np.where(red_squared <= 1, inside, edge + np.asarray(slope, dtype=float) * beyond)
    return either + 0 * (red_squared + x)  # NaN in either is NaN


def unlike_pair_term(
    dispersion: ArrayLike,
    polymer_dispersion: ArrayLike,
    molar_volume: ArrayLike,
    temperature: ArrayLike,
    deviation: ArrayLike,
) -> FloatArray:
    """Return the gain of chi where unlike molecules attract each other less than the geometric mean of their like pairs.

    Distance in Hansen space rests on the geometric mean, which fluorocarbons with hydrocarbons fall short of by about a
    tenth: they part although their parameters agree.

        chi gains 2 l dD1 dD2 V1/(R T)

    Parameters
    ----------
    dispersion : [MPa^0.5] dD1 of the liquid
    polymer_dispersion : [MPa^0.5] dD2
    molar_volume : [m3/mol] V1 of the liquid
    temperature : [K] T
    deviation : [1] l, the share by which the attraction falls short

    Returns
    -------
    [1] the broadcast of all

    References
    ----------
    Hildebrand, J. H., Prausnitz, J. M., Scott, R. L. (1970), Regular and Related Solutions; Scott, R. L. (1958), J. Phys.
    Chem. 62, 136; both from memory.

    Example
    -------
    >>> round(float(unlike_pair_term(15.0, 12.0, 1e-4, 298.15, 0.1)), 2)
    1.45
    """
    energy = np.asarray(dispersion, dtype=float) * np.asarray(polymer_dispersion, dtype=float) * _PASCAL_OF_MPA
    volume = np.asarray(molar_volume, dtype=float)
    return 2 * np.asarray(deviation, dtype=float) * energy * volume / (constants.R * np.asarray(temperature))


def volume_like_test_liquids(molar_volume: ArrayLike) -> FloatArray:
    """Return the part of a liquid's molar volume that a sphere can speak for: at most that of its test liquids.

    Parameters
    ----------
    molar_volume : [m3/mol] V1 of the liquid

    Returns
    -------
    [m3/mol] min(V1, 200 cm3/mol), the shape of `molar_volume`

    Example
    -------
    >>> volume_like_test_liquids([1e-4, 5e-4]).tolist()
    [0.0001, 0.0002]
    """
    return np.minimum(np.asarray(molar_volume, dtype=float), TEST_LIQUID_VOLUME)


def interaction_of_untested_size(
    distance_squared: ArrayLike, molar_volume: ArrayLike, temperature: ArrayLike, slope: ArrayLike = SLOPE
) -> FloatArray:
    """Return the gain of chi by the volume beyond that of any test liquid; nothing for a molecule no larger than those.

    A sphere is drawn with small liquids: that one of them lies within says nothing of a molecule three times its size
    (an oil) at the same place, so that the rest of an oil's volume counts by its distance from the centre alone. chi
    is continuous in V1.

        chi gains slope (V1 - 200 cm3/mol) Ra^2/(4 R T)

    Parameters
    ----------
    distance_squared : [MPa] Ra^2
    molar_volume : [m3/mol] V1 of the liquid
    temperature : [K] T
    slope : [1] share of the regular-solution term

    Returns
    -------
    [1] the broadcast of all

    Example
    -------
    >>> round(float(interaction_of_untested_size(50.0, 4e-4, 298.15)), 3)
    0.605
    """
    volume = np.asarray(molar_volume, dtype=float)
    beyond = volume - volume_like_test_liquids(volume)
    return np.asarray(slope, dtype=float) * regular_solution_term(distance_squared, beyond, temperature)
