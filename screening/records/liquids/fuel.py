"""What a fuel is to an engine and to a polymer: air need, heat, volatility, solvent power, hazards.

A fuel is a pure liquid, a pump fuel or surrogate of `materials_data/fluids.csv`, a blend by volume, or a
liquid of the user's. What no table holds is None, stands in `Fuel.unknown`, and is never filled.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening import stoichiometry
from screening.errors import UnknownName
from screening.records.liquids.blend_vapour import Curve
from screening.records.liquids.pure_liquids import Liquid


class Share(NamedTuple):
    """One pure liquid of a fuel and its share by volume (before mixing), mass and amount [1]."""

    component: Liquid
    volume_fraction: float
    mass_fraction: float
    mole_fraction: float


@dataclass(frozen=True)
class Fuel:
    """A liquid fuel in SI; None where no value is published. Atoms and molar mass are per mole of fuel.

    Notes
    -----
    Density is for 293.15 K; latent heat, molar volume and enthalpies of formation are for 298.15 K; the
    lower heating value is that of the liquid with water as vapour. Volumes of a blend are taken to add up
    (ethanol in water shrinks by up to 4 %), its heats of mixing are left out. A blend's flash point is that
    of its lowest component: a bound, not a value, and so is its autoignition temperature.
    """

    name: str
    cas: str | None
    kind: str
    components: tuple[Share, ...]
    carbon: float
    hydrogen: float
    oxygen: float
    nitrogen: float
    density: float | None
    lower_heating_value: float | None
    latent_heat: float | None
    molar_volume: float | None
    hansen: tuple[float, float, float] | None
    flash_point: float | None
    autoignition: float | None
    lower_flammability_limit: float | None
    upper_flammability_limit: float | None
    boiling_point: float | None
    enthalpy_of_formation_liquid: float | None
    enthalpy_of_formation_gas: float | None
    vapour_curve: Curve | None = field(repr=False)
    range_pairs: tuple[tuple[str, float, float], ...] = field(default=(), repr=False)
    source_pairs: tuple[tuple[str, str], ...] = field(default=(), repr=False)
    reason_pairs: tuple[tuple[str, str], ...] = field(default=(), repr=False)
    note: str = ""

    @property
    def molar_mass(self) -> float:
        """Molar mass [kg/mol]."""
        return stoichiometry.molar_mass(self.carbon, self.hydrogen, self.oxygen, self.nitrogen)

    @property
    def oxygen_need(self) -> float:
        """Moles of O2 for one mole of fuel [mol/mol]."""
        return stoichiometry.oxygen_need(self.carbon, self.hydrogen, self.oxygen)

    @property
    def air_need(self) -> float:
        """Moles of dry air for one mole of fuel [mol/mol]; not what a carburettor meters."""
        return self.oxygen_need / stoichiometry.OXYGEN_IN_DRY_AIR

    @property
    def air_fuel_ratio(self) -> float:
        """Stoichiometric mass of dry air per mass of fuel [kg/kg]."""
        return stoichiometry.air_fuel_ratio(self.carbon, self.hydrogen, self.oxygen, self.nitrogen)

    @property
    def energy_per_volume(self) -> float | None:
        """Lower heating value of a volume of liquid [J/m3]."""
        if self.lower_heating_value is None or self.density is None:
            return None
        return self.lower_heating_value * self.density

    @property
    def energy_per_mixture(self) -> float | None:
        """Lower heating value of a mass of stoichiometric mixture [J/kg]: sets the power of an engine."""
        return None if self.lower_heating_value is None else self.lower_heating_value / (1 + self.air_fuel_ratio)

    @property
    def energy_per_air(self) -> float | None:
        """Lower heating value per mass of stoichiometric dry air [J/kg]; near 3 MJ/kg for common fuels."""
        if self.lower_heating_value is None or self.air_fuel_ratio <= 0.0:
            return None
        return self.lower_heating_value / self.air_fuel_ratio

    @property
    def ranges(self) -> Mapping[str, tuple[float, float]]:
        """Property -> (low, high) in SI, where measurements disagree or what is sold varies."""
        return {name: (low, high) for name, low, high in self.range_pairs}

    @property
    def unknown(self) -> tuple[str, ...]:
        """Names of the properties that have no value; `why_unknown` tells why."""
        return tuple(name for name, _ in self.reason_pairs)

    def why_unknown(self, name: str) -> str:
        """Return why a property has no value; empty when it has one."""
        return dict(self.reason_pairs).get(name, "")

    def source(self, name: str) -> str:
        """Source of a property's value, or the reason why there is none.

        Raises
        ------
        UnknownName
            If a fuel has no such property.
        """
        origins = dict(self.source_pairs) | {key: f"unknown: {why}" for key, why in self.reason_pairs}
        if name not in origins:
            raise UnknownName("property of a fuel", name, origins)
        return origins[name]

    def vapour_pressure(self, temperature: ArrayLike) -> NDArray[np.float64]:
        """Return the saturation (bubble) pressure [Pa] at `temperature` [K]; broadcasts.

        All NaN when it is unknown; `why_unknown("vapour_pressure")` tells why. Outside the fitted range the
        curve goes on with a constant heat of vaporisation, also above the critical point.
        """
        kelvin = np.asarray(temperature, dtype=float)
        if self.vapour_curve is None:
            return np.full(kelvin.shape, np.nan)
        return self.vapour_curve.pressure(kelvin)
