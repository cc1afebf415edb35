"""Draws from (low, typical, high): stratified, reproducible, and the same whatever else is drawn.

`low` and `high` are read as the 5th and 95th percentile and `typical` as the median, except for the uniform and the
triangular distribution, where they are the ends (and the mode). Each quantity gets a stratified permutation,
seeded by its name, so that together they form a Latin hypercube (McKay, Beckman and Conover 1979) and a quantity
added later leaves all others as they were.
"""

from __future__ import annotations

import zlib

import numpy as np
from numpy.typing import NDArray
from scipy import special, stats

from screening.arrays import FloatArray
from screening.records.materials.materials import Value
from screening.records.tables.assumptions import Assumption

_NINETY_FIVE = float(special.ndtri(0.95))
_FURTHEST = 2.5  # standard deviations: tails are cut where the tables say nothing any more


def stratified(name: str, n_draw: int, seed: int) -> FloatArray:
    """Return numbers in (0, 1), one in each of `n_draw` equal strata, in an order set by name and seed.

    Examples
    --------
    >>> sorted((stratified("speed", 4, 0) * 4).astype(int).tolist())
    [0, 1, 2, 3]
    """
    generator = np.random.default_rng([seed, zlib.crc32(name.encode())])
    return (generator.permutation(n_draw) + generator.random(n_draw)) / n_draw


def drawn(name: str, low: float, typical: float, high: float, distribution: str, n_draw: int, seed: int) -> FloatArray:
    """Return draws (n_draw,) of a quantity given by three numbers.

    Parameters
    ----------
    name : str
        What is drawn; with `seed` it sets the order of the draws.
    low, typical, high : float
        5th, 50th and 95th percentile; the ends (and the mode) if uniform or triangular. In the quantity's unit.
    distribution : str
        "normal" or "lognormal" (two-piece: a spread for each side), "uniform", "triangular".
    n_draw, seed : int

    Returns
    -------
    array (n_draw,)
        In the unit of the three numbers; normal tails are cut at 2.5 standard deviations.

    References
    ----------
    McKay, Beckman and Conover, Technometrics 21 (1979) 239 (from memory).
    """
    if low == high:
        return np.full(n_draw, typical)
    chance = stratified(name, n_draw, seed)
    if distribution == "uniform":
        return low + (high - low) * chance
    if distribution == "triangular":
        return stats.triang.ppf(chance, (typical - low) / (high - low), loc=low, scale=high - low)
    z = np.clip(special.ndtri(chance), -_FURTHEST, _FURTHEST) / _NINETY_FIVE
    if distribution == "lognormal":
        low, typical, high = np.log([low, typical, high])
    value = typical + z * np.where(z > 0, high - typical, typical - low)
    return np.exp(value) if distribution == "lognormal" else value


def drawn_assumption(assumption: Assumption, n_draw: int, seed: int) -> FloatArray:
    """Return draws of an assumption of the table, by its name and its distribution.

    Returns
    -------
    array (n_draw,)
        In SI.
    """
    a = assumption
    return drawn(a.name, a.low, a.typical, a.high, a.distribution, n_draw, seed)


def drawn_value(name: str, value: Value, n_draw: int, seed: int) -> FloatArray:
    """Return draws of a material's value: lognormal if it is positive and no temperature, else normal.

    Parameters
    ----------
    name : str
        With `seed` it sets the order of the draws, as `material.property`.
    value : Value
        In SI; its low, typical and high are read as the 5th, 50th and 95th percentile.
    n_draw, seed : int

    Returns
    -------
    array (n_draw,)
        In SI.
    """
    positive = value.low > 0 and value.unit != "K"
    return drawn(name, value.low, value.typical, value.high, "lognormal" if positive else "normal", n_draw, seed)


def kept_by_weight(weight: FloatArray) -> NDArray[np.intp]:
    """Return which draw each one becomes where each is to stand as often as its weight says, (n_draw,), well mixed.

    Mixed, so that the first few of them, which are shown, are a sample of all.

    Parameters
    ----------
    weight : [1] (n_draw,), not all of them 0

    References
    ----------
    Systematic resampling: Kitagawa, Journal of Computational and Graphical Statistics 5 (1996) 1 (from memory).

    Examples
    --------
    >>> sorted(kept_by_weight(np.array([1.0, 0.0, 2.0, 1.0])).tolist())
    [0, 2, 2, 3]
    """
    places = (np.arange(weight.size) + 0.5) / weight.size
    kept = np.searchsorted(np.cumsum(weight) / weight.sum(), places)
    return np.random.default_rng(weight.size).permutation(kept)


def worth_left(weight: FloatArray) -> float:
    """Return the share of their worth that weighed draws have left [1]: (sum w)^2/(n sum w^2); 0 where no draw has weight.

    References
    ----------
    Kong, Liu and Wong, Journal of the American Statistical Association 89 (1994) 278 (from memory).

    Examples
    --------
    >>> worth_left(np.array([1.0, 1.0, 0.0, 0.0]))
    0.5
    """
    return float(weight.sum() ** 2 / (weight**2).sum() / weight.size) if weight.any() else 0.0
