"""How much the skirt and the bore grow on warming."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.physics.skirt.growth import expansion_strain


def polymer_strain(temperature: FloatArray, draws: Conditions, polymer: Polymer) -> FloatArray:
    """Return the polymer's strain from the air's temperature to `temperature` [K], same shape [1]."""
    return expansion_strain(
        temperature,
        draws["ambient"],
        polymer["thermal_expansion"],
        polymer.values.get("thermal_expansion_hot", np.full(draws.n_draw, np.nan)),
        polymer["glass_transition"],
    )


def bore_strain(case: Case, temperature: FloatArray, draws: Conditions) -> FloatArray:
    """Return the bore's strain from the air's temperature to `temperature` [K], same shape [1]."""
    return draws[f"{case.piston.bore_material}.thermal_expansion"] * (temperature - draws["ambient"])
