"""Decomposition: a bare crown gives off too much gas or burns through; one beneath a cap or coating lets go of it."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.hot_crown import first_reached
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat

USED_UP = 0.98
"""Share of its thickness from which a crown that burns counts as burned through [1] (the project's own choice)."""


def time_of_burning_away(draws: Conditions, gas: GasSide, polymer: Polymer, heat: CrownHeat) -> FloatArray:
    """Return the time at which the gas given off outweighs a share of the fuel, or the crown is used up, (n_draw,) [s].

    The gas given off is rho A (1 - y_char) v of a face that recedes at v.
    """
    area = np.pi / 4 * draws["bore"] ** 2
    gasified = polymer["density"] * draws["solid_share"] * area * (1 - polymer.char_yield)
    outweighs = heat.time_to_recede_at(draws["pyrolysis_share_limit"] * gas.fuel_flow / gasified)
    used_up = heat.recession - USED_UP * draws["crown_thickness"]
    return np.minimum(outweighs, first_reached(heat, used_up))


def time_of_letting_go(draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat) -> FloatArray:
    """Return the time at which the polymer beneath a cap or coating begins to decompose, and lets go of it, (n_draw,) [s].

    The gas has nowhere to go but between the two; how long a cap would stay on is not known, so none is credited.
    Under a metal that its rings cool it begins at the centre, which is hotter than the mean.
    """
    onset, excess = polymer["decomposition_onset"], stack.centre_excess
    mean_then = (onset + excess * draws["liner"]) / (1 + excess)
    above = sum(np.asarray(layer.thickness, dtype=float) for layer in stack.layers[:-1])
    # a hair beneath the joint: at the joint itself there are two temperatures
    return heat.time_to_reach(mean_then, above * (1 + 1e-6))
