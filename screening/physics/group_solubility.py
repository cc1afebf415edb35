"""Hansen parameters of a polymer from the groups of its repeat unit, where no sphere is published."""

from __future__ import annotations

import math
from collections.abc import Mapping

from screening.errors import UnknownName

# group: dispersion F_d [J^0.5 cm^1.5/mol], polar F_p [same], hydrogen-bonding E_h [J/mol]
_GROUPS = {
    "CH3": (420.0, 0.0, 0.0),
    "CH2": (270.0, 0.0, 0.0),
    "CH": (80.0, 0.0, 0.0),
    "phenylene": (1270.0, 110.0, 0.0),
    "Cl": (450.0, 550.0, 400.0),
    "O": (100.0, 400.0, 3000.0),
    "CO": (290.0, 770.0, 2000.0),
    "COO": (390.0, 490.0, 7000.0),
}


def group_hansen(groups: Mapping[str, int], molar_volume: float) -> tuple[float, float, float]:
    """Return dD, dP, dH [MPa^0.5] of a repeat unit from its groups.

    dD = sum(F_d)/V, dP = sqrt(sum(F_p^2))/V, dH = sqrt(sum(E_h)/V)

    Parameters
    ----------
    groups : mapping
        Group -> number in the repeat unit.
    molar_volume : float
        V of the repeat unit [m3/mol].

    Raises
    ------
    UnknownName
        For a group that the table does not hold.

    Notes
    -----
    Good to about 1-2 MPa^0.5 a parameter; gives no radius.

    References
    ----------
    van Krevelen, D. W. & te Nijenhuis, K. (2009). Properties of Polymers, 4th ed., table 7.8 (Hoftyzer and van
    Krevelen), from memory.
    """
    unknown = next((name for name in groups if name not in _GROUPS), None)
    if unknown is not None:
        raise UnknownName("group", unknown, _GROUPS)
    volume = molar_volume * 1e6
    dispersion = sum(n * _GROUPS[g][0] for g, n in groups.items()) / volume
    polar = math.sqrt(sum(n * _GROUPS[g][1] ** 2 for g, n in groups.items())) / volume
    bonding = math.sqrt(sum(n * _GROUPS[g][2] for g, n in groups.items()) / volume)
    return dispersion, polar, bonding
