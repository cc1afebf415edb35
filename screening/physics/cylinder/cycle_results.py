"""What a settled cycle tells: traces over 720 degrees and the sums a judge of pistons asks for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from screening.physics.cylinder.cycle_inputs import ambient_air
from screening.physics.cylinder.gas_tables import GasTables
from screening.physics.cylinder.volume import swept_volume


@dataclass(frozen=True, eq=False)
class CylinderCycle:
    """A settled cycle; `crank_angle` (n_angle,), traces (n_angle, n_draw), all else (n_draw,), SI.

    `crank_angle` from firing top dead centre, 0 to below 4 pi [rad]; traces `pressure` [Pa], `temperature`
    [K], `film_coefficient` [W/(m2 K)], `burned_fraction` of the gas [1], `vapour_present`, the share of the
    fresh mixture that is in the cylinder and unburned [1] (0 before it enters);
    `mean_film_coefficient` <h>, `gas_temperature` <h T>/<h> [K] (NaN without a film); `peak_pressure` [Pa],
    `peak_angle` [rad]; `indicated_work` (720 degrees), `gross_work` (valves shut) [J]; `indicated_pressure`,
    `gross_pressure`, those over the swept volume [Pa]; `wall_heat` (3, n_draw) to crown, head and liner [J];
    `fuel_energy`, the fuel's lower heating value less its latent heat [J]; `heat_released`, what burning
    gave of it [J]; `exhaust_energy`, enthalpy out less enthalpy in, counted from burned fuel [J];
    `combustion_efficiency` [1]; `wall_share` of the fuel energy [1]; `energy_residual`, first law over the
    cycle [1 of fuel energy]; `settling`, the change still left from cycle to cycle [1];
    `volumetric_efficiency` [1]; `intake_pressure` [Pa]; `fuel_mass`, `air_mass`, `charge_mass` (all gas at
    intake closing) [kg]; `residual_fraction` by mass [1]; `closing_temperature` at intake closing,
    `spark_temperature` at the start of combustion [K]; `vapour_mole_fraction` of fuel in the fresh mixture,
    `charge_vapour_mole_fraction` with the residual [1]; `vapour_window` (2, n_draw), crank angles from which
    fuel vapour is in the cylinder and at which half of it has burned (4 pi added) [rad].
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


def gather_cycle(
    values: dict[str, NDArray[np.float64]],
    draws: NDArray[np.void],
    table: GasTables,
    traces: NDArray[np.float64],
    books: NDArray[np.float64],
    ends: NDArray[np.float64],
) -> CylinderCycle:
    """Return the cycle that the kernel's traces and sums make, draw by draw.

    Parameters
    ----------
    values : inputs, (n_draw,), SI, as `broadcast_inputs` returns them
    draws : records of the draws, (n_draw,), as the kernel took them
    table : gas tables of the fuel
    traces : (n_draw, 4, n_angle): pressure [Pa], temperature [K], film coefficient [W/(m2 K)], burned fraction [1]
    books : (n_draw, 10), summed over the cycle: work [J], heat to crown, head and liner [J], enthalpy in and out [J],
        fresh mass [kg], share burned [1], residual share [1], work of compression and expansion [J]
    ends : (n_draw, 6): intake pressure [Pa], settling [1], energy inside at start and end [J], charge [kg], closing [K]
    """
    pressure, temperature, film, burned = (np.ascontiguousarray(traces[:, row].T) for row in range(4))
    work, wall_heat, gross = books[:, 0], books[:, 1:4].T, books[:, 9]
    enthalpy_in, enthalpy_out, fresh = books[:, 4], books[:, 5], books[:, 6]
    angle = np.arange(pressure.shape[0]) * 4.0 * np.pi / pressure.shape[0]
    mean_film = film.mean(axis=0)
    fuel_mass = fresh * draws["fuel_mass_fraction"]
    fuel_energy = fuel_mass * (table.lower_heating_value - draws["latent_heat"])
    share = table.released_share(draws["equivalence_ratio"])
    released = fuel_mass * table.lower_heating_value * share * books[:, 7]
    heat = wall_heat.sum(axis=0)
    column = np.arange(fresh.size)
    peak = np.where(np.isnan(pressure).any(axis=0), 0, np.nan_to_num(pressure).argmax(axis=0))
    swept = swept_volume(draws["bore"], draws["stroke"])
    spark = np.rint(((draws["combustion_start"] % (4.0 * np.pi)) / (4.0 * np.pi)) * angle.size)
    spark_row = np.where(np.isnan(spark), 0, spark).astype(int) % angle.size
    fresh_mole = table.fuel_mole_fraction(draws["equivalence_ratio"])
    residual = books[:, 8]
    air_mass = fresh - fuel_mass
    half = draws["combustion_start"] + draws["combustion_duration"] * (np.log(2.0) / draws["wiebe_efficiency"]) ** (
        1.0 / (draws["wiebe_shape"] + 1.0)
    )
    imep, gross_pressure = work / swept, gross / swept
    return CylinderCycle(
        crank_angle=angle,
        pressure=pressure,
        temperature=temperature,
        film_coefficient=film,
        burned_fraction=burned,
        vapour_present=_vapour_present(angle, burned, residual, draws),
        mean_film_coefficient=mean_film,
        gas_temperature=(film * temperature).mean(axis=0) / np.where(mean_film > 0.0, mean_film, np.nan),
        peak_pressure=pressure[peak, column],
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
        volumetric_efficiency=air_mass / ambient_air(values),
        intake_pressure=ends[:, 0],
        fuel_mass=fuel_mass,
        air_mass=air_mass,
        charge_mass=ends[:, 4],
        residual_fraction=residual,
        closing_temperature=ends[:, 5],
        spark_temperature=temperature[spark_row, column],
        vapour_mole_fraction=fresh_mole + 0.0 * residual,
        charge_vapour_mole_fraction=fresh_mole * (1.0 - residual),
        vapour_window=np.array([np.full_like(half, 2.0 * np.pi) + 0.0 * half, 4.0 * np.pi + half]),
    )


def _vapour_present(
    angle: NDArray[np.float64],
    burned: NDArray[np.float64],
    residual: NDArray[np.float64],
    draws: NDArray[np.void],
) -> NDArray[np.float64]:
    """Unburned share over that at intake closing: 0 in exhaust, rising in intake, falling in burning."""
    present = np.clip((1.0 - burned) / (1.0 - residual), 0.0, 1.0)
    after_opening = angle[:, None] >= draws["exhaust_opening"]
    before_intake = angle[:, None] < 2.0 * np.pi - 0.5 * draws["overlap_angle"]
    return np.where(after_opening & before_intake, 0.0 * present, present)
