"""How much of a liquid a cross-linked polymer takes up: the theory of Flory and Rehner."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


def network_potential(polymer_fraction: ArrayLike, interaction: ArrayLike, link_term: ArrayLike) -> FloatArray:
    """Return ln a of a liquid in a swollen affine network.

    ln a = ln(1 - phi2) + phi2 + chi phi2^2 + V1 nu (phi2^(1/3) - phi2/2)

    Parameters
    ----------
    polymer_fraction : array_like
        phi2, volume fraction of polymer [1].
    interaction : array_like
        chi [1].
    link_term : array_like
        V1 nu: molar volume of the liquid times density of active chains in the dry polymer [1].

    References
    ----------
    Flory, P. J. (1953). Principles of Polymer Chemistry, ch. XIII eq. 38, from memory; tetrafunctional links. Matches
    Hu, W. (2013). Polymer Physics, eq. 8.32 (looked up: https://issuhub.com/view/index?id=4729&pageIndex=164), with
    nu = density over molar mass of the chains.
    """
    phi = np.asarray(polymer_fraction, dtype=float)
    with np.errstate(divide="ignore"):
        mixing = np.log1p(-phi) + phi + np.asarray(interaction, dtype=float) * phi**2
    return mixing + np.asarray(link_term, dtype=float) * (np.cbrt(phi) - phi / 2)


def network_uptake(activity: ArrayLike, interaction: ArrayLike, link_term: ArrayLike) -> FloatArray:
    """Return the volume fraction of liquid in a network at equilibrium with a liquid or vapour of `activity`.

    Holds for flexible chains far from their full length; without links (`link_term` 0) it is Flory-Huggins, and 1 means
    that the polymer dissolves. Newton's rule, kept between the maximum of ln a and the dry polymer.

    Parameters
    ----------
    activity : array_like
        0 to 1 [1].
    interaction : array_like
        chi, 0 or above [1].
    link_term : array_like
        V1 nu [1].

    Returns
    -------
    ndarray
        phi1 [1]; NaN where an input is NaN.

    Notes
    -----
    The first call in a fresh installation takes some seconds, to compile.

    Examples
    --------
    A rubber of 200 mol/m3 in a liquid of 106.6 cm3/mol with chi 0.4 swells to 4.3 times its volume:

    >>> round(float(1 / (1 - network_uptake(1.0, 0.4, 200 * 106.6e-6))), 1)
    4.3
    """
    a, chi, links = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in (activity, interaction, link_term)))
    with np.errstate(divide="ignore"):
        wanted = np.log(a)
    found: FloatArray = _uptakes(wanted.ravel(), chi.ravel(), links.ravel())
    return found.reshape(a.shape)


@njit(cache=True)
def _uptakes(wanted: FloatArray, chi: FloatArray, links: FloatArray) -> FloatArray:
    found = np.empty(wanted.size)
    for i in range(wanted.size):
        found[i] = _uptake(wanted[i], chi[i], links[i])
    return found


@njit(cache=True)
def _uptake(wanted: float, chi: float, links: float) -> float:
    """Return phi1; solved in phi1 so that a small uptake keeps its digits."""
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
    """Return the interaction parameter at which a network takes up `uptake` (inverse of `network_uptake`)."""
    phi = 1 - np.asarray(uptake, dtype=float)
    return (np.log(activity) - network_potential(phi, 0.0, link_term)) / phi**2


def volume_swell(uptake: ArrayLike, active_share: ArrayLike = 1.0) -> FloatArray:
    """Return the growth in volume over the dry volume [1]: share of the volume that takes part times phi1/(1 - phi1).

    `active_share` is what is neither crystal nor filler. An uptake of 1 gives inf.
    """
    phi = np.asarray(uptake, dtype=float)
    with np.errstate(divide="ignore"):
        return np.asarray(active_share, dtype=float) * phi / (1 - phi)
