"""Pin boss yields and crown seat yields: the polymer gives way where the pin bears on it, or a metal crown stands on it."""

from __future__ import annotations

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.hot_crown import CARRIES_NOTHING, first_outgrown
from screening.judgement.piston.load import Load
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.strength.pin_boss import pin_boss_limit


def time_of_pin_boss_yielding(
    draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, skirt: FloatArray, load: Load
) -> FloatArray:
    """Return the time at which the bosses yield under the pin, (n_draw,) [s].

    They are taken as warm as the crown's underside, an upper bound; beneath a metal crown that stands on the skirt's end
    they are as warm as the `skirt` (n_time, n_draw) [K]. `both_bosses_length` is both bosses' together: each takes half.
    """
    used_up = np.isnan(heat.back_temperature) & (heat.recession > 0)
    beneath = np.where(used_up, CARRIES_NOTHING, heat.back_temperature)
    limit = pin_boss_limit(
        polymer.strength.at(skirt if stack.on_skirt else beneath),
        draws["bore"],
        draws["pin_diameter"],
        draws["both_bosses_length"] / 2,
        draws["bearing_factor"],
    )
    return first_outgrown(heat, limit, load)


def time_of_seat_yielding(
    draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, load: Load
) -> FloatArray:
    """Return the time at which the end of the skirt's wall yields under a metal crown that stands on it, (n_draw,) [s].

    It carries the whole pressure on the crown and is as warm as the metal's rim, which is colder than its mean by as much
    as the centre is hotter. The wall's end is 1 - (1 - 2 w/B)^2 of the bore's area.
    """
    share = 1 - (1 - draws["skirt_wall"] / (draws["bore"] / 2)) ** 2
    rim = heat.back_temperature - stack.centre_excess * np.maximum(heat.back_temperature - draws["liner"], 0)
    return first_outgrown(heat, polymer.strength.at(rim) * draws["bearing_factor"] * share, load)
