"""What the fuel does to a crown during a run: the wet start, the hot vapour, the oil beneath, draw by draw."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.contact.evidence import own_soaks, published
from screening.judgement.contact.exposures import OIL
from screening.judgement.contact.learning import learned_errors
from screening.judgement.contact.liquids import WettingLiquid, wetting_liquids
from screening.judgement.contact.nature import PolymerNature
from screening.judgement.contact.outcome_words import LINES
from screening.judgement.contact.prediction import ChiError, chi_error, interaction, swelling
from screening.judgement.draws.sampling import drawn, drawn_assumption, stratified
from screening.physics.contact.diffusion import diffusion_at, front_depth, penetration_depth
from screening.physics.contact.vapour import mean_and_peak_activity
from screening.physics.curves.first_crossing import first_crossing
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.records.tables.assumptions import load_assumptions

ATTACK_SHARE = 0.1
"""Share of the crown's thickness that the fuel must have softened to end a run (the project's own choice)."""
_OWN_DROP = 5.0
"""The fuel must lower the transition by this much [K] before the softening is called its doing."""
_MOMENTS = 12
_ANGLES = 24


@dataclass(frozen=True)
class RunExposure:
    """What the crown meets in a run; arrays (n_draw,) unless said otherwise, SI.

    `times` (n_time,) with `surface_temperature` and `back_temperature` (n_time, n_draw); `vapour_pressure`
    (n_angle, n_draw) partial pressure of the unburned fuel over the cycle, equal crank steps; `blow_by_pressure` that
    of the fuel in the gas that passes the rings into the crankcase.
    """

    wet_start_time: FloatArray
    ambient: FloatArray
    times: FloatArray
    surface_temperature: FloatArray
    back_temperature: FloatArray
    vapour_pressure: FloatArray
    blow_by_pressure: FloatArray
    crown_thickness: FloatArray
    horizon: float


@dataclass(frozen=True)
class AttackInRun:
    """The fuel's share in ending a run, (n_draw,): depth lost in the wet start [m], transition of the wet skin [K],
    uptake from the hot vapour at the end of the run [1], time [s] at which attack ends it (inf: never)."""

    lost_depth: FloatArray
    softened_transition: FloatArray
    running_uptake: FloatArray
    time: FloatArray


@dataclass(frozen=True)
class ContactDraws:
    """What is not known of a polymer and its fuel, (n_draw,) each; drawn once for all parts of a run."""

    place: NDArray[np.intp]
    error: FloatArray
    links: FloatArray
    share: FloatArray
    diffusion: FloatArray
    activation: FloatArray
    skin: FloatArray
    front: FloatArray
    in_oil: FloatArray

    def taken(self, part: slice | NDArray[np.intp]) -> ContactDraws:
        """Return one part of the draws."""
        return ContactDraws(**{field.name: getattr(self, field.name)[part] for field in fields(self)})


def attack_over_draws(
    nature: PolymerNature | None, fuel: Fuel, run: RunExposure, draws: ContactDraws | None
) -> AttackInRun:
    """Return the attack of a fuel on a crown of one material, all draws at once.

    A metal, or a pair of which nothing is known, loses nothing: `assess_contact` says "unknown" beside it.
    """
    n_draw = run.ambient.size
    liquids = wetting_liquids(fuel)
    if nature is None or draws is None or not liquids:
        unknown = np.full(n_draw, np.nan if nature is not None else 0.0)
        return AttackInRun(np.zeros(n_draw), np.full(n_draw, np.nan), unknown, np.full(n_draw, np.inf))
    lost, transition = _wet_start(nature, liquids, run, draws)
    uptake, time = _hot_run(nature, liquids[0], fuel, run, draws)
    return AttackInRun(lost, transition, uptake, np.where(lost >= ATTACK_SHARE * run.crown_thickness, 0.0, time))


def run_error(nature: PolymerNature, fuel: Fuel, case: Case | None) -> ChiError:
    """Error of ln chi learned from soak tests and published contacts, for a run on this fuel."""
    liquids = wetting_liquids(fuel)[:1]
    if not liquids:
        return chi_error()
    learned = learned_errors(nature, (*own_soaks(nature, case), *published(nature)), liquids)
    return ChiError(float(np.squeeze(learned.mean)), float(np.squeeze(learned.spread)))


def draw_contact(
    nature: PolymerNature | None, fuel: Fuel, case: Case | None, n_draw: int, seed: int
) -> ContactDraws | None:
    """Return the draws of one polymer's contact with a fuel, or None for a metal or where too little is known."""
    if nature is None or not nature.places or not np.isfinite(nature.diffusion).all():
        return None
    error = run_error(nature, fuel, case)
    assumed = load_assumptions()

    def own(name: str, low: float, typical: float, high: float, kind: str) -> FloatArray:
        return drawn(f"{nature.id}.{name}", low, typical, high, kind, n_draw, seed)

    def assumption(name: str) -> FloatArray:
        return drawn_assumption(replace(assumed[name], name=f"{nature.id}.{name}"), n_draw, seed)

    trust = np.cumsum([place.weight for place in nature.places])
    place = np.searchsorted(trust / trust[-1], stratified(f"{nature.id}.place", n_draw, seed))
    mean, reach = float(error.mean), 1.645 * float(error.spread)
    ends = mean - reach, mean, mean + reach
    links = own("links", *nature.links, "lognormal") if nature.links[0] > 0 else np.zeros(n_draw)
    crystals = np.clip(own("crystallinity_in_contact", *nature.crystallinity, "normal"), 0.0, 0.95)
    diffusion = 10.0 ** own("diffusion_liquid", *nature.diffusion, "normal")
    return ContactDraws(
        place=np.minimum(place, len(nature.places) - 1),
        error=np.exp(own("chi_error", *ends, "normal")),
        links=links,
        share=(1 - crystals) * (1 - nature.filler),
        diffusion=diffusion,
        activation=own("diffusion_activation", *nature.activation, "lognormal"),
        skin=assumption("skin_uptake_share"),
        front=assumption("front_velocity"),
        in_oil=assumption("fuel_in_oil"),
    )


def _chi(nature: PolymerNature, liquid: WettingLiquid, temperature: FloatArray, draws: ContactDraws) -> FloatArray:
    """Return chi of the drawn place, (..., n_draw)."""
    chi, _ = interaction(nature, liquid, temperature)
    index = np.broadcast_to(draws.place, temperature.shape)[None]
    picked: FloatArray = np.take_along_axis(chi, index, axis=0)[0] * draws.error
    return picked


def _wet_start(
    nature: PolymerNature, liquids: tuple[WettingLiquid, ...], run: RunExposure, draws: ContactDraws
) -> tuple[FloatArray, FloatArray]:
    """Return the depth that carries nothing after the wet start, and the lowest transition of the wet skin."""
    swell = np.zeros(run.ambient.size)
    transition = np.full(run.ambient.size, np.inf)
    for liquid in liquids:
        chi = _chi(nature, liquid, run.ambient, draws)
        grown, _, softened = swelling(
            nature, liquid, chi, liquid.activity * draws.skin, run.ambient, draws.links, draws.share
        )
        swell, transition = np.maximum(swell, grown), np.fmin(transition, softened)
    reached = penetration_depth(
        np.minimum(diffusion_at(draws.diffusion, draws.activation, run.ambient), _fastest()), run.wet_start_time
    )
    dissolves = np.isinf(swell)
    reached = np.where(dissolves, np.maximum(reached, front_depth(draws.front, run.wet_start_time)), reached)
    weak = dissolves | (swell >= LINES[2])
    if nature.kind == "glassy":
        weak &= dissolves | (transition < run.ambient)
    return np.where(weak, np.minimum(reached, run.crown_thickness), 0.0), transition


def _hot_run(
    nature: PolymerNature, liquid: WettingLiquid, fuel: Fuel, run: RunExposure, draws: ContactDraws
) -> tuple[FloatArray, FloatArray]:
    """Return the uptake from vapour at the end of the run, and when vapour and oil have softened their share."""
    n_time = run.times.size
    chosen = np.unique(np.linspace(0, n_time - 1, _MOMENTS).astype(int))
    times = run.times[chosen]
    front = np.where(np.isfinite(run.surface_temperature), run.surface_temperature, 2000.0)[chosen]
    back = np.where(np.isfinite(run.back_temperature), run.back_temperature, 2000.0)[chosen]
    trace = run.vapour_pressure[:: max(1, run.vapour_pressure.shape[0] // _ANGLES)]
    saturation = fuel.vapour_pressure(front)
    if not np.isfinite(saturation).all():
        nothing = np.full(run.ambient.size, np.nan)
        return nothing, np.full(run.ambient.size, np.inf)
    mean, _ = mean_and_peak_activity(trace[:, None, :], saturation)
    uptake, top = _softened_depth(nature, liquid, mean, front, times, draws)
    oil_volume = find_fuel(OIL).molar_volume or np.nan
    oil = draws.in_oil / (draws.in_oil + (1 - draws.in_oil) * liquid.molar_volume / oil_volume)
    oil = np.minimum(oil * (load_assumptions()["alcohol_in_oil"].typical if liquid.associated else 1.0), 1.0)
    # hot oil gives a volatile fuel back to the blow-by gas
    below_activity = np.minimum(oil, run.blow_by_pressure / fuel.vapour_pressure(back))
    _, below = _softened_depth(nature, liquid, below_activity, back, times, draws)
    excess = top + below - ATTACK_SHARE * run.crown_thickness
    return uptake[-1], first_crossing(times, excess)


def _fastest() -> float:
    return load_assumptions()["fastest_diffusion"].typical


def _softened_depth(
    nature: PolymerNature,
    liquid: WettingLiquid,
    activity: FloatArray,
    temperature: FloatArray,
    times: FloatArray,
    draws: ContactDraws,
) -> tuple[FloatArray, FloatArray]:
    """Return uptake and depth softened by the fuel and not by the heat alone, (n_time, n_draw)."""
    chi = _chi(nature, liquid, temperature, draws)
    swell, uptake, transition = swelling(
        nature, liquid, chi, np.maximum(activity, 1e-12), temperature, draws.links, draws.share
    )
    coefficient = np.minimum(diffusion_at(draws.diffusion, draws.activation, temperature), _fastest())
    steps = np.diff(times)[:, None] * (coefficient[1:] + coefficient[:-1]) / 2
    reached = np.sqrt(np.concatenate([np.zeros((1, temperature.shape[1])), np.cumsum(steps, axis=0)]))
    if nature.kind == "glassy":
        dry = nature.transition
        weak = (temperature > transition) & (temperature < dry) & (transition < dry - _OWN_DROP)
    else:
        weak = swell >= LINES[2]
    return uptake, np.where(weak, reached, 0.0)
