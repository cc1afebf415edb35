"""Gas from a decomposing crown as what it is to the engine: more fuel for the same air."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray


def gas_that_floods(
    equivalence_ratio: ArrayLike,
    rich_limit: ArrayLike,
    mixed_share: ArrayLike,
    air_need_of_gas: ArrayLike,
    air_need_of_fuel: ArrayLike,
) -> FloatArray:
    """Return the mass of crown gas over mass of fuel at which the mixture reaches the richest that still runs.

    Of the gas only that which leaves the crown while fresh charge is there (intake and compression) meets it; the rest goes
    out with the exhaust.

        phi (1 + x (m_g/m_f)(L_g/L_f)) = phi_rich,  so  m_g/m_f = (phi_rich/phi - 1) L_f/(x L_g)

    Parameters
    ----------
    equivalence_ratio : [1] phi of fuel and air alone
    rich_limit : [1] phi_rich
    mixed_share : [1] x, share of the gas that meets fresh charge
    air_need_of_gas, air_need_of_fuel : [1] L, stoichiometric air over mass of gas or fuel

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
