"""The results of a settled cycle: traces over 720 degrees and sums of work, heat and charge."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from screening.physics.cylinder.cycle_books import Traces
from screening.physics.cylinder.cycle_inputs import ambient_air
from screening.physics.cylinder.gas_tables import GasTables
from screening.physics.cylinder.volume import swept_volume


@dataclass(frozen=True, eq=False)
class CylinderCycle:
    """A settled cycle; `crank_angle` (n_angle,), traces (n_angle, n_draw), all else (n_draw,), SI.

    `crank_angle` from firing top dead centre, 0 to below 4 pi [rad]; traces `pressure` [Pa], `temperature`
    [K], `film_coefficient` [W/(m2 K)], `vapour_present`, the share of the fresh mixture that is in the cylinder and
    unburned [1] (0 before it enters); `mean_film_coefficient` <h>, `gas_temperature` <h T>/<h> [K] (NaN without a film);
    `peak_pressure` [Pa]; `indicated_work` (720 degrees), `gross_work` (valves shut) [J]; `indicated_pressure`, the
    indicated work over the swept volume [Pa]; `wall_heat` (3, n_draw) to crown, head and liner [J]; `fuel_energy`, the
    fuel's lower heating value less its latent heat [J]; `heat_released`, what burning gave of it [J];
    `exhaust_energy`, enthalpy out less enthalpy in, counted from burned fuel [J]; `wall_share` of the fuel energy [1];
    `energy_residual`, first law over the cycle [1 of fuel energy]; `settling`, the change still left from cycle to
    cycle [1]; `volumetric_efficiency` [1]; `intake_pressure` [Pa]; `fuel_mass`, `air_mass`, `charge_mass` (all gas at
    intake closing) [kg]; `residual_fraction` by mass [1]; `charge_vapour_mole_fraction` of fuel in the charge [1].
    """

    crank_angle: NDArray[np.float64]
    pressure: NDArray[np.float64]
    temperature: NDArray[np.float64]
    film_coefficient: NDArray[np.float64]
    vapour_present: NDArray[np.float64]
    mean_film_coefficient: NDArray[np.float64]
    gas_temperature: NDArray[np.float64]
    peak_pressure: NDArray[np.float64]
    indicated_work: NDArray[np.float64]
    gross_work: NDArray[np.float64]
    indicated_pressure: NDArray[np.float64]
    wall_heat: NDArray[np.float64]
    fuel_energy: NDArray[np.float64]
    heat_released: NDArray[np.float64]
    exhaust_energy: NDArray[np.float64]
    wall_share: NDArray[np.float64]
    energy_residual: NDArray[np.float64]
    settling: NDArray[np.float64]
    volumetric_efficiency: NDArray[np.float64]
    intake_pressure: NDArray[np.float64]
    fuel_mass: NDArray[np.float64]
    air_mass: NDArray[np.float64]
    charge_mass: NDArray[np.float64]
    residual_fraction: NDArray[np.float64]
    charge_vapour_mole_fraction: NDArray[np.float64]


def gather_cycle(
    values: dict[str, NDArray[np.float64]],
    draws: NDArray[np.void],
    table: GasTables,
    traces: Traces,
    books: NDArray[np.void],
) -> CylinderCycle:
    """Return the cycle of each draw from the traces and sums of the kernel.

    Parameters
    ----------
    values : inputs, (n_draw,), SI, as `broadcast_inputs` returns them
    draws : records of the draws, (n_draw,), as the kernel took them
    table : gas tables of the fuel
    traces : (n_draw, n_angle)
    books : sums over the cycle, (n_draw,), of the fields of `Books`
    """
    pressure, temperature, film, burned = (np.ascontiguousarray(trace.T) for trace in traces)
    work, gross, fresh, residual = (books[name] for name in ("work", "closed_work", "fresh_mass", "residual"))
    wall_heat = np.array([books["crown_heat"], books["head_heat"], books["liner_heat"]])
    inside = books["energy_after"] - books["energy_before"]
    angle = np.arange(pressure.shape[0]) * 4.0 * np.pi / pressure.shape[0]
    mean_film = film.mean(axis=0)
    fuel_mass = fresh * draws["fuel_mass_fraction"]
    fuel_energy = fuel_mass * (table.lower_heating_value - draws["latent_heat"])
    share = table.released_share(draws["equivalence_ratio"])
    released = fuel_mass * table.lower_heating_value * share * books["burned_share"]
    heat = wall_heat.sum(axis=0)
    air_mass = fresh - fuel_mass
    return CylinderCycle(
        crank_angle=angle,
        pressure=pressure,
        temperature=temperature,
        film_coefficient=film,
        vapour_present=_vapour_present(angle, burned, residual, draws),
        mean_film_coefficient=mean_film,
        gas_temperature=(film * temperature).mean(axis=0) / np.where(mean_film > 0.0, mean_film, np.nan),
        peak_pressure=pressure.max(axis=0),
        indicated_work=work,
        gross_work=gross,
        indicated_pressure=work / swept_volume(draws["bore"], draws["stroke"]),
        wall_heat=wall_heat,
        fuel_energy=fuel_energy,
        heat_released=released,
        exhaust_energy=released + books["enthalpy_out"] - books["enthalpy_in"],
        wall_share=heat / fuel_energy,
        energy_residual=(inside - books["enthalpy_in"] + books["enthalpy_out"] + work + heat) / fuel_energy,
        settling=books["settling"],
        volumetric_efficiency=air_mass / ambient_air(values),
        intake_pressure=books["intake_pressure"],
        fuel_mass=fuel_mass,
        air_mass=air_mass,
        charge_mass=books["charge_mass"],
        residual_fraction=residual,
        charge_vapour_mole_fraction=table.fuel_mole_fraction(draws["equivalence_ratio"]) * (1.0 - residual),
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
