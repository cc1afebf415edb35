"""What the gas does in the cylinder over 720 degrees: pressure, temperature, film, work and heat to each wall."""

from __future__ import annotations

import threading
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange
from screening.physics.combustion import STANDARD_PRESSURE, FuelChemistry, air_molar_mass
from screening.physics.cycle_kernel import Scalars, run_draws
from screening.physics.cylinder_volume import clearance_volume, flat_head_area_ratio, swept_volume
from screening.physics.film import CORRELATIONS
from screening.physics.gas_tables import GasTables, gas_tables

_ONE_AT_A_TIME = threading.Lock()  # some of numba's thread pools stop the process when entered twice
_COARSENING, _MOST_CYCLES, _TOLERANCE = 4, 25, 2e-8
_DEGREE = np.pi / 180.0
_POSITIVE = ("bore", "stroke", "rod_length", "speed", "ambient_temperature", "ambient_pressure")


@dataclass(frozen=True, eq=False)
class CycleInputs:
    """One engine, fuel and setting; every field but `chemistry` is a number or an array (n_draw,), SI.

    Give exactly one of `fuel_mass_per_cycle` [kg], `volumetric_efficiency` (air drawn in over air at ambient filling
    the swept volume [1]) and `intake_pressure` (in the cylinder during the intake stroke [Pa]).

    `bore`, `stroke`, `rod_length` [m]; `compression_ratio` [1]; `speed` [rev/s]; `equivalence_ratio` [1];
    `crown_temperature`, `head_temperature`, `liner_temperature` of the walls [K]; `ambient_temperature` [K],
    `ambient_pressure` [Pa]; `intake_heating`, what the port adds to the charge before fuel evaporates [K];
    `exhaust_pressure_ratio`, cylinder over ambient in the exhaust stroke [1]; `latent_heat` taken from the charge by
    the fuel [J/kg] (0 if it comes as vapour); `head_area_ratio`, head wall over bore area [1] (None: a disc-shaped
    chamber); `correlation`, index into `CORRELATIONS`; `multiplier` on its film coefficient [1];
    `combustion_start` from firing top dead centre, `combustion_duration` [rad], `wiebe_efficiency`, `wiebe_shape`
    [1]; `exhaust_opening` from firing top dead centre, `blowdown_angle` from there until the pressure has fallen,
    `overlap_angle` of the change from exhaust to intake pressure about top dead centre, `intake_closing` from firing
    top dead centre [rad].
    """

    bore: ArrayLike
    stroke: ArrayLike
    rod_length: ArrayLike
    compression_ratio: ArrayLike
    speed: ArrayLike
    chemistry: FuelChemistry
    equivalence_ratio: ArrayLike
    crown_temperature: ArrayLike
    head_temperature: ArrayLike
    liner_temperature: ArrayLike
    fuel_mass_per_cycle: ArrayLike | None = None
    volumetric_efficiency: ArrayLike | None = None
    intake_pressure: ArrayLike | None = None
    ambient_temperature: ArrayLike = 298.15
    ambient_pressure: ArrayLike = STANDARD_PRESSURE
    intake_heating: ArrayLike = 25.0
    exhaust_pressure_ratio: ArrayLike = 1.05
    latent_heat: ArrayLike = 0.0
    head_area_ratio: ArrayLike | None = None
    correlation: ArrayLike = 0
    multiplier: ArrayLike = 1.0
    combustion_start: ArrayLike = -18.0 * _DEGREE
    combustion_duration: ArrayLike = 60.0 * _DEGREE
    wiebe_efficiency: ArrayLike = 5.0
    wiebe_shape: ArrayLike = 2.0
    exhaust_opening: ArrayLike = 130.0 * _DEGREE
    blowdown_angle: ArrayLike = 55.0 * _DEGREE
    overlap_angle: ArrayLike = 20.0 * _DEGREE
    intake_closing: ArrayLike = 580.0 * _DEGREE


@dataclass(frozen=True, eq=False)
class CylinderCycle:
    """A settled cycle; `crank_angle` (n_angle,), traces (n_angle, n_draw), all else (n_draw,), SI.

    `crank_angle` from firing top dead centre, 0 to below 4 pi [rad]; traces `pressure` [Pa], `temperature` [K],
    `film_coefficient` [W/(m2 K)], `burned_fraction` of the gas [1], `vapour_present`, the share of the fresh mixture
    that is in the cylinder and unburned [1] (0 before it enters);
    `mean_film_coefficient` <h>, `gas_temperature` <h T>/<h> [K]; `peak_pressure` [Pa], `peak_angle` [rad];
    `indicated_work` (720 degrees), `gross_work` (valves shut) [J]; `indicated_pressure`, `gross_pressure`, those over
    the swept volume [Pa]; `wall_heat` (3, n_draw) to crown, head and liner [J]; `fuel_energy`, the fuel's lower
    heating value less its latent heat [J]; `heat_released`, what burning gave of it [J]; `exhaust_energy`, enthalpy
    out less enthalpy in, counted from burned fuel [J]; `combustion_efficiency` [1]; `wall_share` of the fuel energy
    [1]; `energy_residual`, first law over the cycle [1 of fuel energy]; `settling`, the change still left from cycle
    to cycle [1]; `volumetric_efficiency` [1]; `intake_pressure` [Pa]; `fuel_mass`, `air_mass`, `charge_mass` (all
    gas at intake closing) [kg]; `residual_fraction` by mass [1]; `closing_temperature` at intake closing,
    `spark_temperature` at the start of combustion [K]; `vapour_mole_fraction` of fuel in the fresh mixture,
    `charge_vapour_mole_fraction` with the residual [1]; `vapour_window` (2, n_draw), crank angles from which fuel
    vapour is in the cylinder and at which half of it has burned (4 pi added) [rad].
    """

    crank_angle: NDArray[np.float64]
    pressure: NDArray[np.float64]
    temperature: NDArray[np.float64]
    film_coefficient: NDArray[np.float64]
    burned_fraction: NDArray[np.float64]
    vapour_present: NDArray[np.float64]
    mean_film_coefficient: NDArray[np.float64]
    gas_temperature: NDArray[np.float64]
    peak_pressure: NDArray[np.float64]
    peak_angle: NDArray[np.float64]
    indicated_work: NDArray[np.float64]
    gross_work: NDArray[np.float64]
    indicated_pressure: NDArray[np.float64]
    gross_pressure: NDArray[np.float64]
    wall_heat: NDArray[np.float64]
    fuel_energy: NDArray[np.float64]
    heat_released: NDArray[np.float64]
    exhaust_energy: NDArray[np.float64]
    combustion_efficiency: NDArray[np.float64]
    wall_share: NDArray[np.float64]
    energy_residual: NDArray[np.float64]
    settling: NDArray[np.float64]
    volumetric_efficiency: NDArray[np.float64]
    intake_pressure: NDArray[np.float64]
    fuel_mass: NDArray[np.float64]
    air_mass: NDArray[np.float64]
    charge_mass: NDArray[np.float64]
    residual_fraction: NDArray[np.float64]
    closing_temperature: NDArray[np.float64]
    spark_temperature: NDArray[np.float64]
    vapour_mole_fraction: NDArray[np.float64]
    charge_vapour_mole_fraction: NDArray[np.float64]
    vapour_window: NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class CrownFeedback:
    """What one kelvin of crown temperature does to the gas, (n_draw,).

    `gas_temperature` d T_gas/d T_crown [1], `film_coefficient` d<h>/d T_crown [W/(m2 K2)], `spark_temperature`
    d T_spark/d T_crown [1], `peak_pressure` d p_max/d T_crown [Pa/K].
    """

    gas_temperature: NDArray[np.float64]
    film_coefficient: NDArray[np.float64]
    spark_temperature: NDArray[np.float64]
    peak_pressure: NDArray[np.float64]


def solve_cycle(inputs: CycleInputs, steps_per_degree: int = 1, tables: GasTables | None = None) -> CylinderCycle:
    """Return the settled four-stroke cycle of each draw.

    One zone of uniform gas; first law dU = -p dV - sum h A_k (T - T_k) dt + h dm with Wiebe burning and energies from
    `gas_tables`; blow-down, exhaust and intake strokes at prescribed pressures (smooth fall after exhaust opening,
    smooth change about top dead centre), the gas that flows settled by the first law. What is pushed back into the
    intake port returns first. The intake pressure is solved so that the fresh mixture drawn in holds the fuel wanted.

    Parameters
    ----------
    inputs : CycleInputs
    steps_per_degree : implicit trapezoid steps per degree of crank angle [1]; events are rounded to a step
    tables : gas tables in place of those of `inputs.chemistry` (for limits with an exact solution)

    Returns
    -------
    CylinderCycle, NaN for draws with a NaN input

    Raises
    ------
    OutOfRange : a size, speed or temperature not positive, compression ratio not above 1, rod too short, an
        equivalence ratio outside the gas tables, events out of order, an unknown correlation index, or not exactly
        one way to set the charge

    Notes
    -----
    One zone: dissociation is seen at the mean temperature, below that of the burned zone, so the peak pressure comes
    out a few per cent high. No blow-by, crevices, short-circuited fuel or pressure waves. Woschni's motored pressure
    is polytropic (1.33) from the start of combustion.

    References
    ----------
    Heywood 1988, chapters 2, 9, 12 and 14 (from memory).
    """
    table = gas_tables(inputs.chemistry) if tables is None else tables
    values = _broadcast(inputs)
    _check(inputs, values, table)
    scalars = _scalars(values, table)
    numbers = [np.asarray(column, float) for column in scalars]
    wanted = np.where(np.isnan(scalars.fresh_mass), scalars.intake_pressure, scalars.fresh_mass)
    usable = np.isfinite(wanted)
    for name, column in zip(Scalars._fields, numbers, strict=True):
        if name not in ("fresh_mass", "intake_pressure"):
            usable &= np.isfinite(column)
    with _ONE_AT_A_TIME:
        traces, books, ends = run_draws(
            scalars,
            table.equivalence_ratio,
            table.temperature,
            table.log_pressure,
            table.burned_energy,
            table.burned_gas_constant,
            table.air_energy,
            table.fuel_energy,
            np.array([table.air_gas_constant, table.fuel_gas_constant]),
            usable,
            720 * steps_per_degree,
            _COARSENING,
            _MOST_CYCLES,
            _TOLERANCE,
        )
    return _gather(values, scalars, table, traces, books, ends)


def crown_feedback(
    inputs: CycleInputs, cold_temperature: ArrayLike, hot_temperature: ArrayLike, steps_per_degree: int = 1
) -> CrownFeedback:
    """Return how the gas answers to a hotter crown, from the cycle solved at two crown temperatures.

    Parameters
    ----------
    inputs : CycleInputs; its own crown temperature is not used
    cold_temperature, hot_temperature : of the crown, [K], broadcast with the draws

    Returns
    -------
    CrownFeedback

    Raises
    ------
    OutOfRange : the two temperatures are equal, or as `solve_cycle`
    """
    cold, hot = np.asarray(cold_temperature, float), np.asarray(hot_temperature, float)
    if np.any(hot == cold):
        raise OutOfRange("cold_temperature and hot_temperature are equal; they must differ to give a slope")
    at_cold = solve_cycle(replace(inputs, crown_temperature=cold), steps_per_degree)
    at_hot = solve_cycle(replace(inputs, crown_temperature=hot), steps_per_degree)
    rise = hot - cold
    return CrownFeedback(
        gas_temperature=(at_hot.gas_temperature - at_cold.gas_temperature) / rise,
        film_coefficient=(at_hot.mean_film_coefficient - at_cold.mean_film_coefficient) / rise,
        spark_temperature=(at_hot.spark_temperature - at_cold.spark_temperature) / rise,
        peak_pressure=(at_hot.peak_pressure - at_cold.peak_pressure) / rise,
    )


def _broadcast(inputs: CycleInputs) -> dict[str, NDArray[np.float64]]:
    """All fields as (n_draw,) arrays; NaN where a way to set the charge is not given."""
    given = {f.name: getattr(inputs, f.name) for f in fields(inputs) if f.name != "chemistry"}
    ways = ("fuel_mass_per_cycle", "volumetric_efficiency", "intake_pressure")
    if sum(given[name] is not None for name in ways) != 1:
        raise OutOfRange(f"give exactly one of {', '.join(ways)} to set the charge")
    if given["head_area_ratio"] is None:
        given["head_area_ratio"] = flat_head_area_ratio(inputs.bore, inputs.stroke, inputs.compression_ratio)
    arrays = {name: np.asarray(np.nan if value is None else value, float) for name, value in given.items()}
    shape = np.broadcast_shapes(*(array.shape for array in arrays.values()))
    if len(shape) > 1:
        raise OutOfRange(f"cycle inputs have shape {shape}; each must be one number or one array over draws")
    size = shape or (1,)
    return {name: np.ascontiguousarray(np.broadcast_to(array, size)) for name, array in arrays.items()}


def _check(inputs: CycleInputs, values: dict[str, NDArray[np.float64]], table: GasTables) -> None:
    walls = ("crown_temperature", "head_temperature", "liner_temperature")
    burning = ("combustion_duration", "wiebe_efficiency", "blowdown_angle", "overlap_angle", "head_area_ratio")
    charge = ("fuel_mass_per_cycle", "volumetric_efficiency", "intake_pressure", "exhaust_pressure_ratio")
    for name in (*_POSITIVE, *walls, *burning, *charge):
        if np.any(values[name] <= 0.0):
            raise OutOfRange(f"{name} is {np.nanmin(values[name])}; it must be above 0")
    clearance_volume(1.0, values["compression_ratio"])
    if np.any(values["rod_length"] <= 0.5 * values["stroke"]):
        raise OutOfRange("rod_length must be longer than half the stroke")
    if np.any(values["multiplier"] < 0.0):
        raise OutOfRange(f"multiplier is {np.nanmin(values['multiplier'])}; it must not be negative")
    ratio, low, high = values["equivalence_ratio"], table.equivalence_ratio[0], table.equivalence_ratio[-1]
    if np.any((ratio < low) | (ratio > high)):
        raise OutOfRange(
            f"equivalence_ratio runs from {np.nanmin(ratio)} to {np.nanmax(ratio)}; the gas tables hold {low}-{high}"
        )
    index = values["correlation"]
    if np.any(~np.isin(index[~np.isnan(index)], np.arange(len(CORRELATIONS)))):
        raise OutOfRange(f"correlation must be an index into {CORRELATIONS}")
    order = np.array(
        [
            values["combustion_start"],
            values["exhaust_opening"],
            values["exhaust_opening"] + values["blowdown_angle"],
            2.0 * np.pi - 0.5 * values["overlap_angle"],
            2.0 * np.pi + 0.5 * values["overlap_angle"],
            values["intake_closing"],
            4.0 * np.pi + values["combustion_start"],
        ]
    )
    if np.any(np.diff(order, axis=0) < -1e-9):
        raise OutOfRange(
            "events are out of order; along the crank angle must come combustion_start, exhaust_opening, the end of "
            "blow-down, the change-over about 360 degrees, intake_closing, the next combustion_start"
        )


def _scalars(values: dict[str, NDArray[np.float64]], table: GasTables) -> Scalars:
    fuel = table.fuel_mass_fraction(values["equivalence_ratio"])
    air = values["volumetric_efficiency"] * _ambient_air(values)
    fresh = np.where(
        np.isnan(values["fuel_mass_per_cycle"]), air / (1.0 - fuel), values["fuel_mass_per_cycle"] / fuel
    )
    swept = swept_volume(values["bore"], values["stroke"])
    made = {
        "clearance": clearance_volume(swept, values["compression_ratio"]),
        "fuel_mass_fraction": fuel,
        "fresh_mass": fresh,
        "intake_temperature": values["ambient_temperature"] + values["intake_heating"],
        "exhaust_pressure": values["ambient_pressure"] * values["exhaust_pressure_ratio"],
        "correlation": np.nan_to_num(values["correlation"]).astype(np.int64),
        "multiplier": values["multiplier"] + 0.0 * values["correlation"],  # NaN in either makes the draw unusable
    }
    return Scalars(**{name: made[name] if name in made else values[name] for name in Scalars._fields})


def _ambient_air(values: dict[str, NDArray[np.float64]]) -> NDArray[np.float64]:
    """Mass of ambient air that fills the swept volume [kg]."""
    density = values["ambient_pressure"] * air_molar_mass() / (8.31446261815324 * values["ambient_temperature"])
    return density * swept_volume(values["bore"], values["stroke"])


def _gather(
    values: dict[str, NDArray[np.float64]],
    scalars: Scalars,
    table: GasTables,
    traces: NDArray[np.float64],
    books: NDArray[np.float64],
    ends: NDArray[np.float64],
) -> CylinderCycle:
    pressure, temperature, film, burned = (np.ascontiguousarray(traces[:, row].T) for row in range(4))
    work, wall_heat, gross = books[:, 0], books[:, 1:4].T, books[:, 9]
    enthalpy_in, enthalpy_out, fresh = books[:, 4], books[:, 5], books[:, 6]
    angle = np.arange(pressure.shape[0]) * 4.0 * np.pi / pressure.shape[0]
    mean_film = film.mean(axis=0)
    fuel_mass = fresh * scalars.fuel_mass_fraction
    fuel_energy = fuel_mass * (table.lower_heating_value - scalars.latent_heat)
    share = table.released_share(scalars.equivalence_ratio)
    released = fuel_mass * table.lower_heating_value * share * books[:, 7]
    heat = wall_heat.sum(axis=0)
    draw = np.arange(fresh.size)
    peak = np.where(np.isnan(pressure).any(axis=0), 0, np.nan_to_num(pressure).argmax(axis=0))
    swept = swept_volume(scalars.bore, scalars.stroke)
    spark = np.rint(((scalars.combustion_start % (4.0 * np.pi)) / (4.0 * np.pi)) * angle.size)
    spark_row = np.where(np.isnan(spark), 0, spark).astype(int) % angle.size
    fresh_mole = table.fuel_mole_fraction(scalars.equivalence_ratio)
    residual = books[:, 8]
    air_mass = fresh - fuel_mass
    half = scalars.combustion_start + scalars.combustion_duration * (
        np.log(2.0) / scalars.wiebe_efficiency
    ) ** (1.0 / (scalars.wiebe_shape + 1.0))
    imep, gross_pressure = work / swept, gross / swept
    return CylinderCycle(
        crank_angle=angle,
        pressure=pressure,
        temperature=temperature,
        film_coefficient=film,
        burned_fraction=burned,
        vapour_present=_vapour_present(angle, burned, residual, scalars),
        mean_film_coefficient=mean_film,
        gas_temperature=(film * temperature).mean(axis=0) / mean_film,
        peak_pressure=pressure[peak, draw],
        peak_angle=np.where(np.isnan(work), np.nan, angle[peak]),
        indicated_work=work,
        gross_work=gross,
        indicated_pressure=imep,
        gross_pressure=gross_pressure,
        wall_heat=wall_heat,
        fuel_energy=fuel_energy,
        heat_released=released,
        exhaust_energy=released + enthalpy_out - enthalpy_in,
        combustion_efficiency=share,
        wall_share=heat / fuel_energy,
        energy_residual=(ends[:, 3] - ends[:, 2] - enthalpy_in + enthalpy_out + work + heat) / fuel_energy,
        settling=ends[:, 1],
        volumetric_efficiency=air_mass / _ambient_air(values),
        intake_pressure=ends[:, 0],
        fuel_mass=fuel_mass,
        air_mass=air_mass,
        charge_mass=ends[:, 4],
        residual_fraction=residual,
        closing_temperature=ends[:, 5],
        spark_temperature=temperature[spark_row, draw],
        vapour_mole_fraction=fresh_mole + 0.0 * residual,
        charge_vapour_mole_fraction=fresh_mole * (1.0 - residual),
        vapour_window=np.array([np.full_like(half, 2.0 * np.pi) + 0.0 * half, 4.0 * np.pi + half]),
    )


def _vapour_present(
    angle: NDArray[np.float64], burned: NDArray[np.float64], residual: NDArray[np.float64], scalars: Scalars
) -> NDArray[np.float64]:
    """Unburned share of the gas over its share at intake closing: 0 in exhaust, rising in intake, falling in burning."""
    present = np.clip((1.0 - burned) / (1.0 - residual), 0.0, 1.0)
    after_opening = angle[:, None] >= scalars.exhaust_opening
    before_intake = angle[:, None] < 2.0 * np.pi - 0.5 * scalars.overlap_angle
    return np.where(after_opening & before_intake, 0.0 * present, present)
