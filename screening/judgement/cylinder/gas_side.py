"""From the case and its draws to the gas over the crown: the cycle solved once a draw, for all materials.

Also `run_cycle`, the same for one engine, fuel and way of running.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from screening.errors import ScreeningError, UnknownName
from screening.judgement.case.case import Case, Engine, Operation
from screening.judgement.cylinder.charge import evaporation_heat, refuse_what_cannot_fire
from screening.judgement.draws.conditions import CORRELATIONS, Conditions
from screening.physics.crown.conduction import Layer
from screening.physics.crown.swing import surface_swing
from screening.physics.cylinder.combustion import FuelChemistry, adiabatic_flame_temperature
from screening.physics.cylinder.cycle import CycleInputs, CylinderCycle, solve_cycle
from screening.physics.cylinder.film import FilmHarmonics, film_flux_harmonics
from screening.physics.cylinder.volume import cylinder_volume
from screening.records.liquids.find_fuel import Fuel
from screening.records.tables.assumptions import load_assumptions

FloatArray = np.ndarray

COLD_CROWN, HOT_CROWN = 450.0, 850.0
"""Crown temperatures [K] between which the gas's answer to a hot crown is taken as a straight line."""
_HARMONICS = 12
_SETTLED = 1e-3
"""Change from cycle to cycle at which one counts as settled [1]: film and gas are then within 0.04 %, the peak within 0.1 %."""
_RUN_CYCLE_WALLS = {"crown_temperature": 500.0, "head_temperature": 450.0, "liner_temperature": 420.0}


@dataclass(frozen=True)
class GasSide:
    """The gas over the crown, (n_draw,) unless said otherwise.

    `film_coefficient` [W/(m2 K)] and `gas_temperature` [K] at a crown of COLD_CROWN, means over 720 degrees, with their
    `_feedback` a kelvin of crown temperature [W/(m2 K2)], [1]; `peak_pressure` [Pa]; `full_charge_pressure` [Pa], the peak
    of a cold engine with its throttle open, as it starts; `fuel_flow` [kg/s]; `fuel_power`, lower heating value less latent
    heat [W]; `wall_share` of that power which crown, head and bore take [1]; `volumetric_efficiency` [1];
    `indicated_pressure` over 720 degrees [Pa]; `harmonics` of the film for the surface swing; `vapour_pressure_peak` of
    the unburned fuel [Pa]; `cycle` the whole cycle.
    """

    film_coefficient: FloatArray
    gas_temperature: FloatArray
    film_feedback: FloatArray
    gas_feedback: FloatArray
    peak_pressure: FloatArray
    full_charge_pressure: FloatArray
    fuel_flow: FloatArray
    fuel_power: FloatArray
    wall_share: FloatArray
    volumetric_efficiency: FloatArray
    indicated_pressure: FloatArray
    harmonics: FilmHarmonics
    vapour_pressure_peak: FloatArray
    cycle: CylinderCycle


def fuel_chemistry(fuel: Fuel) -> FuelChemistry:
    """Return what combustion needs of a fuel; raise ScreeningError where its heat of formation is not known."""
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
    found = adiabatic_flame_temperature(fuel_chemistry(fuel), equivalence_ratio, pressure, temperature, constant)
    return float(found)


def solve_gas_side(case: Case, draws: Conditions) -> GasSide:
    """Return the gas side of every draw: the cycle at a cold and at a hot crown, and with the throttle open.

    Raises OutOfRange, naming the inputs, for a charge so small that no engine would fire on it.
    """
    inputs = _inputs(case, draws)
    refuse_what_cannot_fire(case, inputs)
    cold = solve_cycle(replace(inputs, crown_temperature=COLD_CROWN), tolerance=_SETTLED)
    hot = solve_cycle(replace(inputs, crown_temperature=HOT_CROWN), tolerance=_SETTLED)
    full = solve_cycle(_throttle_open(inputs, draws, cold), tolerance=_SETTLED)
    rise = HOT_CROWN - COLD_CROWN
    flow = cold.fuel_mass * draws["speed"] / 2
    vapour = np.max(cold.pressure * cold.vapour_present * cold.charge_vapour_mole_fraction, axis=0)
    return GasSide(
        film_coefficient=cold.mean_film_coefficient,
        gas_temperature=cold.gas_temperature,
        film_feedback=(hot.mean_film_coefficient - cold.mean_film_coefficient) / rise,
        gas_feedback=(hot.gas_temperature - cold.gas_temperature) / rise,
        peak_pressure=cold.peak_pressure,
        full_charge_pressure=full.peak_pressure,
        fuel_flow=flow,
        fuel_power=cold.fuel_energy * draws["speed"] / 2,
        wall_share=cold.wall_share,
        volumetric_efficiency=cold.volumetric_efficiency,
        indicated_pressure=cold.indicated_pressure,
        harmonics=film_flux_harmonics(cold.film_coefficient, cold.temperature, _HARMONICS),
        vapour_pressure_peak=vapour,
        cycle=cold,
    )


def wall_heat(case: Case, draws: Conditions) -> tuple[FloatArray, FloatArray]:
    """Return the heat that the cylinder's walls take [W] and the flux into the crown [W/m2] of a metal piston, (n_draw,).

    The crown is at COLD_CROWN; raises as `solve_gas_side`.
    """
    inputs = _inputs(case, draws)
    refuse_what_cannot_fire(case, inputs)
    cycle = solve_cycle(replace(inputs, crown_temperature=COLD_CROWN), tolerance=_SETTLED)
    a_second = draws["speed"] / 2
    crown = np.pi / 4 * draws["bore"] ** 2
    return cycle.wall_heat.sum(axis=0) * a_second, cycle.wall_heat[0] * a_second / crown


def _throttle_open(inputs: CycleInputs, draws: Conditions, running: CylinderCycle) -> CycleInputs:
    """Return the cycle of the start: a full charge, at the governed speed, between walls as cold as the air."""
    return replace(
        inputs,
        fuel_mass_per_cycle=None,
        volumetric_efficiency=np.maximum(draws["full_charge"], running.volumetric_efficiency),
        crown_temperature=draws["ambient"],
        head_temperature=draws["ambient"],
        liner_temperature=draws["ambient"],
    )


def crown_swing(draws: Conditions, gas: GasSide, layer: Layer, surface_temperature: FloatArray) -> FloatArray:
    """Return how far the face of `layer` peaks above its mean within a cycle, (n_draw,) [K], when it is as hot as given."""
    effusivity = np.sqrt(np.asarray(layer.conductivity) * np.asarray(layer.density) * np.asarray(layer.heat_capacity))
    flux = gas.harmonics.flux(surface_temperature)[1:]
    return surface_swing(flux, draws["speed"] / 2, effusivity)


def _inputs(case: Case, d: Conditions) -> CycleInputs:
    fuel = case.fuel
    burned = np.isfinite(d["burned_volume_flow"]).all()
    if burned and fuel.density is None:
        raise ScreeningError(
            f"{fuel.name}: its density is unknown, so a measured burn says nothing; give throttle instead"
        )
    latent = evaporation_heat(fuel, d["equivalence_ratio"], d["ambient"], d["coldest_charge"])
    return CycleInputs(
        bore=d["bore"],
        stroke=d["stroke"],
        rod_length=d["rod_length"],
        compression_ratio=d["compression_ratio"],
        speed=d["speed"],
        chemistry=fuel_chemistry(fuel),
        equivalence_ratio=d["equivalence_ratio"],
        crown_temperature=COLD_CROWN,
        head_temperature=d["head_wall"],
        liner_temperature=d["liner"],
        fuel_mass_per_cycle=2 * d["burned_volume_flow"] * (fuel.density or np.nan) / d["speed"] if burned else None,
        volumetric_efficiency=None if burned else d["volumetric_efficiency"],
        ambient_temperature=d["ambient"],
        ambient_pressure=d["ambient_pressure"],
        latent_heat=latent,
        correlation=d["correlation"],
        multiplier=d["multiplier"],
        combustion_start=d["combustion_start"],
        combustion_duration=d["combustion_duration"],
        wiebe_shape=d["wiebe_exponent"],
    )


@dataclass(frozen=True)
class Cycle:
    """One settled cycle; traces are (n_angle,), all else numbers, SI; see `CylinderCycle` for the meaning.

    `crank_angle` runs from firing top dead centre, 0 to below 4 pi [rad]; `volume` is the gas's [m3], for an indicator
    diagram.
    """

    crank_angle: FloatArray
    volume: FloatArray
    pressure: FloatArray
    temperature: FloatArray
    film_coefficient: FloatArray
    mean_film_coefficient: float
    gas_temperature: float
    peak_pressure: float
    indicated_work: float
    indicated_pressure: float
    fuel_energy: float
    heat_released: float
    wall_share: float
    energy_residual: float
    volumetric_efficiency: float


def run_cycle(
    engine: Engine, fuel: Fuel, operation: Operation, correlation: str = "woschni", multiplier: float = 1.0
) -> Cycle:
    """Return the cycle of one engine on one fuel, at typical wall temperatures.

    Parameters
    ----------
    engine, operation : records of a `Case`
    correlation : str
        "woschni", "hohenberg" or "annand".
    multiplier : float
        On the correlation's film coefficient [1].

    Raises
    ------
    UnknownName
        For an unknown correlation.
    OutOfRange, ScreeningError
        For an engine, fuel or operation that no cycle can be made of.

    Returns
    -------
    Cycle

    Notes
    -----
    One zone, and what a cycle leaves out, see `screening.physics.cylinder.cycle.solve_cycle`.

    References
    ----------
    Heywood 1988, chapters 2, 9, 12 and 14 (from memory); Woschni 1967, Hohenberg 1979, Annand 1963 by correlation.

    Examples
    --------
    The first law is closed:

    >>> from screening import load_case
    >>> case = load_case("petrol_baseline")
    >>> cycle = run_cycle(case.engine, case.fuel, case.operation)
    >>> abs(cycle.energy_residual) < 1e-6, cycle.peak_pressure > 1e6
    (True, True)
    """
    if correlation not in CORRELATIONS:
        raise UnknownName("correlation", correlation, CORRELATIONS)
    fuel_mass, efficiency = _charge_of(engine, fuel, operation)
    coldest = load_assumptions()["coldest_charge"].typical
    solved = solve_cycle(
        CycleInputs(
            bore=engine.bore,
            stroke=engine.stroke,
            rod_length=engine.rod_length,
            compression_ratio=engine.compression_ratio,
            speed=engine.speed,
            chemistry=fuel_chemistry(fuel),
            equivalence_ratio=operation.equivalence_ratio,
            fuel_mass_per_cycle=fuel_mass,
            volumetric_efficiency=efficiency,
            ambient_temperature=operation.ambient,
            latent_heat=evaporation_heat(fuel, operation.equivalence_ratio, operation.ambient, coldest),
            correlation=CORRELATIONS.index(correlation),
            multiplier=multiplier,
            **_RUN_CYCLE_WALLS,
        )
    )
    solved_names = [field.name for field in fields(Cycle) if field.name != "volume"]
    volume = cylinder_volume(
        solved.crank_angle, engine.bore, engine.stroke, engine.rod_length, engine.compression_ratio
    )
    return Cycle(volume=volume, **{name: _single(getattr(solved, name)) for name in solved_names})  # type: ignore[arg-type]


def _charge_of(engine: Engine, fuel: Fuel, operation: Operation) -> tuple[float | None, float | None]:
    """Return the fuel burned a cycle [kg] or, where no burn was measured, the volumetric efficiency [1]; the other is None."""
    if operation.burned_volume is not None and operation.burn_duration is not None:
        if fuel.density is None:
            raise ScreeningError(f"{fuel.name}: its density is unknown, so a measured burn says nothing")
        return 2 * operation.burned_volume / operation.burn_duration * fuel.density / engine.speed, None
    assumed, throttle = load_assumptions(), operation.throttle
    return None, assumed["throttled_charge"].typical if throttle is None else throttle * assumed["full_charge"].typical


def _single(value: FloatArray) -> FloatArray | float:
    """Return the one draw's trace (n_angle,) or number."""
    if value.ndim == 2:
        return value[:, 0]
    return float(value[0]) if value.size == 1 else value
