"""What ends a run: the time of each mechanism in every draw, from the crown's heat, its strength and the fuel.

Each function answers for one mechanism and returns seconds (n_draw,), inf where it does not come within what was
followed of the crown (`CrownHeat.followed`: to the horizon, or until something has ended the run).
The draws carry the uncertainty; there is no further safety factor in here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.judgement.case.case import Case
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.stack import CrownStack
from screening.judgement.piston.stiffness import stiffness_curve, stiffness_through
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.curves.first_crossing import first_crossing
from screening.physics.strength.brittle import brittle_limit_pressure, edge_stress
from screening.physics.strength.pin_boss import pin_boss_limit
from screening.physics.strength.plate import Plate, Section, crown_collapse_time
from screening.physics.strength.ring_land import ring_land_time
from screening.physics.strength.strength_temperature import temperature_at_strength

FloatArray = np.ndarray

COLLAPSE, BRITTLE, RING_LAND, SEIZURE, PIN_BOSS, SEAT, FUEL_ATTACK, DECOMPOSITION, IGNITION = (
    "crown collapse", "crown cracks", "ring land softens", "skirt seizes", "pin boss yields", "crown seat yields",
    "fuel attack", "decomposition", "surface ignition",
)  # fmt: skip
PEAKS_OVER_MEAN = 3.0
"""Running, the crown must carry the mean peak pressure plus this many standard deviations (the project's own choice)."""
START_PEAKS_OVER_MEAN = 2.0
"""The same for the start: the highest of some 25 cycles lies two standard deviations up (order statistics)."""
_CARRIES_NOTHING = 1e4
_NEVER_CRACKS = 1e15
_CRACK_STRIDE, _CRACK_LOOKS = 2, 6  # every other moment is looked at, six at a time, and only what has not ended yet


@dataclass(frozen=True)
class Load:
    """Pressures (n_draw,) [Pa] over the crankcase's: `running`, and at the start with the throttle open.

    The throttle is open for `start_lasts`, until the governor shuts it. In that time the crown is heated as in running:
    the film of a full charge at the mean speed of the run-up is as strong (see tests/judgement/test_charge.py).
    `starting` is what a brittle crown feels; `starting_flow` is it over the gain of yield strength in a stroke of
    milliseconds, since a few dozen strokes give the plastic no time to flow.
    """

    running: FloatArray
    starting: FloatArray
    starting_flow: FloatArray


def crown_load(draws: Conditions, gas: GasSide) -> Load:
    """Return the pressure that the crown must carry: mean peak with its cyclic variation, less the air's beneath."""
    below, variation = draws["ambient_pressure"], draws["pressure_variation"]
    starting = gas.full_charge_pressure * (1 + START_PEAKS_OVER_MEAN * variation) - below
    running = gas.peak_pressure * (1 + PEAKS_OVER_MEAN * variation) - below
    return Load(running, starting, starting / draws["start_rate_gain"])


def carried_temperature(heat: CrownHeat, few: slice | NDArray[np.intp], looks: slice = slice(None)) -> FloatArray:
    """Return some draws' crown temperature, at some looks, with what has burned away as hot as carries nothing."""
    own = heat.temperature[looks][..., few]
    return np.where(np.isnan(own) & (heat.recession[looks][:, few] > 0)[:, None], _CARRIES_NOTHING, own)


def first_reached(heat: CrownHeat, excess: FloatArray) -> FloatArray:
    """Return when `excess` (n_time, n_draw) first is 0 or more, inf where it is not within what was followed."""
    return first_crossing(heat.times, np.where(heat.times[:, None] > heat.followed, -np.inf, excess))


def crown_plate(draws: Conditions) -> Plate:
    """Return the crown as a plate: free within the skirt's wall, held by the ring belt."""
    return Plate(draws["bore"] / 2 - draws["skirt_wall"], draws["plate_edge_factor"])


def collapse(
    draws: Conditions,
    stack: CrownStack,
    heat: CrownHeat,
    load: Load,
    lost: FloatArray | float,
    carried_until: ArrayLike = -np.inf,
) -> FloatArray:
    """Return when the limit pressure of the plate falls to the load, at the start or running.

    `lost` (n_draw,) [m] is the depth that carries nothing from the start. What has been found to carry its load
    `carried_until` [s] (n_draw,) is not asked up to there again.
    """
    # a hair more than is gone, so that no cell of a crown that is used up is left over by rounding
    plate, gone = crown_plate(draws), heat.recession * (1 + 1e-9) + lost
    layer, bonded = stack.cell_layer(heat.depth), len(stack.layers) == 1
    curves = list(stack.curves)
    carried = np.broadcast_to(carried_until, draws.n_draw)

    def against(pressure: FloatArray, carried: FloatArray, levels: slice) -> FloatArray:
        section = Section(layer=layer, recession=gone[levels], bonded=bonded)
        times, field = heat.times[levels], heat.temperature[levels]
        return crown_collapse_time(
            times, heat.depth, field, curves, plate, pressure, section, heat.followed, carried_until=carried
        )

    lasts, starting = draws["start_lasts"], np.full(draws.n_draw, np.inf)
    open_still = carried < lasts
    if np.any(open_still):
        opening = slice(0, int(np.searchsorted(heat.times, np.max(lasts))) + 1)
        starting = against(load.starting_flow, np.where(open_still, carried, np.inf), opening)
    ended = starting < lasts
    return np.where(ended, starting, against(load.running, np.where(ended, np.inf, carried), slice(None)))


def cracking(draws: Conditions, polymer: Polymer, stack: CrownStack, load: Load) -> FloatArray:
    """Return 0 where a brittle crown cracks on the first full charges, else inf.

    What happens as it warms is `cracking_when_hot`. Under a metal cap it is the metal that bends.
    """
    if not polymer.brittle or stack.groove_in_metal:
        return np.full(draws.n_draw, np.inf)
    stress = edge_stress(load.starting, crown_plate(draws).radius, draws["crown_thickness"])
    return np.where(stress > polymer.cold_strength, 0.0, np.inf)


def cracking_when_hot(
    case: Case, draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, load: Load, until: FloatArray
) -> FloatArray:
    """Return when a brittle crown cracks because its soft face leaves the bending to the cold depth, (n_draw,) [s].

    Each draw is looked at up to `until` (n_draw,) [s], where something else has ended it; inf for what does not crack by
    then, and where no modulus against temperature is known. Near its transition the polymer yields instead.
    """
    found, curve = np.full(draws.n_draw, np.inf), stiffness_curve(polymer)
    if not polymer.brittle or curve is None or stack.groove_in_metal:
        return found
    still = np.flatnonzero(until > 0)
    for start in range(0, heat.times.size - 2, _CRACK_LOOKS * _CRACK_STRIDE):
        looks = slice(start, start + _CRACK_LOOKS * _CRACK_STRIDE + 1, _CRACK_STRIDE)
        if still.size == 0:
            break
        limit = _cracking_pressure(case, draws.taken(still), polymer.taken(still), heat, looks, still)
        times, known = heat.times[looks], np.where(heat.followed < heat.times[-1], heat.followed, np.inf)[still]
        excess = np.where(times[:, None] >= known, -_NEVER_CRACKS, load.running[still] - limit)
        found[still] = first_crossing(times, excess)
        still = still[np.isinf(found[still]) & (until[still] > times[-1])]
    return found


def _cracking_pressure(
    case: Case, draws: Conditions, polymer: Polymer, heat: CrownHeat, looks: slice, few: NDArray[np.intp]
) -> FloatArray:
    """Return the pressure that cracks some draws' crowns at some moments, (n_look, n_few) [Pa]."""
    curve = stiffness_curve(polymer)
    assert curve is not None
    hot = carried_temperature(heat, few, looks)
    depth = heat.depth if heat.depth.ndim == 1 else heat.depth[:, few]
    breaks = hot < polymer["glass_transition"] - draws["brittle_below_transition"]
    strong = np.where(breaks, polymer.strength.at(hot), _NEVER_CRACKS)
    stiff = stiffness_through(case, curve, depth, hot)
    return np.minimum(brittle_limit_pressure(depth, stiff, strong, crown_plate(draws).radius), _NEVER_CRACKS)


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
    gasified = polymer["density"] * draws["solid_share"] * area * (1 - polymer.char_yield)
    outweighs = heat.time_to_recede_at(draws["pyrolysis_share_limit"] * gas.fuel_flow / gasified)
    used_up = heat.recession - 0.98 * draws["crown_thickness"]
    return np.minimum(outweighs, first_reached(heat, used_up))


def letting_go(draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat) -> FloatArray:
    """Return when the polymer beneath a cap or coating begins to decompose, and lets go of what lies on it.

    The gas has nowhere to go but between the two; how long a cap would stay on is not known, so none is credited.
    Under a metal that its rings cool it begins at the centre, which is hotter than the mean.
    """
    onset, excess = polymer["decomposition_onset"], stack.centre_excess
    mean_then = (onset + excess * draws["liner"]) / (1 + excess)
    above = sum(np.asarray(layer.thickness, dtype=float) for layer in stack.layers[:-1])
    # a hair beneath the joint: at the joint itself there are two temperatures
    return heat.time_to_reach(mean_then, above * (1 + 1e-6))


def surface_ignition(draws: Conditions, polymer: Polymer, heat: CrownHeat, swing: FloatArray) -> FloatArray:
    """Return when retained char glows hot enough to light the charge; bare polymer is gone before."""
    holds = polymer.char_yield * draws["char_retained"]
    surface = np.where(heat.recession > 0, np.nan_to_num(heat.surface_temperature), heat.surface_temperature)
    glowing = surface + swing - draws["hot_spot_ignition"]  # a crown that is used up glows no more
    return np.where(holds > 0.05, first_reached(heat, glowing), np.inf)


def pin_boss(
    draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, skirt: FloatArray, load: Load
) -> FloatArray:
    """Return when the bosses yield under the pin.

    They are taken as warm as the crown's underside, an upper bound; beneath a metal crown that stands on the skirt's end
    they are as warm as the `skirt` (n_time, n_draw) [K].
    """
    used_up = np.isnan(heat.back_temperature) & (heat.recession > 0)
    beneath = np.where(used_up, _CARRIES_NOTHING, heat.back_temperature)
    limit = pin_boss_limit(
        polymer.strength.at(skirt if stack.on_skirt else beneath),
        draws["bore"],
        draws["pin_diameter"],
        draws["pin_boss_length"] / 2,
        draws["bearing_factor"],
    )
    return _outgrown(heat, limit, load)


def seat(draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, load: Load) -> FloatArray:
    """Return when the end of the skirt's wall yields under a metal crown that stands on it.

    It carries the whole pressure on the crown and is as warm as the metal's rim, which is colder than its mean by as much
    as the centre is hotter.
    """
    wall = draws["skirt_wall"]
    radius = draws["bore"] / 2
    share = 1 - (1 - wall / radius) ** 2
    rim = heat.back_temperature - stack.centre_excess * np.maximum(heat.back_temperature - draws["liner"], 0)
    return _outgrown(heat, polymer.strength.at(rim) * draws["bearing_factor"] * share, load)


def _outgrown(heat: CrownHeat, limit: FloatArray, load: Load) -> FloatArray:
    """Return when the running load outgrows a limit pressure (n_time, n_draw) [Pa]."""
    return np.where(limit[0] <= load.running, 0.0, first_reached(heat, load.running - limit))


def softened_depth(polymer: Polymer, stack: CrownStack, heat: CrownHeat, hot: FloatArray, few: slice) -> FloatArray:
    """Return how deep the polymer has softened or burned away in some draws, (n_time, n_few) [m]; `hot` is
    their `carried_temperature`."""
    own = stack.cell_layer(heat.depth) == len(stack.layers) - 1
    depth = heat.depth if heat.depth.ndim == 1 else heat.depth[:, few]
    width = np.diff(depth, axis=0)[own].reshape(int(own.sum()), -1)
    middle = (hot[:, :-1] + hot[:, 1:])[:, own] / 2
    return np.sum(np.where(middle > polymer.softening[few], width, 0.0), axis=1)
