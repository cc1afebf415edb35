"""The cold proof: the pressure at which a bare printed crown bursts cold, and what a proof of one says of each draw.

Pressed slowly, so that nothing gains strength by the rate; without heat, so that its plate is of one strength.
"""

from __future__ import annotations

import numpy as np
from scipy import special

from screening.arrays import FloatArray
from screening.judgement.case.case import ColdProof
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.cracking import slow_breaking_strength
from screening.judgement.piston.crown_plate import plate_within_belt
from screening.physics.strength.burst import cracking_burst, yielding_burst
from screening.physics.strength.pressed_fill import energy_in_gas, energy_in_liquid
from screening.records.tables.assumptions import load_assumptions

ERROR = "cold_proof_error"
FILL = 30e-6
"""What a rig for a small piston holds [m3]."""
PROOF_FACTOR = 1.25
"""Pressure of a proof that a print must hold over the start's load [1] (common practice, no source)."""


def predicted_burst(draws: Conditions, polymer: Polymer, thickness: float | None = None) -> FloatArray:
    """Return the pressure at which a bare crown of a polymer bursts cold and slowly, (n_draw,) [Pa].

    Parameters
    ----------
    draws, polymer : as drawn
    thickness : of the print's crown [m]; the case's if left out
    """
    depth, strength = _depth(draws, thickness), polymer.cold_strength
    plate = plate_within_belt(draws, depth, strength)
    yields = yielding_burst(strength, depth, plate.radius, plate.edge_factor(strength * depth**2 / 4))
    cracks = cracking_burst(slow_breaking_strength(draws, strength), depth, plate.radius, plate.centre_factor)
    return np.where(polymer.brittle, np.minimum(yields, cracks), yields)


def burst_over_strength(draws: Conditions, thickness: float | None = None) -> FloatArray:
    """Return the burst pressure of a crown over its print's strength, which all materials share, (n_draw,) [1].

    Of one that yields: k t^2/(4 R^2), the belt as strong as the crown.
    """
    depth, one = _depth(draws, thickness), np.ones(draws.n_draw)
    plate = plate_within_belt(draws, depth, one)
    return yielding_burst(one, depth, plate.radius, plate.edge_factor(depth**2 / 4))


def _depth(draws: Conditions, thickness: float | None) -> FloatArray:
    """Return a print's crown thickness in each draw, (n_draw,) [m]; one that was given was measured on the print."""
    return draws["crown_thickness"] if thickness is None else np.full(draws.n_draw, thickness)


def log_likelihood(proof: ColdProof, predicted: FloatArray) -> FloatArray:
    """Return the logarithm of how likely a cold proof is in each draw, up to a constant, (n_draw,) [1].

    A burst pressure lies log-normally about the predicted one p; one that was held lies below it:

        ln L = -(ln(p_b/p)/e)^2/2   or   ln L = ln Phi(ln(p/p_h)/e)

    Parameters
    ----------
    proof : with what it burst at, or held
    predicted : the same print's burst pressure, (n_draw,) [Pa]
    """
    error = load_assumptions()[ERROR].typical
    if proof.burst is not None:
        return np.asarray(-0.5 * (np.log(proof.burst / predicted) / error) ** 2)
    assert proof.held is not None
    return np.asarray(special.log_ndtr(np.log(predicted / proof.held) / error))


def stored_energy(pressure: float) -> tuple[float, float]:
    """Return what the rig's fill stores at a pressure [Pa] as oil, and would as air [J]."""
    return energy_in_liquid(FILL, pressure), energy_in_gas(FILL, pressure)
