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
from screening.judgement.contact_liquids import fuel_shares, shared_volume, wetting_liquids
from screening.judgement.contact_nature import PolymerNature
from screening.judgement.contact_prediction import (
    LINES,
    WORDS,
    ChiError,
    chi_error,
    interaction,
    swelling,
)
from screening.physics.uptake_in_time import diffusion_at, slab_filled_share
from screening.records.fuels import Fuel, find_fuel
from screening.records.spheres import ContactObservation, load_observations

SAME_PAIR = 0.98
"""Volume shared by two liquids from which they count as the same."""
NEAR_PAIR = 0.3
"""Volume shared from which a test of one liquid teaches about the other."""
NEAR_TEMPERATURE = 25.0
"""A published contact speaks for temperatures this near its own [K] (the project's own choice)."""
MEASURED_SPREAD = 0.35
"""Standard deviation of ln swell as measured on a printed offcut: voids, time, drying (the project's own choice)."""
_TRUST = {"looked up": 2, "handbook, from memory": 1, "common practice": 0}
_WORD_SWELL = {"none": (0.0, LINES[0]), "slight": LINES[:2], "swells": LINES[1:], "swells strongly": (LINES[2], 20.0),
               "dissolves": (4.0, math.inf)}  # fmt: skip


@dataclass(frozen=True)
class Evidence:
    """One outcome that was seen: word, swell [1] (NaN: not measured), share filled, liquid, temperature [K], in words."""

    kind: str
    outcome: str
    swell: float
    filled: float
    fluid: Fuel | None
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
    """Return the volume swell of a soak test [1], from its masses, else from its sizes; NaN where neither was measured."""
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
    told = f"Own soak test {number}: {test.material} in {test.fluid.name} at {test.temperature - 273.15:.0f} °C{hours}: {outcome}{measured}."
    filled = 1.0
    if test.time is not None and np.isfinite(nature.diffusion).all():
        thickness = test.size_before or 3e-3
        coefficient = diffusion_at(10.0 ** nature.diffusion[1], nature.activation[1], test.temperature)
        filled = float(slab_filled_share(coefficient, test.time, thickness))
    return Evidence("own soak", outcome, swell, max(filled, 0.02), test.fluid, fuel_shares(test.fluid),
                    test.temperature, 3, f"own soak test {number}", told)  # fmt: skip


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
    return Evidence("published", row.outcome, row.volume_change, 1.0, _row_fuel(row), _row_shares(row), kelvin,
                    _TRUST[row.how], f"{row.source} ({row.how})", told)  # fmt: skip


def _row_fuel(row: ContactObservation) -> Fuel | None:
    try:
        return find_fuel(row.cas or row.fluid)
    except (LookupError, ValueError):
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


def nearest(evidence: Sequence[Evidence], fuel: Fuel) -> tuple[Evidence, float] | None:
    """Return the evidence whose liquid has most in common with the fuel without being it, and the shared volume."""
    shares = fuel_shares(fuel)
    found = [(e, shared_volume(e.shares, shares)) for e in evidence]
    near = [(e, share) for e, share in found if NEAR_PAIR <= share < SAME_PAIR]
    return max(near, key=lambda pair: (pair[0].trust, pair[1])) if near else None


def learned_error(nature: PolymerNature, evidence: Sequence[Evidence], fuel: Fuel) -> tuple[ChiError, tuple[Evidence, ...]]:
    """Return the error of ln chi for this fuel after all evidence on it and on liquids near it, and what taught it.

    Each piece gives a posterior of the error for its own liquid over a grid; errors of two liquids are taken as
    correlated by the volume they share, and the pieces are joined as normal distributions, most shared first.
    """
    prior = chi_error()
    error, taught = prior, []
    shares = fuel_shares(fuel)
    ordered = sorted(evidence, key=lambda e: (e.kind == "own soak", shared_volume(e.shares, shares)), reverse=True)
    for piece in ordered[:6]:
        correlation = min(shared_volume(piece.shares, shares), 1.0)
        if correlation < NEAR_PAIR or piece.outcome not in _WORD_SWELL and math.isnan(piece.swell):
            continue
        seen = _posterior(nature, piece, prior)
        if seen is None:
            continue
        error = _joined(error, seen, correlation, prior)
        taught.append(piece)
    return error, tuple(taught)


def _posterior(nature: PolymerNature, piece: Evidence, prior: ChiError) -> ChiError | None:
    """Return the error of ln chi that would have foretold a piece of evidence, over a grid of the prior."""
    liquids = () if piece.fluid is None else wetting_liquids(piece.fluid)
    if not liquids or not nature.places:
        return None
    grid = np.linspace(-3, 3, 61)
    chi, _ = interaction(nature, liquids[0], piece.temperature)
    trust = np.array([place.weight for place in nature.places])
    strained = chi[:, None] * np.exp(prior.mean + prior.spread * grid)
    swell, _, transition = swelling(nature, liquids[0], strained, 1.0, piece.temperature)
    stays = (nature.transition > piece.temperature) & (transition > piece.temperature)
    swell = np.where(stays, piece.filled * np.where(np.isfinite(swell), swell, 0.0) + np.where(np.isinf(swell), np.inf, 0.0), swell)
    seen = np.log(np.clip(swell, 1e-4, 20.0))
    if math.isfinite(piece.swell) and piece.outcome != "dissolves":
        low = high = math.log(max(piece.swell, 1e-3))
    else:
        low, high = (math.log(min(max(end, 1e-4), 20.0)) for end in _WORD_SWELL[piece.outcome])
    miss = np.maximum(np.maximum(low - seen, seen - high), 0.0) / MEASURED_SPREAD
    weight = trust[:, None] * np.exp(-(grid**2) / 2 - miss**2 / 2)
    total = weight.sum()
    if total < 1e-12:
        return None
    values = prior.mean + prior.spread * np.broadcast_to(grid, weight.shape)
    mean = float((weight * values).sum() / total)
    variance = float((weight * (values - mean) ** 2).sum() / total)
    return ChiError(mean, max(math.sqrt(variance), 0.05))


def _joined(error: ChiError, seen: ChiError, correlation: float, prior: ChiError) -> ChiError:
    """Return the error after one more piece: its likelihood (posterior less prior) passed on by the correlation."""
    gain = 1 / seen.spread**2 - 1 / prior.spread**2
    if gain <= 0:
        return error
    said = (seen.mean / seen.spread**2 - prior.mean / prior.spread**2) / gain
    # what the other liquid says of this one: blurred by what the two do not share
    blur = 1 / gain / correlation**2 + prior.spread**2 * (1 / correlation**2 - 1)
    precision = 1 / error.spread**2 + 1 / blur
    target = prior.mean + (said - prior.mean)
    return ChiError((error.mean / error.spread**2 + target / blur) / precision, 1 / math.sqrt(precision))
