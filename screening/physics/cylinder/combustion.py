"""How hot does a fuel burn, and how much of its energy comes out: chemical equilibrium of its burned gas.

A fuel enters through its atoms and its enthalpy of formation alone, so any fuel of C, H, O and N works; it
need not be known to any table of species.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import cantera as ct
import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants

from screening import stoichiometry
from screening.errors import OutOfRange
from screening.stoichiometry import DRY_AIR

STANDARD_TEMPERATURE = 298.15
"""Temperature of the enthalpies of formation [K]."""
STANDARD_PRESSURE = 101325.0
"""One atmosphere [Pa]."""
BURNED_SPECIES = (
    "N2",
    "O2",
    "AR",
    "CO2",
    "H2O",
    "CO",
    "H2",
    "OH",
    "H",
    "O",
    "NO",
    "N",
    "HO2",
    "CH4",
    "NH3",
    "C",
)
"""Gases of the equilibrium; thermodynamic data from the NASA polynomials that Cantera ships in gri30.yaml."""

_KELVIN_PER_WAVENUMBER = constants.h * constants.c * 100.0 / constants.k  # [K cm]
# Round group frequencies of organic vapours [1/cm], chosen once against the table in the test; see
# `vapour_modes`.
_HYDROGEN_STRETCH, _HYDROGEN_BEND, _SKELETON_STRETCH, _SKELETON_BEND, _TORSION = (
    2950.0,
    1200.0,
    950.0,
    350.0,
    200.0,
)


@dataclass(frozen=True)
class FuelChemistry:
    """What combustion needs to know of a fuel: atoms per mole and enthalpy of formation as a gas.

    `carbon`, `hydrogen`, `oxygen`, `nitrogen` in atoms per mole (fractions allowed: a blend is averaged by
    mole), `enthalpy_of_formation` of the ideal gas at 298.15 K [J/mol].
    """

    carbon: float
    hydrogen: float
    oxygen: float = 0.0
    nitrogen: float = 0.0
    enthalpy_of_formation: float = 0.0

    def __post_init__(self) -> None:
        atoms = (self.carbon, self.hydrogen, self.oxygen, self.nitrogen)
        if not all(np.isfinite(atoms)) or min(atoms) < 0.0:
            raise OutOfRange(f"atoms per mole of fuel are {atoms} (C, H, O, N); each must be finite and not negative")
        if not np.isfinite(self.enthalpy_of_formation):
            raise OutOfRange(f"enthalpy of formation is {self.enthalpy_of_formation} J/mol; it must be a finite number")
        if self.oxygen_need <= 0.0:
            raise OutOfRange(f"the fuel with atoms {atoms} (C, H, O, N) needs no air to burn; it is not a fuel here")

    @property
    def molar_mass(self) -> float:
        """Molar mass [kg/mol]."""
        return stoichiometry.molar_mass(self.carbon, self.hydrogen, self.oxygen, self.nitrogen)

    @property
    def oxygen_need(self) -> float:
        """Moles of O2 per mole of fuel for complete combustion [mol/mol]."""
        return stoichiometry.oxygen_need(self.carbon, self.hydrogen, self.oxygen)

    @property
    def air_fuel_ratio(self) -> float:
        """Stoichiometric mass of dry air per mass of fuel [kg/kg]."""
        return self.oxygen_need / DRY_AIR["O2"] * air_molar_mass() / self.molar_mass

    @property
    def lower_heating_value(self) -> float:
        """Heat of combustion of the vapour at 298.15 K, water left as vapour [J/kg]."""
        products = self.carbon * standard_enthalpy("CO2") + self.hydrogen / 2.0 * standard_enthalpy("H2O")
        return (self.enthalpy_of_formation - products) / self.molar_mass


@lru_cache(maxsize=1)
def _species() -> tuple[ct.Species, ...]:
    wanted = set(BURNED_SPECIES)
    return tuple(species for species in ct.Species.list_from_file("gri30.yaml") if species.name in wanted)


def burned_gas() -> ct.Solution:
    """Return a fresh ideal-gas mixture of `BURNED_SPECIES` (Cantera's object, its caller's alone)."""
    return ct.Solution(thermo="ideal-gas", species=list(_species()))


@lru_cache(maxsize=1)
def air_molar_mass() -> float:
    """Return the molar mass of dry air [kg/mol]."""
    gas = burned_gas()
    gas.TPX = STANDARD_TEMPERATURE, STANDARD_PRESSURE, DRY_AIR
    return float(gas.mean_molecular_weight) / 1e3


@lru_cache(maxsize=64)
def standard_enthalpy(species: str) -> float:
    """Return the molar enthalpy of one gas at 298.15 K, formation included [J/mol]."""
    gas = burned_gas()
    gas.TPX = STANDARD_TEMPERATURE, STANDARD_PRESSURE, {species: 1.0}
    return float(gas.enthalpy_mole) / 1e3


def vapour_modes(chemistry: FuelChemistry) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the vibrations assumed for the fuel's vapour: their number and their temperature.

    The formula gives 3 N - 6 modes for N atoms: one stretch for each hydrogen, one stretch and one torsion
    for each bond of the chain of heavy atoms, one bend for each angle of it, and the rest are bends of
    hydrogen; each ring or double bond turns one torsion into a stiff mode.

    Parameters
    ----------
    chemistry : FuelChemistry

    Returns
    -------
    count : number of modes of each kind [1]; temperature : h c nu / k of each kind [K]
    """
    heavy = chemistry.carbon + chemistry.oxygen + chemistry.nitrogen
    hydrogen = chemistry.hydrogen
    bends = max(heavy - 2.0, 0.0)
    torsions = max(heavy - 1.0, 0.0)
    unsaturated = max(chemistry.carbon + 1.0 + (chemistry.nitrogen - hydrogen) / 2.0, 0.0)
    stiff = min(unsaturated, torsions)
    stretches = max(heavy - 1.0, 0.0)
    hydrogen_bends = max(3.0 * (heavy + hydrogen) - 6.0 - hydrogen - stretches - bends - torsions, 0.0)
    count = np.array([hydrogen, hydrogen_bends, stretches + stiff, bends, torsions - stiff])
    wavenumber = np.array([_HYDROGEN_STRETCH, _HYDROGEN_BEND, _SKELETON_STRETCH, _SKELETON_BEND, _TORSION])
    return count, wavenumber * _KELVIN_PER_WAVENUMBER


def vapour_enthalpy(chemistry: FuelChemistry, temperature: ArrayLike) -> NDArray[np.float64]:
    """Return the molar enthalpy of the fuel's vapour, formation included, with an estimated heat capacity.

    For the unburned charge (250-1,100 K), where the fuel is a few per cent by mole; the heat capacity comes
    out within about 12 % for common fuels (test). h = hf + integral of cp, cp = 4 R + sum of Einstein modes.

    Parameters
    ----------
    chemistry : FuelChemistry
    temperature : [K], any shape

    Returns
    -------
    enthalpy : [J/mol], shape of `temperature`

    References
    ----------
    Einstein oscillators and equipartition (any text of statistical thermodynamics); the group frequencies
    are round numbers of the trade.
    """
    count, mode = vapour_modes(chemistry)
    kelvin = np.asarray(temperature, dtype=float)

    def thermal(t: NDArray[np.float64]) -> NDArray[np.float64]:
        vibration = count * mode / np.expm1(mode / t[..., None])
        return np.asarray(constants.R * (4.0 * t + vibration.sum(axis=-1)))

    return chemistry.enthalpy_of_formation + thermal(kelvin) - thermal(np.asarray(STANDARD_TEMPERATURE))


def elements_in_mixture(chemistry: FuelChemistry, equivalence_ratio: float) -> dict[str, float]:
    """Return moles of loose atoms and air gases per mole of fuel, a start for the equilibrium [mol/mol]."""
    oxygen = chemistry.oxygen_need / equivalence_ratio
    start = {name: oxygen * share / DRY_AIR["O2"] for name, share in DRY_AIR.items()}
    atoms = {"C": chemistry.carbon, "H": chemistry.hydrogen, "O": chemistry.oxygen, "N": chemistry.nitrogen}
    return {**start, **atoms}


def adiabatic_flame_temperature(
    chemistry: FuelChemistry,
    equivalence_ratio: ArrayLike = 1.0,
    pressure: ArrayLike = STANDARD_PRESSURE,
    temperature: ArrayLike = STANDARD_TEMPERATURE,
    constant: str = "pressure",
) -> float | NDArray[np.float64]:
    """Return the temperature of the burned gas when no heat is lost, dissociation included.

    Holds for a premixed vapour of C, H, O, N in dry air, ideal gas, no soot (so up to an equivalence ratio
    of about 2 for hydrocarbons). h_products(T) = h_reactants at constant pressure, u at constant volume.

    Parameters
    ----------
    chemistry : FuelChemistry
    equivalence_ratio : [1], broadcasts
    pressure : of the unburned mixture [Pa], broadcasts
    temperature : of the unburned mixture [K], broadcasts
    constant : "pressure" or "volume"

    Returns
    -------
    flame_temperature : [K], shape of the inputs broadcast; NaN where an input is NaN

    Raises
    ------
    OutOfRange : `constant` is neither word, or an input is not positive

    References
    ----------
    Turns, An Introduction to Combustion, table B.1: methane 2226 K, matches within 10 K (test).

    Examples
    --------
    >>> methane = FuelChemistry(1, 4, enthalpy_of_formation=-74.6e3)
    >>> abs(adiabatic_flame_temperature(methane) - 2226) < 10
    True
    """
    if constant not in ("pressure", "volume"):
        raise OutOfRange(f"constant is {constant!r}; it must be 'pressure' or 'volume'")
    phi, p, t = np.broadcast_arrays(
        np.asarray(equivalence_ratio, float), np.asarray(pressure, float), np.asarray(temperature, float)
    )
    for name, values in (("equivalence ratio", phi), ("pressure", p), ("temperature", t)):
        if np.any(values <= 0.0):
            raise OutOfRange(f"{name} of the unburned mixture is {values.min()}; it must be above 0")
    gas = burned_gas()
    states = zip(phi.ravel(), p.ravel(), t.ravel(), strict=True)
    flame = np.array([_flame(gas, chemistry, *state, constant) for state in states]).reshape(phi.shape)
    return float(flame) if flame.ndim == 0 else flame


def _flame(
    gas: ct.Solution, chemistry: FuelChemistry, phi: float, pressure: float, temperature: float, constant: str
) -> float:
    if not np.all(np.isfinite([phi, pressure, temperature])):
        return float("nan")
    air = chemistry.oxygen_need / phi / DRY_AIR["O2"]  # moles per mole of fuel
    mass = chemistry.molar_mass + air * air_molar_mass()
    gas.TPX = temperature, pressure, DRY_AIR
    enthalpy = float(vapour_enthalpy(chemistry, temperature)) + air * gas.enthalpy_mole / 1e3
    moles = 1.0 + air
    gas.TPX = 2300.0, pressure, elements_in_mixture(chemistry, phi)
    gas.equilibrate("TP")
    if constant == "pressure":
        gas.HP = enthalpy / mass, pressure
        gas.equilibrate("HP")
    else:
        energy = enthalpy - moles * constants.R * temperature
        gas.UV = energy / mass, moles * constants.R * temperature / pressure / mass
        gas.equilibrate("UV")
    return float(gas.T)
