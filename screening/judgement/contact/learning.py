"""What contacts that were seen teach about the prediction: the error of chi, carried over to liquids that are alike."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.contact.evidence import SAME_PAIR, Evidence, first_liquid
from screening.judgement.contact.liquids import (
    Shares,
    WettingLiquid,
    fuel_shares,
    shared_volumes,
    side_by_side,
)
from screening.judgement.contact.nature import PolymerNature
from screening.judgement.contact.outcome_words import SWELL_OF_WORD
from screening.judgement.contact.prediction import (
    ChiError,
    chi_error,
    glass_fill,
    interaction,
    swelling,
)
from screening.physics.contact.hansen_distance import hansen_distance_squared
from screening.records.liquids.find_fuel import Fuel
from screening.records.tables.assumptions import load_assumptions

NEAR_PAIR = 0.3
"""Volume shared from which a test of one liquid teaches about the other."""
NEIGHBOUR_LIKENESS = 0.8
"""Most that two liquids are alike by place alone [1]: below 1, since neighbours still differ in size and shape (the
project's own choice)."""
MEASURED_SPREAD = 0.35
"""Standard deviation of ln swell as measured on a printed offcut: voids, time, drying (the project's own choice)."""
_DOUBT = {3: 1.0, 2: 1.0, 1: 2.0, 0: 4.0}
"""Variance of what a piece says, by how far it is trusted: own or looked up 1, remembered 2, common practice 4."""
_MOST_PIECES = 12
"""Pieces of evidence that are weighed together, the most like first; what is farther adds nothing."""
_GRID = np.linspace(-3, 3, 61)
_LEAST_SPREAD = 0.05


@dataclass(frozen=True, eq=False)
class _Lessons:
    """What each of some pieces says: the error of ln chi it points to, its variance, and how alike the pieces are."""

    pieces: tuple[Evidence, ...]
    error: FloatArray
    variance: FloatArray
    among: FloatArray


def likeness(ones: Sequence[Evidence], shares: Sequence[Shares], liquids: Sequence[WettingLiquid | None]) -> FloatArray:
    """Likeness of the error of chi between observations and liquids, 0 to 1, (n_one, n_liquid).

    The volume they share; or, for liquids of one kind (bonded to themselves or not), exp(-Ra^2 / reach^2) between them,
    at most 0.8: a sphere that is misplaced is wrong in the same way for neighbours.
    """
    shared = np.minimum(shared_volumes([one.shares for one in ones], shares), 1.0)
    (here, kind), (there, other_kind) = (_places([one.liquid for one in ones]), _places(liquids))
    distance = hansen_distance_squared(here[:, None], there)
    near = NEIGHBOUR_LIKENESS * np.exp(-distance / load_assumptions()["likeness_reach"].typical ** 2)
    comparable = (shared < SAME_PAIR) & (kind[:, None] == other_kind) & np.isfinite(near)
    return np.where(comparable, np.fmax(shared, near), shared)


def _places(liquids: Sequence[WettingLiquid | None]) -> tuple[FloatArray, FloatArray]:
    nowhere = (math.nan, math.nan, math.nan)
    hansen = np.array([nowhere if q is None else q.hansen for q in liquids], dtype=float).reshape(-1, 3)
    return hansen, np.array([q is not None and q.associated for q in liquids], dtype=bool)


def nearest(evidence: Sequence[Evidence], fuel: Fuel) -> tuple[Evidence, float] | None:
    """Return the evidence whose liquid is most like the fuel without being it, and how alike (0 to 1)."""
    if not evidence:
        return None
    shares = fuel_shares(fuel)
    alike = likeness(evidence, [shares], [first_liquid(fuel)])[:, 0]
    shared = shared_volumes([e.shares for e in evidence], [shares])[:, 0]
    near = [(e, float(a)) for e, a, s in zip(evidence, alike, shared, strict=True) if a >= NEAR_PAIR and s < SAME_PAIR]
    return max(near, key=lambda pair: (pair[0].kind == "own soak", pair[1], pair[0].trust)) if near else None


def learned_errors(nature: PolymerNature, evidence: Sequence[Evidence], liquids: Sequence[WettingLiquid]) -> ChiError:
    """Return the error of ln chi of each liquid after all evidence on it and on liquids like it, (n_liquid,).

    Each piece says, for its own liquid, which error would have foretold it, and how surely. The errors of one polymer's
    liquids are taken as jointly normal, correlated by their likeness; this is their conditional mean and spread
    (kriging).
    """
    prior = chi_error()
    lessons = _lessons(nature, tuple(evidence))
    if not lessons.pieces or not liquids:
        return ChiError(np.full(len(liquids), prior.mean), np.full(len(liquids), prior.spread))
    order, to_liquid = _most_like(lessons, liquids)
    used = to_liquid >= NEAR_PAIR
    to_liquid = np.where(used, to_liquid, 0.0)
    both = used[:, :, None] & used[:, None, :]
    own = np.eye(order.shape[1])
    variance = np.asarray(prior.spread) ** 2
    among = variance * _valid(np.where(both, lessons.among[order[:, :, None], order[:, None, :]], own))
    noise = np.where(used, lessons.variance[order], 1.0)
    gain = np.linalg.solve(among + noise[:, None] * own, (variance * to_liquid)[..., None])[..., 0]
    mean = prior.mean + (gain * (lessons.error[order] - prior.mean)).sum(axis=1)
    spread = np.sqrt(np.maximum(variance * (1 - (gain * to_liquid).sum(axis=1)), _LEAST_SPREAD**2))
    return ChiError(mean, spread)


def taught_by(nature: PolymerNature, evidence: Sequence[Evidence], liquid: WettingLiquid) -> tuple[Evidence, ...]:
    """Return the evidence that `learned_errors` rests on for a liquid, the most like first."""
    lessons = _lessons(nature, tuple(evidence))
    if not lessons.pieces:
        return ()
    order, to_liquid = _most_like(lessons, [liquid])
    return tuple(lessons.pieces[i] for i, alike in zip(order[0], to_liquid[0], strict=True) if alike >= NEAR_PAIR)


def _most_like(lessons: _Lessons, liquids: Sequence[WettingLiquid]) -> tuple[NDArray[np.intp], FloatArray]:
    """Pieces of evidence most like each liquid, and their likeness, (n_liquid, n_kept)."""
    alike = likeness(lessons.pieces, [q.shares for q in liquids], liquids).T
    order = np.argsort(-alike, axis=1, kind="stable")[:, :_MOST_PIECES]
    return order, np.take_along_axis(alike, order, axis=1)


def _valid(correlation: FloatArray) -> FloatArray:
    """Return the nearest matrices without negative eigenvalues: shared volumes alone need not be a correlation."""
    values, vectors = np.linalg.eigh((correlation + np.swapaxes(correlation, 1, 2)) / 2)
    fixed: FloatArray = (vectors * np.maximum(values, 1e-9)[:, None]) @ np.swapaxes(vectors, 1, 2)
    return fixed


@lru_cache(maxsize=512)
def _lessons(nature: PolymerNature, evidence: tuple[Evidence, ...]) -> _Lessons:
    """Errors of chi from the pieces of evidence that bear on it.

    The posterior over a grid of the prior, less the prior (both as normal distributions).
    """
    pieces = [e for e in evidence if e.liquid is not None and (e.outcome in SWELL_OF_WORD or math.isfinite(e.swell))]
    if not nature.places or not pieces:
        return _Lessons((), np.zeros(0), np.zeros(0), np.zeros((0, 0)))
    prior = chi_error()
    values = prior.mean + prior.spread * _GRID[:, None]
    miss = _misses(nature, pieces, values)
    trust = np.array([place.weight for place in nature.places])
    weight = trust[:, None, None] * np.exp(-(_GRID[:, None] ** 2) / 2 - np.minimum(miss, 6.0) ** 2 / 2)
    weight = weight.sum(axis=0) / weight.sum(axis=(0, 1))
    mean = (weight * values).sum(axis=0)
    variance = np.maximum((weight * (values - mean) ** 2).sum(axis=0), _LEAST_SPREAD**2)
    own = np.asarray(prior.spread) ** 2
    gain = 1 / variance - 1 / own
    says = gain > 0.02 / own
    kept = tuple(piece for piece, tells in zip(pieces, says, strict=True) if tells)
    error = ((mean / variance - prior.mean / own) / np.where(says, gain, 1.0))[says]
    doubt = np.array([_DOUBT[piece.trust] for piece in kept])
    among = likeness(kept, [e.shares for e in kept], [e.liquid for e in kept])
    np.fill_diagonal(among, 1.0)
    return _Lessons(kept, error, doubt / gain[says], among)


def _misses(nature: PolymerNature, pieces: Sequence[Evidence], values: FloatArray) -> FloatArray:
    """Return by how many standard deviations of ln swell each error misses each piece, (n_place, n_grid, n_piece)."""
    liquids = side_by_side([piece.liquid for piece in pieces if piece.liquid is not None])
    kelvin = np.array([piece.temperature for piece in pieces])
    chi, _ = interaction(nature, liquids, kelvin)
    surface, _, transition = swelling(nature, liquids, chi[:, None] * np.exp(values), 1.0, kelvin)
    stays = (nature.transition > kelvin) & (transition > kelvin) & np.isfinite(surface)
    stated = np.array([piece.filled for piece in pieces])
    temperatures, place = np.unique(kelvin, return_inverse=True)
    usual = np.array([glass_fill(nature, float(at))[1] for at in temperatures])[place]
    filled = np.where(np.isnan(stated), usual, stated)
    found = np.log(np.clip(np.where(stays, filled * np.where(stays, surface, 0.0), surface), 1e-4, 20.0))
    low, high = np.array([_said_swell(piece) for piece in pieces]).T
    return np.maximum(np.maximum(low - found, found - high), 0.0) / MEASURED_SPREAD


def _said_swell(piece: Evidence) -> tuple[float, float]:
    """Return the ends of ln swell that a piece allows."""
    if math.isfinite(piece.swell) and piece.outcome != "dissolves":
        return (math.log(max(piece.swell, 1e-3)),) * 2
    low, high = (math.log(min(max(end, 1e-4), 20.0)) for end in SWELL_OF_WORD[piece.outcome])
    return low, high
