"""Gas from a decomposing crown as what it is to the engine: more fuel for the same air."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def mixture_with_crown_gas(
    equivalence_ratio: ArrayLike,
    gas_to_fuel: ArrayLike,
    mixed_share: ArrayLike,
    air_need_of_gas: ArrayLike,
    air_need_of_fuel: ArrayLike,
) -> FloatArray:
    """Return the equivalence ratio of a charge that the crown's gas has enriched.

    Of the gas only that which leaves the crown while fresh charge is there (intake and compression) meets it; the rest goes
    out with the exhaust.

        phi_total = phi (1 + x (m_g/m_f)(L_g/L_f))

    Parameters
    ----------
    equivalence_ratio : [1] phi of fuel and air alone
    gas_to_fuel : [1] m_g/m_f, mass of gas given off over mass of fuel burned in the same time
    mixed_share : [1] x, share of the gas that meets fresh charge
    air_need_of_gas, air_need_of_fuel : [kg/kg] L, stoichiometric air

    Returns
    -------
    [1]

    Examples
    --------
    See `gas_that_floods`, its inverse.
    """
    phi, ratio, share, gas, fuel = (
        np.asarray(v, dtype=float)
        for v in (equivalence_ratio, gas_to_fuel, mixed_share, air_need_of_gas, air_need_of_fuel)
    )
    return phi * (1 + share * ratio * gas / fuel)


def gas_that_floods(
    equivalence_ratio: ArrayLike,
    rich_limit: ArrayLike,
    mixed_share: ArrayLike,
    air_need_of_gas: ArrayLike,
    air_need_of_fuel: ArrayLike,
) -> FloatArray:
    """Return the mass of crown gas over mass of fuel at which the mixture reaches the richest that still runs.

        m_g/m_f = (phi_rich/phi - 1) L_f/(x L_g)

    Parameters
    ----------
    equivalence_ratio, mixed_share, air_need_of_gas, air_need_of_fuel : as in `mixture_with_crown_gas`
    rich_limit : [1] phi_rich

    Returns
    -------
    [1], 0 where the mixture is too rich without any

    Examples
    --------
    Polyamide 6 (10.1 kg air a kg) on isobutyl acetate (9.52) at phi 1, four tenths mixed, limit 1.6:

    >>> round(float(gas_that_floods(1.0, 1.6, 0.4, 10.1, 9.52)), 2)
    1.41
    """
    phi, rich, share, gas, fuel = (
        np.asarray(v, dtype=float)
        for v in (equivalence_ratio, rich_limit, mixed_share, air_need_of_gas, air_need_of_fuel)
    )
    return np.maximum(rich / phi - 1, 0.0) * fuel / (share * gas)
