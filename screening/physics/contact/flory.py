"""How much of a liquid does a polymer take up: Flory-Huggins without links between its chains, Flory-Rehner with them."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def network_potential(polymer_fraction: ArrayLike, interaction: ArrayLike, link_term: ArrayLike) -> FloatArray:
    """Return the logarithm of the activity of a liquid in a swollen affine network.

    Holds for flexible chains far from their full length, four of which meet in a link.

        ln a = ln(1 - phi2) + phi2 + chi phi2^2 + V1 nu (phi2^(1/3) - phi2/2)

    Parameters
    ----------
    polymer_fraction : [1] phi2, volume fraction of polymer
    interaction : [1] chi
    link_term : [1] V1 nu: molar volume of the liquid times density of active chains in the dry polymer; 0 without links

    Returns
    -------
    [1] ln a, the broadcast of all; -inf in the dry polymer

    References
    ----------
    Flory, P. J. (1953), Principles of Polymer Chemistry, ch. XIII eq. 38, from memory; tetrafunctional links. Matches
    Hu, W. (2013), Polymer Physics, eq. 8.32 (looked up: https://issuhub.com/view/index?id=4729&pageIndex=164), with
    nu = density over molar mass of the chains.

    Example
    -------
    >>> round(float(network_potential(0.7, 0.44, 0.0)), 4)  # ln 0.3 + 0.7 + 0.44 x 0.49
    -0.2884
    """
    phi = np.asarray(polymer_fraction, dtype=float)
    with np.errstate(divide="ignore"):
        mixing = np.log1p(-phi) + phi + np.asarray(interaction, dtype=float) * phi**2
    return mixing + np.asarray(link_term, dtype=float) * (np.cbrt(phi) - phi / 2)


def network_uptake(activity: ArrayLike, interaction: ArrayLike, link_term: ArrayLike) -> FloatArray:
    """Return the volume fraction of liquid in a polymer at equilibrium with a liquid or vapour of `activity`.

    Holds as `network_potential`, of which it is the inverse; without links it is Flory-Huggins, and 1 means that the
    polymer dissolves.

    Parameters
    ----------
    activity : [1] a, 0 to 1
    interaction : [1] chi, 0 or above
    link_term : [1] V1 nu, as in `network_potential`

    Returns
    -------
    [1] phi1, the broadcast of all; NaN where an argument is NaN

    Notes
    -----
    Newton's rule, kept between the maximum of ln a and the dry polymer. The first call in a fresh installation takes
    some seconds, to compile.

    Example
    -------
    A rubber of 200 mol/m3 in a liquid of 106.6 cm3/mol with chi 0.4 swells to 4.3 times its volume:

    >>> round(float(1 / (1 - network_uptake(1.0, 0.4, 200 * 106.6e-6))), 1)
    4.3
    """
    a, chi, links = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in (activity, interaction, link_term)))
    with np.errstate(divide="ignore"):
        wanted = np.log(a)
    uptake: FloatArray = _uptakes(wanted.ravel(), chi.ravel(), links.ravel())
    return uptake.reshape(a.shape)


@njit(cache=True)
def _uptakes(wanted: FloatArray, chi: FloatArray, links: FloatArray) -> FloatArray:
    """Return phi1 (n,) of arguments (n,)."""
    uptake = np.empty(wanted.size)
    for i in range(wanted.size):
        uptake[i] = _uptake(wanted[i], chi[i], links[i])
    return uptake


@njit(cache=True)
def _uptake(wanted: float, chi: float, links: float) -> float:
    """Return phi1 at ln a = `wanted`; solved in phi1 so that a small uptake keeps its digits."""
    if np.isnan(wanted) or np.isnan(chi) or np.isnan(links):
        return np.nan
    if wanted == -np.inf:
        return 0.0
    low, high = 0.0, min(1.0, 1.0 / max(2.0 * chi, 1.0))
    phi1 = min(np.exp(wanted - 1.0 - chi - links / 2), high / 2)
    for _ in range(200):
        phi2 = 1.0 - phi1
        root = phi2 ** (1.0 / 3.0)
        miss = np.log(phi1) + phi2 + chi * phi2 * phi2 + links * (root - phi2 / 2) - wanted
        if miss < 0.0:
            low = phi1
        else:
            high = phi1
        slope = 1.0 / phi1 - 1.0 - 2.0 * chi * phi2 - links * (1.0 / (3.0 * root * root) - 0.5)
        step = phi1 - miss / slope if slope > 0.0 else -1.0
        if not low < step < high:
            step = (low + high) / 2
        if abs(step - phi1) <= 1e-13 * phi1 or high - low <= 1e-15:
            return step
        phi1 = step
    return phi1


def interaction_of_uptake(uptake: ArrayLike, link_term: ArrayLike, activity: ArrayLike = 1.0) -> FloatArray:
    """Return the interaction parameter at which a polymer takes up `uptake`: `network_uptake` solved for chi.

    Parameters
    ----------
    uptake : [1] phi1, volume fraction of liquid, above 0 and below 1
    link_term : [1] V1 nu, as in `network_potential`
    activity : [1] a, above 0 to 1

    Returns
    -------
    [1] chi, the broadcast of all

    Example
    -------
    >>> round(float(interaction_of_uptake(network_uptake(1.0, 0.7, 0.02), 0.02)), 6)
    0.7
    """
    phi = 1 - np.asarray(uptake, dtype=float)
    return (np.log(activity) - network_potential(phi, 0.0, link_term)) / phi**2


def volume_swell(uptake: ArrayLike, active_share: ArrayLike = 1.0) -> FloatArray:
    """Return the growth in volume over the dry volume of a polymer that holds a liquid.

    Holds where volumes add and crystals and fillers take nothing up.

        swell = share phi1/(1 - phi1)

    Parameters
    ----------
    uptake : [1] phi1, volume fraction of liquid in what takes it up; 1 gives inf
    active_share : [1] share of the dry volume that takes part: neither crystal nor filler

    Returns
    -------
    [1] the broadcast of both

    Example
    -------
    >>> float(volume_swell(0.2, 0.5))
    0.125
    """
    phi = np.asarray(uptake, dtype=float)
    with np.errstate(divide="ignore"):
        return np.asarray(active_share, dtype=float) * phi / (1 - phi)
