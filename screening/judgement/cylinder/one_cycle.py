"""The cycle of one engine, fuel and way of running by itself, at typical wall temperatures: its indicator diagram."""

from __future__ import annotations

from dataclasses import dataclass, fields

from screening.arrays import FloatArray
from screening.errors import ScreeningError, UnknownName
from screening.judgement.case.case import Engine, Operation
from screening.judgement.cylinder.charge import evaporation_heat
from screening.judgement.cylinder.flame import fuel_chemistry
from screening.judgement.draws.conditions import CORRELATIONS, CYCLE_ROWS
from screening.physics.cylinder.cycle import CycleInputs, solve_cycle
from screening.physics.cylinder.volume import cylinder_volume
from screening.records.liquids.find_fuel import Fuel
from screening.records.tables.assumptions import load_assumptions


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
    setting = {name: row.typical for name, row in load_assumptions().items()}
    drawn_in = operation.ambient + setting["intake_heating"]
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
            latent_heat=evaporation_heat(fuel, operation.equivalence_ratio, drawn_in, setting["coldest_charge"]),
            correlation=CORRELATIONS.index(correlation),
            multiplier=multiplier,
            combustion_start=setting["combustion_start"],
            combustion_duration=setting["combustion_duration"],
            wiebe_shape=setting["wiebe_exponent"],
            **{name: setting[name] for name in CYCLE_ROWS},
            crown_temperature=setting["one_cycle_crown"],
            head_temperature=setting["one_cycle_head"],
            liner_temperature=setting["one_cycle_liner"],
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
