"""How much of a liquid a free polymer takes up: the theory of Flory and Huggins for chains much longer than V1."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.physics.network_swelling import network_uptake

FloatArray = NDArray[np.float64]


def solvent_activity(uptake: ArrayLike, interaction: ArrayLike, size_ratio: ArrayLike = np.inf) -> FloatArray:
    """Return the activity of a liquid at volume fraction `uptake` in a polymer melt.

    ln a = ln(phi1) + (1 - 1/m) phi2 + chi phi2^2, phi2 = 1 - phi1

    Parameters
    ----------
    uptake : array_like
        phi1, volume fraction of the liquid [1].
    interaction : array_like
        chi [1].
    size_ratio : array_like
        m, molar volume of the polymer over that of the liquid [1].

    References
    ----------
    Flory, P. J. (1953). Principles of Polymer Chemistry, ch. XII eq. 26, from memory.

    Examples
    --------
    >>> round(float(solvent_activity(0.2, 0.5)), 3)
    0.613
    """
    phi1 = np.asarray(uptake, dtype=float)
    phi2 = 1 - phi1
    with np.errstate(divide="ignore"):
        return np.exp(
            np.log(phi1) + (1 - 1 / np.asarray(size_ratio, dtype=float)) * phi2 + np.asarray(interaction) * phi2**2
        )


def equilibrium_uptake(activity: ArrayLike, interaction: ArrayLike) -> FloatArray:
    """Return the volume fraction of liquid that a free long-chain polymer holds at `activity`; 1 where it dissolves.

    Parameters
    ----------
    activity : array_like
        0 to 1 [1]; 1 is the liquid itself.
    interaction : array_like
        chi [1].

    Notes
    -----
    The polymer-rich root is taken. A glass takes up more than this at low activity (it has frozen-in free volume) and
    reaches it slowly.

    Examples
    --------
    >>> round(float(equilibrium_uptake(1.0, 1.0)), 3)
    0.316
    """
    return network_uptake(activity, interaction, 0.0)
