"""What is known of a contact beside theory: the user's own soak tests first, then published observations.

Evidence of the very pair gives the outcome. It also teaches the prediction: the error of chi that would have foretold
it is carried over to other exposures and to liquids made of the same components.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from screening.judgement.case import Case, SoakTest
from screening.judgement.contact_liquids import WettingLiquid, fuel_shares, plain_liquid, shared_volume, wetting_liquids
from screening.judgement.contact_nature import PolymerNature
from screening.judgement.contact_prediction import (
    LINES,
    WORDS,
    ChiError,
    chi_error,
    glass_fill,
    interaction,
    swelling,
)
from screening.physics.solubility import hansen_distance_squared
from screening.physics.uptake_in_time import diffusion_at, slab_filled_share
from screening.quantities import from_si
from screening.records.fuels import Fuel, find_fuel
from screening.records.spheres import ContactObservation, load_observations

SAME_PAIR = 0.98
"""Volume shared by two liquids from which they count as the same."""
NEAR_PAIR = 0.3
"""Volume shared from which a test of one liquid teaches about the other."""
NEAR_TEMPERATURE = 25.0
"""A published contact speaks for temperatures this near its own [K] (the project's own choice)."""
NEIGHBOUR_LIKENESS, NEIGHBOUR_REACH = 0.8, 5.0
"""Most that two liquids are alike by place alone [1], and how far likeness reaches in Hansen space [MPa^0.5]: about as
far as published spheres of one polymer disagree on its centre (the project's own choice)."""
MEASURED_SPREAD = 0.35
"""Standard deviation of ln swell as measured on a printed offcut: voids, time, drying (the project's own choice)."""
_TRUST = {"looked up": 2, "handbook, from memory": 1, "common practice": 0}
_DOUBT = {3: 1.0, 2: 1.0, 1: 2.0, 0: 4.0}
"""Variance of what a piece says, by how far it is trusted: own or looked up 1, remembered 2, common practice 4."""
_WORD_SWELL = {"stress cracks": (0.02, 4.0), "none": (0.0, LINES[0]), "slight": LINES[:2], "swells": LINES[1:],
               "swells strongly": (LINES[2], 20.0), "dissolves": (4.0, math.inf)}  # fmt: skip


@dataclass(frozen=True, eq=False)
class Evidence:
    """One outcome that was seen, and how it is told.

    `swell` by volume [1] (NaN: not measured); `filled` share of the final uptake reached by then (NaN: as after six
    weeks); `liquid` the fluid as one liquid (None: not known); `temperature` [K]; `trust` 3 own, 2 looked up,
    1 remembered, 0 common practice.
    """

    kind: str
    outcome: str
    swell: float
    filled: float
    liquid: WettingLiquid | None
    shares: tuple[tuple[str, float], ...]
    temperature: float
    trust: int
    source: str
    told: str


def own_soaks(nature: PolymerNature, case: Case | None) -> tuple[Evidence, ...]:
    """Return the case's soak tests of this material (or of the polymer it is based on), as evidence."""
    tests = () if case is None else case.soak_tests
    return tuple(
        _from_soak(nature, test, number)
        for number, test in enumerate(tests, start=1)
        if test.material in (nature.id, nature.base)
    )


def soak_swell(nature: PolymerNature, test: SoakTest) -> float:
    """Return the volume swell of a soak test [1], from its masses, else from its sizes; NaN where neither is given."""
    if test.mass_before and test.mass_after is not None:
        liquid = test.fluid.density or 850.0
        return (test.mass_after - test.mass_before) / test.mass_before * nature.density / liquid
    if test.size_before and test.size_after is not None:
        return (test.size_after / test.size_before) ** 3 - 1
    return math.nan


def swell_word(swell: float) -> str:
    """Return the outcome word of a measured volume swell [1]; a loss counts by its size."""
    return WORDS[(0, 1, 2, 4)[sum(abs(swell) >= line for line in LINES)]]


def _from_soak(nature: PolymerNature, test: SoakTest, number: int) -> Evidence:
    swell = soak_swell(nature, test)
    outcome = test.outcome or swell_word(swell)
    measured = "" if math.isnan(swell) else f", volume change {100 * swell:+.1f} %"
    hours = "" if test.time is None else f" after {test.time / 3600:g} h"
    celsius = from_si(test.temperature, "degC")
    told = (
        f"Own soak test {number}: {test.material} in {test.fluid.name} at {celsius:.0f} °C{hours}: {outcome}{measured}."
    )
    filled = 1.0
    if test.time is not None and np.isfinite(nature.diffusion).all():
        thickness = test.size_before or 3e-3
        coefficient = diffusion_at(10.0 ** nature.diffusion[1], nature.activation[1], test.temperature)
        filled = float(slab_filled_share(coefficient, test.time, thickness))
    return Evidence(
        kind="own soak",
        outcome=outcome,
        swell=swell,
        filled=max(filled, 0.02),
        liquid=_first(wetting_liquids(test.fluid)),
        shares=fuel_shares(test.fluid),
        temperature=test.temperature,
        trust=3,
        source=f"own soak test {number}",
        told=told,
    )


@lru_cache(maxsize=256)
def published(nature: PolymerNature) -> tuple[Evidence, ...]:
    """Return the published contacts of a material; of a filled one also those of the unfilled polymer."""
    table = load_observations()
    ids = (nature.id, nature.base) if nature.filler > 0 and nature.base != nature.id else (nature.id,)
    rows = next((table[id] for id in ids if id in table), ())
    return tuple(_from_row(row) for row in rows)


def _from_row(row: ContactObservation) -> Evidence:
    kelvin = row.temperature if math.isfinite(row.temperature) else 296.15
    state = f" ({row.state})" if row.state else ""
    note = f"; {row.note}" if row.note else ""
    change = "" if math.isnan(row.volume_change) else f", volume change {100 * row.volume_change:+.0f} %"
    told = (
        f"Published: {row.material}{state} in {row.fluid} at {kelvin - 273.15:.0f} °C: {row.outcome}{change} "
        f"[{row.source}, {row.how}{note}]."
    )
    return Evidence("published", row.outcome, row.volume_change, math.nan, _row_liquid(row), _row_shares(row), kelvin,
                    _TRUST[row.how], f"{row.source} ({row.how})", told)  # fmt: skip


def _row_fuel(row: ContactObservation) -> Fuel | None:
    try:
        return find_fuel(row.cas or row.fluid)
    except (LookupError, ValueError):
        return None


def _row_liquid(row: ContactObservation) -> WettingLiquid | None:
    fuel = _row_fuel(row)
    if fuel is not None:
        return _first(wetting_liquids(fuel))
    try:
        return plain_liquid(row.fluid, row.cas)
    except LookupError:
        return None


def _row_shares(row: ContactObservation) -> tuple[tuple[str, float], ...]:
    fuel = None if row.cas else _row_fuel(row)
    return ((row.cas or row.fluid, 1.0),) if fuel is None else fuel_shares(fuel)


def of_the_pair(evidence: Sequence[Evidence], fuel: Fuel, temperature: float) -> tuple[Evidence, ...]:
    """Return what was seen of this very liquid near this temperature, the most trusted and nearest first."""
    shares = fuel_shares(fuel)
    same = [
        e
        for e in evidence
        if shared_volume(e.shares, shares) >= SAME_PAIR and abs(e.temperature - temperature) <= NEAR_TEMPERATURE
    ]
    return tuple(sorted(same, key=lambda e: (-e.trust, abs(e.temperature - temperature))))


def deciding(same: Sequence[Evidence], loaded: bool) -> Evidence | None:
    """Return the row that gives the outcome: among the most trusted the worst, for a printed part also under load.

    A crack under load counts whatever the trust: a print carries stress of its own.
    """
    if not same:
        return None
    cracks = [e for e in same if e.outcome == "stress cracks"]
    best = [e for e in same if e.trust == same[0].trust]
    worst = max(best, key=lambda e: WORDS.index(e.outcome))
    if loaded and cracks and WORDS.index(worst.outcome) < WORDS.index("stress cracks"):
        return cracks[0]
    return worst


def likeness(one: Evidence, shares: tuple[tuple[str, float], ...], liquid: WettingLiquid | None) -> float:
    """Return how far the error of chi is the same for two liquids in one polymer, 0 to 1.

    The volume they share; or, for liquids of one kind (bonded to themselves or not), exp(-Ra^2 / 25 MPa) between them,
    at most 0.8: a sphere that is misplaced is wrong in the same way for neighbours.
    """
    shared = min(shared_volume(one.shares, shares), 1.0)
    own = one.liquid
    if shared >= SAME_PAIR or own is None or liquid is None or own.associated != liquid.associated:
        return shared
    distance = float(hansen_distance_squared(own.hansen, liquid.hansen))
    return max(shared, NEIGHBOUR_LIKENESS * math.exp(-distance / NEIGHBOUR_REACH**2))


def nearest(evidence: Sequence[Evidence], fuel: Fuel) -> tuple[Evidence, float] | None:
    """Return the evidence whose liquid is most like the fuel without being it, and how alike (0 to 1)."""
    shares, liquid = fuel_shares(fuel), _first(wetting_liquids(fuel))
    found = [(e, likeness(e, shares, liquid), shared_volume(e.shares, shares)) for e in evidence]
    near = [(e, alike) for e, alike, shared in found if alike >= NEAR_PAIR and shared < SAME_PAIR]
    return max(near, key=lambda pair: (pair[0].kind == "own soak", pair[1], pair[0].trust)) if near else None


def learned_errors(
    nature: PolymerNature, evidence: Sequence[Evidence], liquids: Sequence[WettingLiquid]
) -> list[ChiError]:
    """Return the error of ln chi of each liquid, after all evidence on it and on liquids like it."""
    if evidence is published(nature):
        return [_learned_from_published(nature, liquid) for liquid in liquids]
    return [learned_for(nature, evidence, liquid.shares, liquid)[0] for liquid in liquids]


@lru_cache(maxsize=8192)
def _learned_from_published(nature: PolymerNature, liquid: WettingLiquid) -> ChiError:
    return learned_for(nature, published(nature), liquid.shares, liquid)[0]


def learned_error(
    nature: PolymerNature, evidence: Sequence[Evidence], fuel: Fuel
) -> tuple[ChiError, tuple[Evidence, ...]]:
    """Return the error of ln chi for this fuel after all evidence on it and on liquids like it, and what taught it.

    Each piece says, for its own liquid, which error would have foretold it, and how surely. The errors of one polymer's
    liquids are taken as jointly normal, correlated by their likeness; this is their conditional mean and spread
    (kriging). The most like come first in what is returned.
    """
    return learned_for(nature, evidence, fuel_shares(fuel), _first(wetting_liquids(fuel)))


def learned_for(
    nature: PolymerNature,
    evidence: Sequence[Evidence],
    shares: tuple[tuple[str, float], ...],
    liquid: WettingLiquid | None,
) -> tuple[ChiError, tuple[Evidence, ...]]:
    """Return the same as `learned_error` for a liquid that need not be a fuel."""
    prior = chi_error()
    pieces = []
    for piece in evidence:
        alike = likeness(piece, shares, liquid)
        said = _said(nature, piece) if alike >= NEAR_PAIR else None
        if said is not None:
            pieces.append((alike, piece, *said))
    if not pieces:
        return prior, ()
    pieces.sort(key=lambda entry: -entry[0])
    pieces = pieces[:12]
    to_target = np.array([entry[0] for entry in pieces])
    among = np.array([[likeness(p, q.shares, q.liquid) for _, q, *_ in pieces] for _, p, *_ in pieces])
    np.fill_diagonal(among, 1.0)
    pointed = np.array([entry[2] for entry in pieces]) - prior.mean
    noise = np.array([entry[3] for entry in pieces])
    variance = prior.spread**2
    gain = np.linalg.solve(variance * _valid(among) + np.diag(noise), variance * to_target)
    spread = math.sqrt(max(variance * (1 - float(gain @ to_target)), 0.05**2))
    return ChiError(prior.mean + float(gain @ pointed), spread), tuple(entry[1] for entry in pieces)


def _valid(correlation: np.ndarray) -> np.ndarray:
    """Return the nearest matrix without negative eigenvalues: shared volumes alone need not be a correlation."""
    values, vectors = np.linalg.eigh((correlation + correlation.T) / 2)
    fixed: np.ndarray = (vectors * np.maximum(values, 1e-9)) @ vectors.T
    return fixed


def _first(liquids: tuple[WettingLiquid, ...]) -> WettingLiquid | None:
    return liquids[0] if liquids else None


@lru_cache(maxsize=4096)
def _said(nature: PolymerNature, piece: Evidence) -> tuple[float, float] | None:
    """Return the error of ln chi that a piece of evidence points to and the variance of what it says; None: nothing.

    The posterior over a grid of the prior, less the prior (both as normal distributions).
    """
    prior = chi_error()
    if piece.liquid is None or not nature.places or (piece.outcome not in _WORD_SWELL and math.isnan(piece.swell)):
        return None
    grid = np.linspace(-3, 3, 61)
    chi, _ = interaction(nature, piece.liquid, piece.temperature)
    trust = np.array([place.weight for place in nature.places])
    strained = chi[:, None] * np.exp(prior.mean + prior.spread * grid)
    surface, _, transition = swelling(nature, piece.liquid, strained, 1.0, piece.temperature)
    stays = (nature.transition > piece.temperature) & (transition > piece.temperature) & np.isfinite(surface)
    filled = glass_fill(nature, piece.temperature)[1] if math.isnan(piece.filled) else piece.filled
    seen = np.log(np.clip(np.where(stays, filled * np.where(stays, surface, 0.0), surface), 1e-4, 20.0))
    if math.isfinite(piece.swell) and piece.outcome != "dissolves":
        low = high = math.log(max(piece.swell, 1e-3))
    else:
        low, high = (math.log(min(max(end, 1e-4), 20.0)) for end in _WORD_SWELL[piece.outcome])
    miss = np.maximum(np.maximum(low - seen, seen - high), 0.0) / MEASURED_SPREAD
    weight = trust[:, None] * np.exp(-(grid**2) / 2 - np.minimum(miss, 6.0) ** 2 / 2)
    values = prior.mean + prior.spread * np.broadcast_to(grid, weight.shape)
    mean = float((weight * values).sum() / weight.sum())
    spread2 = max(float((weight * (values - mean) ** 2).sum() / weight.sum()), 0.05**2)
    gain = 1 / spread2 - 1 / prior.spread**2
    if gain <= 0.02 / prior.spread**2:
        return None
    return (mean / spread2 - prior.mean / prior.spread**2) / gain, _DOUBT[piece.trust] / gain
