"""One material, one part of the draws: heat the crown and ask each mechanism for its time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.contact.during_run import ContactDraws
from screening.judgement.contact.pair import attack_in_run
from screening.judgement.cylinder.gas_side import COLD_CROWN, GasSide, crown_swing
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston import ends
from screening.judgement.piston.collapse import limit_pressure_history, time_of_collapse, time_of_collapse_at_start
from screening.judgement.piston.cracking import time_of_cold_cracking, time_of_hot_cracking
from screening.judgement.piston.decomposition import time_of_burning_through, time_of_flooding, time_of_letting_go
from screening.judgement.piston.following import FollowedRun
from screening.judgement.piston.heating import SHOWN, heated
from screening.judgement.piston.hot_crown import carried_temperature, softened_depth
from screening.judgement.piston.ignition import time_of_surface_ignition
from screening.judgement.piston.load import Load, Start, StartOutcome, crown_load
from screening.judgement.piston.pin_boss_and_seat import time_of_pin_boss_yielding, time_of_seat_yielding
from screening.judgement.piston.ring_land import time_of_ring_sinking
from screening.judgement.piston.seizure import skirt_temperature
from screening.judgement.piston.stack import CrownStack, crown_stack, metal_piston_stack
from screening.physics.crown.crown_heat import CrownHeat
from screening.records.materials.materials import Material


@dataclass(frozen=True)
class PartRun:
    """What one part of the draws gives: times by mechanism (n_draw,) [s], the heat, and the fit.

    `centre` (n_time, n_draw) [K] is the face's centre where the crown is metal and its rings cool it at the rim.
    `limit` (n_time, SHOWN) [Pa] and `softened_depth` (n_time, SHOWN) [m] are of the first draws, and only of the first
    part: they are only shown.
    """

    times: Mapping[str, FloatArray]
    heat: CrownHeat
    limit: FloatArray | None
    load: Load
    softened_depth: FloatArray
    softening: FloatArray
    swing: FloatArray
    start: StartOutcome
    centre: FloatArray | None = None


def run_polymer(
    case: Case,
    draws: Conditions,
    gas: GasSide,
    polymer: Polymer,
    contact: ContactDraws | None,
    first: bool = True,
) -> PartRun:
    """Return the times of every mechanism but the skirt's seizing, which waits for its size, for a piston of one polymer.

    A draw is followed until something has ended its run; the first SHOWN of the `first` part, which stand for all where
    heat is shown, to the horizon.

    Parameters
    ----------
    case, draws, gas, polymer, contact : the case, and what was drawn of it; `contact` None where nothing is said of it
    first : whether these are the draws that are shown
    """
    shown = SHOWN if first else 0
    stack, load = crown_stack(case, draws, gas, polymer), crown_load(case, draws, gas)
    # what the crown's heat does not decide
    cracks_cold = time_of_cold_cracking(draws, polymer, stack, load.stages[0].pressure)
    # the crown's heat, for as long as nothing has ended the run
    run = FollowedRun(draws, stack, load, cracks_cold, shown)
    heat = heated(case, draws, stack, run.follow)
    # what the fuel takes, and what is left to carry the load
    attack = attack_in_run(case, draws, gas, polymer, heat, contact)
    collapses = run.collapse(heat, attack.lost_depth)
    # cracking is dear: each draw is looked at only until something else has ended it
    until = np.where(cracks_cold > 0, collapses, 0.0)
    until[:shown] = np.inf
    cracks_hot = time_of_hot_cracking(case, draws, polymer, stack, heat, load, until)
    swing = crown_swing(draws, gas, stack.layers[0], polymer["glass_transition"])
    skirt = skirt_temperature(draws, polymer, heat.times) if stack.on_skirt else heat.back_temperature
    times = {
        ends.COLLAPSE: collapses,
        ends.CRACKING: np.fmin(cracks_cold, cracks_hot),
        ends.RING_LAND: time_of_ring_sinking(draws, polymer, stack, heat),
        ends.PIN_BOSS: time_of_pin_boss_yielding(draws, polymer, stack, heat, skirt, load),
        ends.FUEL_ATTACK: attack.time,
        **_decomposition(draws, gas, polymer, stack, heat, swing),
    }
    if stack.on_skirt:
        times[ends.SEAT] = time_of_seat_yielding(draws, polymer, stack, heat, load)
    few = slice(0, shown)
    hot = carried_temperature(heat, few)
    limit = limit_pressure_history(draws, stack, heat, hot, attack.lost_depth, few) if first else None
    softened = softened_depth(polymer, stack, heat, hot, few)
    start = StartOutcome(load.start_lasts, _held_start_breaks(draws, polymer, stack, heat, load, attack.lost_depth))
    return PartRun(times, heat, limit, load, softened, polymer.softening, swing, start)


def _held_start_breaks(
    draws: Conditions, polymer: Polymer, stack: CrownStack, heat: CrownHeat, load: Load, lost: FloatArray
) -> NDArray[np.bool_]:
    """Return whether a start with the throttle held nearly shut breaks the crown, (n_draw,): cracks it cold or collapses it.

    The run's own load counts in that time too, as it does in the start of the case.
    """
    held, run = load.held, Start(load.running, load.running, load.held.lasts)
    cracks = time_of_cold_cracking(draws, polymer, stack, held.pressure) <= 0
    collapses = (time_of_collapse_at_start(draws, stack, heat, each, lost) < held.lasts for each in (held, run))
    return np.asarray(cracks | np.any(list(collapses), axis=0))


def _decomposition(
    draws: Conditions, gas: GasSide, polymer: Polymer, stack: CrownStack, heat: CrownHeat, swing: FloatArray
) -> dict[str, FloatArray]:
    """Return the times of what follows from decomposition: a bare crown burns away and glows, one beneath a layer lets go."""
    if stack.decomposition is None:
        return {ends.DECOMPOSITION: time_of_letting_go(draws, polymer, stack, heat)}
    return {
        ends.FLOODING: time_of_flooding(draws, gas, polymer, heat),
        ends.BURNED_THROUGH: time_of_burning_through(draws, heat),
        ends.IGNITION: time_of_surface_ignition(draws, polymer, heat, swing),
    }


def run_metal(case: Case, draws: Conditions, gas: GasSide, metal: Material) -> PartRun:
    """Return the run of the metal piston that serves as the baseline: its crown alone.

    Its skirt is left out: the maker has chosen its clearance for this engine.
    """
    stack, load = metal_piston_stack(case, draws, gas, metal), crown_load(case, draws, gas)
    heat = heated(case, draws, stack)
    none, few = np.zeros(draws.n_draw), slice(0, SHOWN)
    return PartRun(
        times={ends.COLLAPSE: time_of_collapse(draws, stack, heat, load, 0.0)},
        heat=heat,
        limit=limit_pressure_history(draws, stack, heat, carried_temperature(heat, few), none, few),
        load=load,
        softened_depth=none + np.zeros((heat.times.size, 1)),
        softening=none,
        swing=crown_swing(draws, gas, stack.layers[0], none + COLD_CROWN),
        start=StartOutcome(load.start_lasts, np.zeros(draws.n_draw, dtype=bool)),
        centre=heat.surface_temperature + stack.centre_excess * (heat.surface_temperature - draws["liner"]),
    )
