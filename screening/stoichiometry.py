"""How much air a liquid of carbon, hydrogen, oxygen and nitrogen needs, and what heat it gives.

Formulas are read and burned by the `chemicals` package; the atomic weights stand here, because the package's are those
of an older table (hydrogen's 6e-5 apart).
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from chemicals.combustion import combustion_stoichiometry
from chemicals.elements import simple_formula_parser

ATOMIC_MASS: dict[str, float] = {"C": 12.011e-3, "H": 1.008e-3, "O": 15.999e-3, "N": 14.007e-3}
"""Standard atomic weights [kg/mol] (IUPAC 2021, abridged)."""

DRY_AIR: dict[str, float] = {"O2": 0.20946, "N2": 0.78120, "AR": 0.00934}
"""Mole fractions of dry air, carbon dioxide counted with nitrogen (ISO 2533, from memory)."""

OXYGEN_IN_DRY_AIR = DRY_AIR["O2"]
"""Mole fraction of oxygen in dry air."""

MOLAR_MASS_DRY_AIR = 28.9647e-3
"""[kg/mol] (ISO 2533)."""

FORMATION_CARBON_DIOXIDE = -393.51e3
FORMATION_WATER_VAPOUR = -241.826e3
"""Enthalpies of formation [J/mol] at 298.15 K (CODATA key values)."""

_PLAIN_FORMULA = re.compile(r"(?:[A-Z][a-z]?(?:\d+(?:\.\d+)?)?)+")


def molar_mass(carbon: float, hydrogen: float, oxygen: float, nitrogen: float = 0.0) -> float:
    """Return the molar mass of CxHyOzNw.

    Parameters
    ----------
    carbon, hydrogen, oxygen, nitrogen : float
        Atoms per molecule, or on average per molecule of a blend [1].

    Returns
    -------
    float
        [kg/mol]

    Examples
    --------
    Ethanol (46.069 g/mol in the CRC Handbook, from memory):

    >>> round(1000 * molar_mass(2, 6, 1), 2)
    46.07
    """
    counts = {"C": carbon, "H": hydrogen, "O": oxygen, "N": nitrogen}
    return sum(count * ATOMIC_MASS[symbol] for symbol, count in counts.items())


def oxygen_need(carbon: float, hydrogen: float, oxygen: float) -> float:
    """Return the moles of O2 that burn one mole of CxHyOzNw to CO2, H2O and N2.

    n = x + y/4 - z/2; below zero for a liquid that holds more oxygen than it burns.

    Parameters
    ----------
    carbon, hydrogen, oxygen : float
        Atoms per molecule, or on average per molecule of a blend [1].

    Returns
    -------
    float
        [mol/mol]

    Examples
    --------
    >>> oxygen_need(8, 18, 0)
    12.5
    """
    return -combustion_stoichiometry({"C": carbon, "H": hydrogen, "O": oxygen}).get("O2", 0.0)


def air_fuel_ratio(carbon: float, hydrogen: float, oxygen: float, nitrogen: float = 0.0) -> float:
    """Return the stoichiometric mass of dry air per mass of fuel.

    AFR = n M_air / (x_O2 M_fuel); a carburettor meters mass, so this and not the molar need sets it.

    Parameters
    ----------
    carbon, hydrogen, oxygen, nitrogen : float
        Atoms per molecule, or on average per molecule of a blend [1].

    Returns
    -------
    float
        [kg/kg]

    Examples
    --------
    Ethanol (9.0 in Heywood, Internal Combustion Engine Fundamentals, table D.4, from memory):

    >>> round(air_fuel_ratio(2, 6, 1), 2)
    9.0
    """
    air = oxygen_need(carbon, hydrogen, oxygen) / OXYGEN_IN_DRY_AIR * MOLAR_MASS_DRY_AIR
    return air / molar_mass(carbon, hydrogen, oxygen, nitrogen)


def lower_heating_value(
    carbon: float, hydrogen: float, oxygen: float, nitrogen: float, enthalpy_of_formation: float
) -> float:
    """Return the lower heating value at 298.15 K, water as vapour, nitrogen as N2.

    LHV = (h_f - x h_f(CO2) - y/2 h_f(H2O gas)) / M

    Parameters
    ----------
    carbon, hydrogen, oxygen, nitrogen : float
        Atoms per molecule, or on average per molecule of a blend [1].
    enthalpy_of_formation : float
        At 298.15 K [J/mol]: of the liquid for a liquid's heating value, of the gas for its vapour's.

    Returns
    -------
    float
        [J/kg]

    Examples
    --------
    Liquid ethanol:

    >>> round(lower_heating_value(2, 6, 1, 0, -277.0e3) / 1e6, 1)
    26.8
    """
    products = carbon * FORMATION_CARBON_DIOXIDE + hydrogen / 2.0 * FORMATION_WATER_VAPOUR
    return (enthalpy_of_formation - products) / molar_mass(carbon, hydrogen, oxygen, nitrogen)


def enthalpy_of_formation(
    carbon: float, hydrogen: float, oxygen: float, nitrogen: float, heating_value: float
) -> float:
    """Return the enthalpy of formation that a lower heating value stands for; the inverse of `lower_heating_value`.

    Parameters
    ----------
    carbon, hydrogen, oxygen, nitrogen : float
        Atoms per molecule, or on average per molecule of a blend [1].
    heating_value : float
        At 298.15 K, water as vapour [J/kg].

    Returns
    -------
    float
        At 298.15 K [J/mol]

    Examples
    --------
    >>> round(enthalpy_of_formation(2, 6, 1, 0, lower_heating_value(2, 6, 1, 0, -277.0e3)))
    -277000
    """
    products = carbon * FORMATION_CARBON_DIOXIDE + hydrogen / 2.0 * FORMATION_WATER_VAPOUR
    return products + heating_value * molar_mass(carbon, hydrogen, oxygen, nitrogen)


def formula_atoms(formula: str) -> Mapping[str, float]:
    """Return the atoms per molecule of a plain formula, by element.

    Parameters
    ----------
    formula : str
        Without brackets and charges, such as C2H6O; blanks around it are passed over.

    Raises
    ------
    ValueError
        When it cannot be read whole.

    Examples
    --------
    >>> formula_atoms("CH3NO2") == {"C": 1, "H": 3, "N": 1, "O": 2}
    True
    """
    plain = formula.strip()
    if not _PLAIN_FORMULA.fullmatch(plain):
        raise ValueError(f"{formula!r} is not a formula such as C2H6O")
    return {symbol: float(count) for symbol, count in simple_formula_parser(plain).items()}
