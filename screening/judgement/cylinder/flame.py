"""With what does a fuel burn, and how hot is its flame?"""

from __future__ import annotations

from screening.errors import ScreeningError
from screening.physics.cylinder.combustion import FuelChemistry, adiabatic_flame_temperature
from screening.records.liquids.find_fuel import Fuel


def fuel_chemistry(fuel: Fuel) -> FuelChemistry:
    """Return the atoms and the heat of formation with which a fuel burns.

    Raises
    ------
    ScreeningError
        For a fuel whose heat of formation is unknown; says what to give with it.
    """
    if fuel.enthalpy_of_formation_gas is None:
        why = fuel.why_unknown("enthalpy_of_formation_gas")
        needed = "lower_heating_value_MJ_kg and latent_heat_kJ_kg"
        is_own = any(share.component.kind == "own" for share in fuel.components)
        advice = f"give {needed} with it" if is_own else f"give it as a liquid of your own, with {needed}"
        raise ScreeningError(f"{fuel.name}: its energy content as a vapour is unknown ({why}); {advice}")
    return FuelChemistry(fuel.carbon, fuel.hydrogen, fuel.oxygen, fuel.nitrogen, fuel.enthalpy_of_formation_gas)


def flame_temperature(
    fuel: Fuel,
    equivalence_ratio: float = 1.0,
    pressure: float = 101325.0,
    temperature: float = 298.15,
    constant: str = "pressure",
) -> float:
    """Return the adiabatic flame temperature of the vaporised fuel in air.

    Holds for fuels of carbon, hydrogen, oxygen and nitrogen, at equilibrium, without soot.

    Parameters
    ----------
    fuel : Fuel
    equivalence_ratio : [1] fuel to air over stoichiometric
    pressure, temperature : [Pa], [K] of the fresh mixture
    constant : "pressure" or "volume"

    Returns
    -------
    [K]

    Raises
    ------
    OutOfRange, ScreeningError
        For a mixture outside the equilibrium's range, or a fuel whose enthalpy of formation is unknown.

    References
    ----------
    See `screening.physics.cylinder.combustion.adiabatic_flame_temperature`.

    Examples
    --------
    Turns, An Introduction to Combustion, table B.1 (from memory), gives n-heptane 2274 K:

    >>> from screening import find_fuel
    >>> abs(flame_temperature(find_fuel("n-heptane")) - 2274) < 10
    True
    """
    return float(adiabatic_flame_temperature(fuel_chemistry(fuel), equivalence_ratio, pressure, temperature, constant))
