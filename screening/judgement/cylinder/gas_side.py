"""From the case and its draws to the gas over the crown: the cycle solved once a draw, for all materials."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from screening.arrays import FloatArray
from screening.errors import ScreeningError
from screening.judgement.case.case import Case
from screening.judgement.cylinder.charge import evaporation_heat, refuse_what_cannot_fire
from screening.judgement.cylinder.flame import fuel_chemistry
from screening.judgement.cylinder.peaks import Peaks, peaks_of
from screening.judgement.cylinder.starts import Starts, solve_starts
from screening.judgement.draws.conditions import CYCLE_ROWS, Conditions
from screening.physics.crown.conduction import Layer
from screening.physics.crown.swing import surface_swing
from screening.physics.cylinder.cycle import CycleInputs, CylinderCycle, solve_cycle
from screening.physics.cylinder.film import FilmHarmonics, film_flux_harmonics

COLD_CROWN, HOT_CROWN = 450.0, 850.0
"""Crown temperatures [K] between which the gas's answer to a hot crown is taken as a straight line."""
_HARMONICS = 12
SETTLED = 1e-3
"""Change from cycle to cycle at which one counts as settled [1]: film and gas are then within 0.04 %, the peak within 0.1 %."""

_NUMBERS = (
    "film_coefficient", "gas_temperature", "film_feedback", "gas_feedback", "peak_pressure", "fuel_flow", "fuel_power",
    "wall_share", "volumetric_efficiency", "indicated_pressure", "vapour_pressure_peak",
)  # fmt: skip


@dataclass(frozen=True)
class GasSide:
    """The gas over the crown, (n_draw,) unless said otherwise.

    `film_coefficient` [W/(m2 K)] and `gas_temperature` [K] at a crown of COLD_CROWN, means over 720 degrees, with their
    `_feedback` a kelvin of crown temperature [W/(m2 K2)], [1]; `peak_pressure` [Pa], mean of the run's cycles,
    with the `peaks` of its charge; `starts`, the peaks of the charges with which it may be started; `fuel_flow` [kg/s];
    `fuel_power`, lower heating value less latent heat [W]; `wall_share` of that power which crown, head and bore take [1];
    `volumetric_efficiency` [1]; `air_need` of the fuel, kg of air a kg [1];
    `indicated_pressure` over 720 degrees [Pa]; `harmonics` of the film for the surface swing; `vapour_pressure_peak` of
    the unburned fuel [Pa]; `cycle` the whole cycle.
    """

    film_coefficient: FloatArray
    gas_temperature: FloatArray
    film_feedback: FloatArray
    gas_feedback: FloatArray
    peak_pressure: FloatArray
    peaks: Peaks
    starts: Starts
    fuel_flow: FloatArray
    fuel_power: FloatArray
    wall_share: FloatArray
    volumetric_efficiency: FloatArray
    air_need: float
    indicated_pressure: FloatArray
    harmonics: FilmHarmonics
    vapour_pressure_peak: FloatArray
    cycle: CylinderCycle

    def numbers(self) -> dict[str, FloatArray]:
        """Return the numbers, (n_draw,) each by name, without the traces over the cycle, which are large."""
        by_name = {name: getattr(self, name) for name in _NUMBERS}
        ways = {"governed": self.starts.governed, "held": self.starts.held, "choked": self.starts.choked}
        started = {f"{way}_start_peak_pressure": peaks.mean for way, peaks in ways.items() if peaks is not None}
        return by_name | {"peak_pressure_bound": self.peaks.bound} | started


def solve_gas_side(case: Case, draws: Conditions) -> GasSide:
    """Return the gas side of every draw: the cycle at a cold and at a hot crown, and with the throttle open.

    Raises OutOfRange, naming the inputs, for a charge so small that no engine would fire on it.
    """
    inputs = _inputs(case, draws)
    refuse_what_cannot_fire(case, inputs)
    cold = solve_cycle(replace(inputs, crown_temperature=COLD_CROWN), tolerance=SETTLED)
    hot = solve_cycle(replace(inputs, crown_temperature=HOT_CROWN), tolerance=SETTLED)
    rise = HOT_CROWN - COLD_CROWN
    flow = cold.fuel_mass * draws["speed"] / 2
    vapour = np.max(cold.pressure * cold.vapour_present * cold.charge_vapour_mole_fraction, axis=0)
    return GasSide(
        film_coefficient=cold.mean_film_coefficient,
        gas_temperature=cold.gas_temperature,
        film_feedback=(hot.mean_film_coefficient - cold.mean_film_coefficient) / rise,
        gas_feedback=(hot.gas_temperature - cold.gas_temperature) / rise,
        peak_pressure=cold.peak_pressure,
        peaks=peaks_of(inputs, cold),
        starts=solve_starts(case, inputs, draws, cold.volumetric_efficiency, SETTLED),
        fuel_flow=flow,
        fuel_power=cold.fuel_energy * draws["speed"] / 2,
        wall_share=cold.wall_share,
        volumetric_efficiency=cold.volumetric_efficiency,
        air_need=case.fuel.air_fuel_ratio,
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
    cycle = solve_cycle(replace(inputs, crown_temperature=COLD_CROWN), tolerance=SETTLED)
    a_second = draws["speed"] / 2
    crown = np.pi / 4 * draws["bore"] ** 2
    return cycle.wall_heat.sum(axis=0) * a_second, cycle.wall_heat[0] * a_second / crown


def crown_swing(draws: Conditions, gas: GasSide, layer: Layer, surface_temperature: FloatArray) -> FloatArray:
    """Return the rise of the peak of `layer`'s face above its mean within a cycle, at that mean, (n_draw,) [K]."""
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
    latent = evaporation_heat(fuel, d["equivalence_ratio"], d["ambient"] + d["intake_heating"], d["coldest_charge"])
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
        **{name: d[name] for name in CYCLE_ROWS},
    )
