"""What ends a run: the time of each mechanism in every draw, from the crown's heat, its strength and the fuel.

Each function answers for one mechanism and returns seconds (n_draw,), inf where it does not come within the horizon.
The draws carry the uncertainty; there is no further safety factor in here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.judgement.conditions import Conditions
from screening.judgement.crown_stack import CrownStack
from screening.judgement.gas_side import GasSide
from screening.judgement.polymer import Polymer
from screening.physics.brittle import edge_stress
from screening.physics.crown import CrownHeat
from screening.physics.first_crossing import first_crossing
from screening.physics.plate import Plate, Section, crown_collapse_time
from screening.physics.ring_land import ring_land_time
from screening.physics.strength_temperature import temperature_at_strength

FloatArray = np.ndarray

COLLAPSE, BRITTLE, RING_LAND, SEIZURE, PIN_BOSS, FUEL_ATTACK, DECOMPOSITION, IGNITION = (
    "crown collapse", "crown cracks", "ring land softens", "skirt seizes", "pin boss yields", "fuel attack",
    "decomposition", "surface ignition",
)  # fmt: skip
PEAKS_OVER_MEAN = 3.0
"""The crown must carry the mean peak pressure plus this many standard deviations (the project's own choice)."""
START_LASTS = 2.0
"""A governed engine opens its throttle for about this long when it starts [s] (common practice, no source)."""


@dataclass(frozen=True)
class Load:
    """Pressures (n_draw,) [Pa] over the crankcase's: running and at the start with the throttle open."""

    running: FloatArray
    starting: FloatArray


def crown_load(draws: Conditions, gas: GasSide) -> Load:
    """Return the pressure that the crown must carry: mean peak with its cyclic variation, less the air's beneath."""
    factor = 1 + PEAKS_OVER_MEAN * draws["pressure_variation"]
    below = draws["ambient_pressure"]
    return Load(gas.peak_pressure * factor - below, gas.full_charge_pressure * factor - below)


def crown_section(stack: CrownStack, heat: CrownHeat, lost: FloatArray) -> Section:
    """Return the section that carries load: layers by cell, bonded polymer less what burned or dissolved away."""
    return Section(layer=heat.cell_layer, recession=heat.recession + lost, bonded=len(stack.layers) == 1)


def collapse(
    draws: Conditions, stack: CrownStack, heat: CrownHeat, load: Load, lost: FloatArray
) -> FloatArray:
    """Return when the limit pressure of the heated plate falls to the load."""
    radius = draws["bore"] / 2 - draws["skirt_wall"]
    plate = Plate(radius, draws["plate_edge_factor"])
    section = crown_section(stack, heat, lost)
    curves = list(stack.curves)

    def against(pressure: FloatArray) -> FloatArray:
        return crown_collapse_time(heat.times, heat.depth, heat.temperature, curves, plate, pressure, section)

    starting = against(load.starting)
    return np.where(starting < START_LASTS, starting, against(load.running))


def cracking(draws: Conditions, polymer: Polymer, load: Load) -> FloatArray:
    """Return 0 where a brittle crown cracks on the first full charges, else inf; heat only makes it tougher."""
    if not polymer.brittle:
        return np.full(draws.n_draw, np.inf)
    radius = draws["bore"] / 2 - draws["skirt_wall"]
    stress = edge_stress(load.starting, radius, draws["crown_thickness"])
    return np.where(stress > polymer.cold_strength, 0.0, np.inf)


def ring_land(draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat) -> FloatArray:
    """Return when the top ring sinks into its land.

    The land is as warm as the crown at the groove's depth at most; the bore's cooling delays it by a factor that the
    section study in the tests brackets. With the groove in metal the polymer beneath has no ring to carry.
    """
    if stack.groove_in_metal:
        return np.full(draws.n_draw, np.inf)
    softened = temperature_at_strength(polymer.strength, draws["ring_land_strength_share"] * polymer.cold_strength)
    depth = np.minimum(draws["ring_groove_depth"], heat.depth[-1])
    return ring_land_time(heat.time_to_reach(softened, depth), draws["ring_land_side_cooling"] - 1)


def decomposition(draws: Conditions, gas: GasSide, polymer: Polymer, heat: CrownHeat) -> FloatArray:
    """Return when the gas given off outweighs a share of the fuel, or the crown is used up."""
    area = np.pi / 4 * draws["bore"] ** 2
    char = polymer.get("char_yield")
    gasified = polymer["density"] * draws["solid_share"] * area * (1 - (0.0 if char is None else np.clip(char, 0, 0.95)))
    flow = np.gradient(heat.recession, heat.times, axis=0) * gasified
    excess = flow / gas.fuel_flow - draws["pyrolysis_share_limit"]
    used_up = heat.recession - 0.98 * draws["crown_thickness"]
    return np.minimum(first_crossing(heat.times, excess), first_crossing(heat.times, used_up))


def surface_ignition(draws: Conditions, polymer: Polymer, heat: CrownHeat, swing: FloatArray) -> FloatArray:
    """Return when retained char glows hot enough to light the charge; bare polymer is gone before."""
    char = polymer.get("char_yield")
    holds = np.zeros(draws.n_draw) if char is None else char * draws["char_retained"]
    glowing = heat.surface_temperature + swing - draws["hot_spot_ignition"]
    return np.where(holds > 0.05, first_crossing(heat.times, glowing), np.inf)
