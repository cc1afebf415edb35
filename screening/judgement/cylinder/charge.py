"""Can the charge that a case implies be drawn in and lit at all?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.judgement.case.case import Case
from screening.physics.cylinder.cycle_inputs import CycleInputs, ambient_air, broadcast_inputs
from screening.records.liquids.fuel import Fuel
from screening.records.tables.assumptions import load_assumptions

_MIXTURE_HEAT_CAPACITY = 1050.0
"""Of air with fuel vapour, near ambient [J/(kg K)]; vapour makes it a tenth more, within the range of the floor."""


def evaporation_heat(
    fuel: Fuel, equivalence_ratio: ArrayLike, drawn_in: ArrayLike, coldest_charge: ArrayLike
) -> FloatArray:
    """Return the heat that the evaporating fuel takes from the mixture drawn in, (n_draw,) [J/kg of fuel].

    The latent heat, but no more than cools the mixture to `coldest_charge`: a fuel of which much is burned a
    kilogram of air (methanol, nitromethane) would else freeze it. The rest is taken to evaporate from port and walls.

        L' = min(L, c_p (T_drawn in - T_coldest) (1 + AFR/phi))

    Parameters
    ----------
    equivalence_ratio : [1]
    drawn_in : temperature of the air after the warm port, before fuel evaporates [K]
    coldest_charge : [K]
    """
    latent = fuel.latent_heat or 0.0
    room = np.maximum(np.asarray(drawn_in, float) - np.asarray(coldest_charge), 0.0)
    mixture = 1.0 + fuel.air_fuel_ratio / np.asarray(equivalence_ratio, float)
    return np.asarray(np.minimum(latent, _MIXTURE_HEAT_CAPACITY * room * mixture))


def refuse_what_cannot_fire(case: Case, inputs: CycleInputs) -> None:
    """Raise OutOfRange, naming the inputs that disagree, where the typical charge is too small to be lit."""
    values = broadcast_inputs(inputs)
    if inputs.fuel_mass_per_cycle is None:
        breathed = values["volumetric_efficiency"]
    else:
        air = values["fuel_mass_per_cycle"] * case.fuel.air_fuel_ratio / values["equivalence_ratio"]
        breathed = air / ambient_air(values)
    fresh = float(np.median(breathed * (values["compression_ratio"] - 1)))
    least_fresh = load_assumptions()["least_fresh_charge"].typical
    if fresh >= least_fresh:
        return
    share = 100 * float(np.median(breathed))
    least = 100 * least_fresh / (float(np.median(values["compression_ratio"])) - 1)
    engine = f"an engine of this compression ratio hardly fires under about {least:.0f} %"
    operation = case.operation
    if inputs.fuel_mass_per_cycle is None or operation.burned_volume is None or operation.burn_duration is None:
        raise OutOfRange(
            f"operation.throttle: the engine would breathe {share:.1f} % of its swept volume; {engine}; "
            "check operation.throttle and engine.compression_ratio"
        )
    raise OutOfRange(
        f"operation.burned_mL: got {1e6 * operation.burned_volume:g} mL in {operation.burn_duration:g} s; {case.fuel.name} "
        f"needs {case.fuel.air_fuel_ratio:.1f} kg of air a kilogram, so at {60 * case.engine.speed:.0f} rpm and an "
        f"equivalence ratio of {float(np.median(values['equivalence_ratio'])):.2f} the engine would breathe {share:.1f} % "
        f"of its swept volume; {engine}: these disagree; check operation.burned_mL, operation.burn_duration_s, "
        "engine.speed_rpm and operation.equivalence_ratio"
    )
