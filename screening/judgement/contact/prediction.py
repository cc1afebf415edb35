"""What a liquid does to a material by theory: the spread of interaction parameters, and the swelling each one gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.contact.liquids import LiquidArrays, WettingLiquid, side_by_side
from screening.judgement.contact.nature import Place, PolymerNature
from screening.judgement.contact.outcome_words import (
    DISSOLVES,
    FALLS_APART,
    LINES,
    STRESS_CRACKS,
    SWELLS,
    SWELLS_STRONGLY,
    WORDS,
    swell_level,
)
from screening.physics.contact.crystals import melting_point_in_liquid
from screening.physics.contact.diffusion import diffusion_at, slab_filled_share
from screening.physics.contact.flory import interaction_of_uptake, network_uptake, volume_swell
from screening.physics.contact.hansen_distance import distance_ratio, hansen_distance_squared
from screening.physics.contact.interaction import (
    CRITICAL,
    SLOPE,
    interaction_from_sphere,
    interaction_of_untested_size,
    interaction_without_radius,
    regular_solution_term,
    unlike_pair_term,
    volume_like_test_liquids,
)
from screening.physics.contact.softened_transition import fox_transition
from screening.records.tables.assumptions import load_assumptions

CAUTIOUS = 0.7
"""The word shown is passed by no more than 0.3 of the spread, because a miss costs more than a false alarm. It was 0.6
before the leave-one-out test was first scored, and was raised to bring dangerous misses under 2 % (see the test)."""
SOAK_TIME, SOAK_THICKNESS = 1000 * 3600.0, 3e-3
"""How long [s] a part of which thickness [m] soaks: six weeks as in fuel immersion tests, a printed offcut (the
project's own choice). It matters only for what stays a glass: the rest is at equilibrium by then."""
NODES = np.linspace(-2.2, 2.2, 9)
"""Nodes of the error of chi, in its standard deviations."""
_THREE_POINT = (0.185, 0.63, 0.185)
"""Weights of a 5th, 50th and 95th percentile (Keefer & Bodily 1983, from memory)."""


@dataclass(frozen=True, eq=False)
class ChiError:
    """Error of ln chi for one polymer: its mean and standard deviation, of one liquid or (n_liquid,) of several."""

    mean: float | FloatArray
    spread: float | FloatArray


def chi_error() -> ChiError:
    """Return the error of a prediction that nothing has been learned about, from the table of assumptions."""
    a = load_assumptions()["chi_error"]
    return ChiError(float(np.log(a.typical)), float(np.log(a.high / a.low)) / (2 * 1.645))


@dataclass(frozen=True)
class Spread:
    """Outcomes over the spread; arrays (n_node,): swell and uptake [1], severity, RED, weight (total 1), Tg [K]."""

    swell: FloatArray
    uptake: FloatArray
    severity: FloatArray
    ratio: FloatArray
    transition: FloatArray
    weight: FloatArray

    def quantile(self, values: FloatArray, share: float) -> float:
        """Return the weighted quantile of one of the arrays."""
        order = np.argsort(values)
        passed = np.cumsum(self.weight[order])
        place = min(int(np.searchsorted(passed, share - 1e-12)), values.size - 1)
        return float(values[order][place])

    @property
    def word(self) -> str:
        """The outcome word at the cautious quantile."""
        return WORDS[int(self.quantile(self.severity, CAUTIOUS))]

    @property
    def agreement(self) -> float:
        """Share of the spread on the same side, safe or attacked, as the word."""
        attacked = self.severity >= SWELLS
        same = attacked if WORDS.index(self.word) >= SWELLS else ~attacked
        return float(self.weight[same].sum())


def interaction(
    nature: PolymerNature, liquid: WettingLiquid | LiquidArrays, temperature: float | FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return chi and RED of a material's published places with a liquid or several; RED NaN without radius.

    Both are (n_place, ...), the rest as one liquid at temperatures (n_draw,), or liquids (n_liquid,), broadcast.

    An alcohol keeps its bonds to itself, so that the whole regular-solution term counts against it; with a polyamide it
    bonds instead, and distance in Hansen space says nothing.
    """
    kelvin = np.asarray(temperature, dtype=float)
    volume, associated = np.asarray(liquid.molar_volume), np.asarray(liquid.associated)
    n_place, n_dim = len(nature.places), max(kelvin.ndim, volume.ndim)
    place_first = (n_place, *(1,) * n_dim)
    liquids_last = (n_place, *(1,) * (n_dim - volume.ndim), *volume.shape)
    centre = np.array([place.centre for place in nature.places]).reshape(n_place, *(1,) * volume.ndim, 3)
    radius = np.array([place.radius for place in nature.places]).reshape(place_first)
    distance = hansen_distance_squared(liquid.hansen, centre).reshape(liquids_last)
    tested = volume_like_test_liquids(volume)
    term = regular_solution_term(distance, tested, kelvin)
    slope = np.where(associated, 1.0, SLOPE)
    ratio = distance_ratio(distance, radius)
    dissolves = np.array([place.edge == "dissolution" for place in nature.places]).reshape(place_first)
    edge = np.where(dissolves, CRITICAL, _attack_edge(nature.places, tested.reshape(liquids_last[1:])))
    chi = np.where(
        np.isnan(radius),
        interaction_without_radius(term, slope),
        interaction_from_sphere(ratio, term, edge, slope),
    ) + interaction_of_untested_size(distance, volume, kelvin, slope)
    if nature.deviation > 0:
        polymer = centre[..., 0].reshape(n_place, *(1,) * n_dim)
        dispersion = np.asarray(liquid.hansen)[..., 0]
        chi = chi + unlike_pair_term(dispersion, polymer, volume, kelvin, nature.deviation)
    if nature.amide:
        chi = np.where(associated & (volume < 100e-6), load_assumptions()["alcohol_in_amide"].typical, chi)
    return chi, ratio + 0 * chi


def _attack_edge(places: Sequence[Place], molar_volume: FloatArray) -> FloatArray:
    """Return chi on the surface of spheres of attack: where the swell reaches the line between slight and swells, of the
    polymer that each sphere was drawn for."""
    first = (len(places), *(1,) * molar_volume.ndim)
    swell = LINES[1] / np.array([place.share for place in places]).reshape(first)
    links = np.array([place.links for place in places]).reshape(first)
    return np.maximum(interaction_of_uptake(swell / (1 + swell), links * molar_volume), CRITICAL)


def swelling(
    nature: PolymerNature,
    liquid: WettingLiquid | LiquidArrays,
    chi: FloatArray,
    activity: FloatArray | float,
    temperature: FloatArray | float,
    links: FloatArray | float | None = None,
    active_share: FloatArray | float | None = None,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return swell, uptake of the part that swells, and glass transition of the mixture; all broadcast.

    The swell is inf where the polymer dissolves: chains without links that keep less than a fifth of the volume, or
    crystals above their melting point in the liquid.
    """
    chains = nature.links[1] if links is None else links
    share = nature.active_share if active_share is None else active_share
    hot = np.asarray(temperature, dtype=float)
    uptake = network_uptake(activity, chi, np.asarray(chains) * liquid.molar_volume)
    swell = volume_swell(uptake, share)
    if nature.kind == "glassy":
        swell = np.where(swell > FALLS_APART, np.inf, swell)
    elif nature.kind == "semicrystalline" and np.isfinite(nature.melting) and not nature.linked:
        melts_at = melting_point_in_liquid(nature.melting, nature.fusion, liquid.molar_volume, np.minimum(chi, 1.0))
        melted = hot >= melts_at
        if melted.any():
            swell = np.where(melted & (network_uptake(activity, chi, 0.0) > 0.8), np.inf, swell)
    mass = uptake * liquid.density / (uptake * liquid.density + (1 - uptake) * nature.density)
    return swell, uptake, fox_transition(mass, liquid.transition, nature.transition)


def severity(
    nature: PolymerNature,
    swell: FloatArray,
    surface: FloatArray,
    ratio: FloatArray,
    transition: FloatArray,
    temperature: float | FloatArray,
) -> FloatArray:
    """Return the index into `WORDS`; a glass that stays a glass cracks where a rubber would swell.

    `swell` is that of the whole part, `surface` that of its skin, `transition` the skin's.
    """
    word = np.where(np.isinf(swell), DISSOLVES, swell_level(swell))
    if nature.kind != "glassy" or not np.isfinite(nature.transition):
        return word
    glass = nature.transition > np.asarray(temperature)
    stays = glass & (transition > np.asarray(temperature))
    crazes = {name: load_assumptions()[name].typical for name in ("crazing_swell", "crazing_distance_ratio")}
    near = surface >= crazes["crazing_swell"]
    near &= np.nan_to_num(ratio, nan=9.0) <= crazes["crazing_distance_ratio"]
    strained = (word >= SWELLS) & (stays | (word < SWELLS_STRONGLY))
    return np.where(glass & (word != DISSOLVES) & (strained | (near & (word < SWELLS))), STRESS_CRACKS, word)


def glass_fill(
    nature: PolymerNature, temperature: float, time: float = SOAK_TIME, thickness: float = SOAK_THICKNESS
) -> FloatArray:
    """Return the share (3,) of its final uptake that a part reaches while it stays a glass: low, typical, high."""
    if not np.isfinite(nature.diffusion).all():
        return np.ones(3)
    return slab_filled_share(diffusion_coefficients(nature, temperature), time, thickness)


def diffusion_coefficients(nature: PolymerNature, temperature: float) -> FloatArray:
    """Return the diffusion coefficient (3,) of a small liquid [m2/s]: low, typical, high."""
    return diffusion_at(10.0 ** np.array(nature.diffusion), nature.activation[1], temperature)


def predict_many(
    nature: PolymerNature,
    fuels: Sequence[Sequence[WettingLiquid]],
    temperature: float,
    activities: Sequence[float],
    errors: ChiError | None = None,
    skin: bool = False,
) -> list[Spread | None]:
    """Return the spread of outcomes of a material with each of several fuels; None where either has no place in Hansen space.

    A blend is judged as one liquid and by each of its components alone at its own activity; the worst counts, node by
    node. `activities` are those of the fuels' vapours over their saturated ones; `errors` what is known of the error of chi
    of all their liquids, one after the other. `skin` asks for the wetted surface, not the part.
    """
    counts = [len(liquids) for liquids in fuels]
    if not nature.places or not sum(counts):
        return [None] * len(fuels)
    liquids = side_by_side([liquid for fuel in fuels for liquid in fuel])
    activity = liquids.activity * np.repeat(np.asarray(activities, dtype=float), counts)
    ends = np.cumsum(counts)
    whole = np.isin(np.arange(sum(counts)), ends - counts)
    filled = np.ones(3) if skin else glass_fill(nature, temperature)
    found = _outcomes(nature, liquids, temperature, activity, errors or chi_error(), filled, whole)
    trust = np.array([place.weight for place in nature.places])
    weights = trust[:, None, None] * np.exp(-(NODES[:, None] ** 2) / 2) * np.array(_THREE_POINT)
    weight = (weights / weights.sum()).ravel()
    return [
        _worst(found[..., end - count : end], weight) if count else None
        for end, count in zip(ends, counts, strict=True)
    ]


def _worst(found: FloatArray, weight: FloatArray) -> Spread:
    """Return the worst of a fuel's liquids, node by node; RED is that of the whole fuel."""
    worst = found[..., 0]
    for number in range(1, found.shape[-1]):
        new = found[..., number]
        worse = (new[2] > worst[2]) | ((new[2] == worst[2]) & (new[0] > worst[0]))
        worst = np.where(worse, new, worst)
    swell, uptake, severity_found, _, transition = worst.reshape(5, -1)
    return Spread(swell, uptake, severity_found.astype(int), found[3, ..., 0].ravel(), transition, weight)


def _outcomes(
    nature: PolymerNature,
    liquids: LiquidArrays,
    temperature: float,
    activity: FloatArray,
    error: ChiError,
    filled: FloatArray,
    whole: NDArray[np.bool_],
) -> FloatArray:
    """Return swell, uptake, severity, RED and transition, (5, n_place, n_node, 3, n_liquid)."""
    chi, ratio = interaction(nature, liquids, temperature)
    strained = chi[:, None] * np.exp(error.mean + error.spread * NODES[:, None])
    shape = (*strained.shape[:2], 3, strained.shape[2])
    skin, taken, softened = swelling(nature, liquids, strained, activity, temperature)
    surface, uptake, transition = (np.broadcast_to(v[:, :, None], shape) for v in (skin, taken, softened))
    stays = (nature.transition > temperature) & (transition > temperature) & np.isfinite(surface)
    share = filled[:, None]
    swell = np.where(stays, share * np.where(stays, surface, 0.0), surface)
    held = np.where(stays, share * uptake, uptake)
    red = np.broadcast_to(ratio[:, None, None], shape)
    # RED tells of the liquid itself: a trace of a near liquid in a blend does not craze by its nearness
    nearness = np.where(whole, red, np.nan)
    word = severity(nature, swell, surface, nearness, transition, temperature)
    return np.stack([swell, held, word.astype(float), red, transition])
