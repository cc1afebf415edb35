"""One material, one part of the draws: heat the crown and ask each mechanism for its time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.contact.during_run import ContactDraws
from screening.judgement.contact.pair import attack_in_run
from screening.judgement.cylinder.gas_side import COLD_CROWN, GasSide, crown_swing
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston import mechanisms as m
from screening.judgement.piston.fitting import Fit, fit_of_polymer
from screening.judgement.piston.stack import CrownStack, crown_stack, metal_piston_stack
from screening.physics.crown.conduction import Follow, heat_crown
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.strength.plate import Section, limit_pressure
from screening.physics.strength.strength import StrengthCurve
from screening.records.materials.materials import Material

FloatArray = np.ndarray

HORIZON = 3600.0
"""A run is followed at least this long [s] (the project's own choice)."""
SHOWN = 50
"""Draws that are followed to the horizon and kept for the charts and the time of each mechanism by itself."""
WINDOW = 1.7
"""A crown that burns is followed on to so many times what is known of it, again and again until something has ended it."""
CELLS, STEPS = 48, 32
"""Grid of the crown. Against 160 cells, 144 steps and four times the looks lives move by 0.13 % (median), 1.3 % (95th) and
3.9 % (99th percentile); by 0.9 % and 2.6 % without lives under 0.3 s and those at which the start's load goes. The looks
are the larger part of it: with as many cells and steps as that, 1 % and 1.7 %."""


def horizon_of(case: Case) -> float:
    """Return how long a run is followed [s]."""
    return max(HORIZON, case.operation.target_run)


def output_times(horizon: float) -> FloatArray:
    """Return the times [s] at which the crown is looked at: geometric, to the horizon."""
    return np.concatenate([[0.0], np.geomspace(0.05, horizon, 72)])


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
    load: m.Load
    softened_depth: FloatArray
    softening: FloatArray
    swing: FloatArray
    fit: Fit | None
    centre: FloatArray | None = None


def run_polymer(
    case: Case,
    draws: Conditions,
    gas: GasSide,
    polymer: Polymer,
    contact: ContactDraws | None,
    drawn_size: float,
    first: bool = True,
) -> PartRun:
    """Return the times of every mechanism for a piston of one polymer.

    A draw is followed until something has ended its run; the first SHOWN of the `first` part, which stand for all where
    heat is shown, to the horizon. `drawn_size` [m] is the skirt's diameter as drawn.
    """
    stack = crown_stack(case, draws, gas, polymer)
    load = m.crown_load(draws, gas)
    fit = fit_of_polymer(case, draws, polymer, output_times(horizon_of(case)), drawn_size)
    cracks = m.cracking(draws, polymer, stack, load)
    falls, carried = np.full(draws.n_draw, np.inf), np.full(draws.n_draw, -np.inf)

    def follow(heat: CrownHeat) -> FloatArray:
        falls[:] = np.minimum(falls, m.collapse(draws, stack, heat, load, 0.0, carried))
        wanted = _wanted(heat, np.fmin(np.fmin(falls, cracks), fit.seizes_at), SHOWN if first else 0)
        carried[:] = np.where((wanted > heat.followed) & np.isinf(falls), heat.followed, np.inf)
        return wanted

    heat = _heated(case, draws, stack, follow)
    attack = attack_in_run(case, draws, gas, polymer, heat, contact)
    carried[attack.lost_depth > 0] = -np.inf
    falls = np.minimum(falls, m.collapse(draws, stack, heat, load, attack.lost_depth, carried))
    until = np.where(cracks > 0, np.fmin(falls, fit.seizes_at), 0.0)
    until[: SHOWN if first else 0] = np.inf
    cracks = np.fmin(cracks, m.cracking_when_hot(case, draws, polymer, stack, heat, load, until))
    times = {
        m.COLLAPSE: falls,
        m.BRITTLE: cracks,
        m.RING_LAND: m.ring_land(draws, polymer, stack, heat),
        m.SEIZURE: fit.seizes_at,
        m.PIN_BOSS: m.pin_boss(draws, polymer, stack, heat, fit.skirt_temperature, load),
        m.FUEL_ATTACK: attack.time,
    }
    swing = crown_swing(draws, gas, stack.layers[0], polymer["glass_transition"])
    if stack.decomposition is not None:
        times[m.DECOMPOSITION] = m.decomposition(draws, gas, polymer, heat)
        times[m.IGNITION] = m.surface_ignition(draws, polymer, heat, swing)
    else:
        times[m.DECOMPOSITION] = m.letting_go(draws, polymer, stack, heat)
    if stack.on_skirt:
        times[m.SEAT] = m.seat(draws, polymer, stack, heat, load)
    few = slice(0, SHOWN if first else 0)
    hot = m.carried_temperature(heat, few)
    softened = m.softened_depth(polymer, stack, heat, hot, few)
    limit = _limit(draws, stack, heat, hot, attack.lost_depth, few) if first else None
    return PartRun(times, heat, limit, load, softened, polymer.softening, swing, fit)


def _wanted(heat: CrownHeat, ended: FloatArray, shown: int) -> FloatArray:
    """Return up to when each draw is to be followed (n_draw,) [s]: what is still open, on by WINDOW."""
    wanted = np.where(ended <= heat.followed, 0.0, WINDOW * np.maximum(heat.followed, heat.times[1]))
    wanted[:shown] = heat.times[-1]
    return wanted


def run_metal(case: Case, draws: Conditions, gas: GasSide, metal: Material) -> PartRun:
    """Return the crown of the metal piston that serves as the baseline.

    Its skirt is left out: the maker has chosen its clearance for this engine.
    """
    stack = metal_piston_stack(case, draws, gas, metal)
    heat = _heated(case, draws, stack)
    load = m.crown_load(draws, gas)
    none, few = np.zeros(draws.n_draw), slice(0, SHOWN)
    swing = crown_swing(draws, gas, stack.layers[0], none + COLD_CROWN)
    times = {m.COLLAPSE: m.collapse(draws, stack, heat, load, 0.0)}
    return PartRun(
        times,
        heat,
        _limit(draws, stack, heat, m.carried_temperature(heat, few), none, few),
        load,
        none + np.zeros((heat.times.size, 1)),
        none,
        swing,
        None,
        heat.surface_temperature + stack.centre_excess * (heat.surface_temperature - draws["liner"]),
    )


def _heated(case: Case, draws: Conditions, stack: CrownStack, follow: Follow | None = None) -> CrownHeat:
    return heat_crown(
        stack.layers,
        stack.film,
        stack.back,
        draws["ambient"],
        output_times(horizon_of(case)),
        stack.decomposition,
        cells=CELLS,
        steps=STEPS,
        follow=follow,
    )


def _limit(
    draws: Conditions, stack: CrownStack, heat: CrownHeat, hot: FloatArray, lost: FloatArray, few: slice
) -> FloatArray:
    """Return the limit pressure's history of a few draws at their `hot` temperatures, (n_time, n_few) [Pa]."""
    depth = heat.depth if heat.depth.ndim == 1 else heat.depth[:, few]
    curves = [StrengthCurve(curve.temperature[..., few], curve.strength[..., few]) for curve in stack.curves]
    plate = m.crown_plate(draws.taken(few))
    section = Section(
        layer=stack.cell_layer(heat.depth),
        recession=heat.recession[:, few] + lost[few],
        bonded=len(stack.layers) == 1,
    )
    return limit_pressure(depth, hot, curves, plate.radius, plate.edge_factor, section=section)
