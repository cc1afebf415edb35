"""How stiff a polymer crown is through its depth, where deflection temperatures say so."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.draws.polymer import Polymer
from screening.physics.strength.modulus import ModulusCurve, modulus_curve

_STIFF_TO = 20.0
"""An amorphous polymer has lost its stiffness so far above its glass transition [K] (common practice, no source)."""


def stiffness_curve(polymer: Polymer) -> ModulusCurve | None:
    """Return the modulus against temperature, None where no deflection temperature or no cold modulus was published.

    One deflection temperature stands for both where only one was published.
    """
    cold = polymer.get("tensile_modulus")
    high, low = (polymer.get(f"deflection_temperature_{load}") for load in ("180", "045"))
    first, second = (high if high is not None else low), (low if low is not None else high)
    if cold is None or first is None or second is None:
        return None
    melts = polymer.material.morphology == "semicrystalline"
    end = polymer["melting_point"] if melts else polymer["glass_transition"] + _STIFF_TO
    return modulus_curve(cold, first, second, end)


def stiffness_through(case: Case, curve: ModulusCurve, depth: FloatArray, temperature: FloatArray) -> FloatArray:
    """Return the polymer's modulus at every depth, (n_time, n_depth, n_draw) [Pa]; 0 in the layers that lie on it.

    `depth` [m] is (n_depth,) or (n_depth, n_draw), `temperature` [K] (n_time, n_depth, n_draw).
    """
    covered = depth < sum(layer.thickness for layer in case.piston.crown_layers)
    return np.where(covered if depth.ndim == 2 else covered[:, None], 0.0, curve.at(temperature))
