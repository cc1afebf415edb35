"""Decomposition: a bare crown gives off too much gas or burns through; one beneath a cap or coating lets go of it."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.hot_crown import first_reached
from screening.judgement.piston.stack import ONSET_SHIFT, CrownStack
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.crown.onset import onset_at_rate
from screening.physics.cylinder.crown_gas import gas_that_floods

_RISE = 40.0
"""Rise over which the rate of a joint's warming is taken [K]."""
RICHER = 0.1
"""An engine that already runs near the rich limit stands at least so much more [1] (the project's choice)."""
USED_UP = 0.98
"""Share of its thickness from which a crown that burns counts as burned through [1] (the project's own choice)."""


def time_of_flooding(draws: Conditions, gas: GasSide, polymer: Polymer, heat: CrownHeat) -> FloatArray:
    """Return the time at which the crown's gas makes the mixture too rich to run, (n_draw,) [s].

    The gas given off is rho A (1 - y_char) v of a face that recedes at v; what of it meets fresh charge is fuel, see
    `screening.physics.cylinder.crown_gas`. A mixture that is too rich without it is the carburettor's doing: there the
    least gas ends nothing.
    """
    area = np.pi / 4 * draws["bore"] ** 2
    gasified = polymer["density"] * draws["solid_share"] * area * (1 - polymer.char_yield)
    phi = draws["equivalence_ratio"]
    rich = np.maximum(draws["rich_limit"], phi + RICHER)
    most = gas_that_floods(phi, rich, draws["crown_gas_mixed"], polymer["air_need_of_gas"], gas.air_need)
    return heat.time_to_recede_at(most * gas.fuel_flow / gasified)


def time_of_burning_through(draws: Conditions, heat: CrownHeat) -> FloatArray:
    """Return the time at which the crown has burned through, (n_draw,) [s]."""
    return first_reached(heat, heat.recession - USED_UP * draws["crown_thickness"])


def time_of_letting_go(draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat) -> FloatArray:
    """Return the time at which the polymer beneath a cap or coating begins to decompose, and lets go of it, (n_draw,) [s].

    The gas has nowhere to go but between the two; how long a cap would stay on is not known, so none is credited.
    Under a metal that its rings cool it begins at the centre, which is hotter than the mean.
    """
    excess, slow = stack.centre_excess, polymer["decomposition_onset"]
    above = sum(np.asarray(layer.thickness, dtype=float) for layer in stack.layers[:-1])

    def reached(onset: FloatArray) -> FloatArray:
        mean_then = (onset + excess * draws["liner"]) / (1 + excess)
        # a hair beneath the joint: at the joint itself there are two temperatures
        return heat.time_to_reach(mean_then, above * (1 + 1e-6))

    # the joint warms more slowly than a bare face: its own rate from the slow onset on shifts it
    first = reached(slow)
    with np.errstate(invalid="ignore"):
        rate = _RISE / np.maximum(reached(slow + _RISE) - first, 1e-9)
    rate = np.maximum(np.nan_to_num(rate), draws["onset_measured_rate"])
    fast = onset_at_rate(slow, polymer["activation_energy"], rate, draws["onset_measured_rate"])
    return reached(slow + np.minimum(fast - slow, ONSET_SHIFT[1]))
