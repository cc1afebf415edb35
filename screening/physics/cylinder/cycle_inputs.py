"""The inputs of a cycle: engine, fuel, setting and walls, checked once before anything is solved."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import constants

from screening.errors import OutOfRange
from screening.physics.cylinder.combustion import STANDARD_PRESSURE, FuelChemistry, air_molar_mass
from screening.physics.cylinder.cycle_draw import DRAW, Draw
from screening.physics.cylinder.film import CORRELATIONS
from screening.physics.cylinder.gas_tables import GasTables
from screening.physics.cylinder.volume import clearance_volume, flat_head_area_ratio, swept_volume

_POSITIVE = ("bore", "stroke", "rod_length", "speed", "ambient_temperature", "ambient_pressure")


@dataclass(frozen=True, eq=False)
class CycleInputs:
    """One engine, fuel and setting; every field but `chemistry` is a number or an array (n_draw,), SI.

    Give exactly one of `fuel_mass_per_cycle` [kg], `volumetric_efficiency` (air drawn in over air at ambient
    filling the swept volume [1]) and `intake_pressure` (in the cylinder during the intake stroke [Pa]).

    `bore`, `stroke`, `rod_length` [m]; `compression_ratio` [1]; `speed` [rev/s]; `equivalence_ratio` [1];
    `crown_temperature`, `head_temperature`, `liner_temperature` of the walls [K]; `ambient_temperature` [K],
    `ambient_pressure` [Pa]; `intake_heating`, what the port adds to the charge before fuel evaporates [K];
    `exhaust_pressure_ratio`, cylinder over ambient in the exhaust stroke [1]; `latent_heat` taken from the
    charge by the fuel [J/kg] (0 if it comes as vapour); `head_area_ratio`, head wall over bore area [1]
    (None: a disc-shaped chamber); `correlation`, index into `CORRELATIONS`; `multiplier` on its film
    coefficient [1]; `combustion_start` from firing top dead centre, `combustion_duration` [rad],
    `wiebe_efficiency`, `wiebe_shape` [1]; `exhaust_opening` from firing top dead centre, `blowdown_angle`
    from there until the pressure has fallen, `overlap_angle` of the change from exhaust to intake pressure
    about top dead centre, `intake_closing` from firing top dead centre [rad].
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
    intake_heating: ArrayLike
    exhaust_pressure_ratio: ArrayLike
    combustion_start: ArrayLike
    combustion_duration: ArrayLike
    wiebe_efficiency: ArrayLike
    wiebe_shape: ArrayLike
    exhaust_opening: ArrayLike
    blowdown_angle: ArrayLike
    overlap_angle: ArrayLike
    intake_closing: ArrayLike
    fuel_mass_per_cycle: ArrayLike | None = None
    volumetric_efficiency: ArrayLike | None = None
    intake_pressure: ArrayLike | None = None
    ambient_temperature: ArrayLike = 298.15
    ambient_pressure: ArrayLike = STANDARD_PRESSURE
    latent_heat: ArrayLike = 0.0
    head_area_ratio: ArrayLike | None = None
    correlation: ArrayLike = 0
    multiplier: ArrayLike = 1.0


def broadcast_inputs(inputs: CycleInputs) -> dict[str, NDArray[np.float64]]:
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
    return {name: np.array(np.broadcast_to(array, size)) for name, array in arrays.items()}


def check_inputs(inputs: CycleInputs, values: dict[str, NDArray[np.float64]], table: GasTables) -> None:
    """Refuse what no cycle can be solved for; NaN passes, and its draw comes out as NaN.

    Parameters
    ----------
    inputs : as given; only its `chemistry` is not in `values`
    values : every other field, (n_draw,), SI, as `broadcast_inputs` returns them
    table : gas tables of the fuel; the equivalence ratio must lie within them [1]

    Raises
    ------
    OutOfRange
        A length, speed, temperature, pressure, angle or charge not above 0, a compression ratio not above 1, a rod no
        longer than half the stroke, a negative multiplier, a mixture outside the tables, no such correlation, or
        events of the cycle out of their order along the crank angle.
    """
    walls = ("crown_temperature", "head_temperature", "liner_temperature")
    burning = (
        "combustion_duration",
        "wiebe_efficiency",
        "blowdown_angle",
        "overlap_angle",
        "head_area_ratio",
    )
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
            "events are out of order; along the crank angle must come combustion_start, exhaust_opening, "
            "the end of blow-down, the change-over about 360 degrees, intake_closing, the next start"
        )


def draw_records(values: dict[str, NDArray[np.float64]], table: GasTables) -> NDArray[np.void]:
    """One record a draw, as the kernel takes them."""
    fuel = table.fuel_mass_fraction(values["equivalence_ratio"])
    air = values["volumetric_efficiency"] * ambient_air(values)
    by_fuel = np.isfinite(values["fuel_mass_per_cycle"])
    swept = swept_volume(values["bore"], values["stroke"])
    made = {
        "clearance": clearance_volume(swept, values["compression_ratio"]),
        "fuel_mass_fraction": fuel,
        "fresh_mass": np.where(by_fuel, values["fuel_mass_per_cycle"] / fuel, air / (1.0 - fuel)),
        "intake_temperature": values["ambient_temperature"] + values["intake_heating"],
        "exhaust_pressure": values["ambient_pressure"] * values["exhaust_pressure_ratio"],
        "correlation": np.nan_to_num(values["correlation"]).astype(np.int64),
    }
    draws = np.empty(fuel.size, dtype=DRAW)
    for name in Draw._fields:
        draws[name] = made[name] if name in made else values[name]
    return draws


def ambient_air(values: dict[str, NDArray[np.float64]]) -> NDArray[np.float64]:
    """Mass of ambient air that fills the swept volume [kg]."""
    density = values["ambient_pressure"] * air_molar_mass() / (constants.R * values["ambient_temperature"])
    return density * swept_volume(values["bore"], values["stroke"])
