"""Which input's uncertainty moves the answer most, and therefore what to measure next.

From the draws that were run, without another run: a regression of the score (see `worth`) on the inputs' ranks and their
products stands in for the model, and what an item does to the answer, alone and together with others, is taken from it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy import linalg, stats

from screening.arrays import FloatArray
from screening.judgement.choice.unknown_items import item_of, known_by, measured_by
from screening.judgement.choice.worth import scores
from screening.records.materials.materials import Material

_FEWEST = 50
"""Draws below which nothing is said."""
_FEW_LEVELS = 6
"""An input of no more values than this is a choice, not a number."""
_DEGREE = 3
_STRONGEST = 12
"""Inputs whose effect together with another is looked for."""
_BY_CHANCE = 0.01
"""Chance that any term at all is taken where no input does anything."""
_FAINT = 3.0
"""Terms of less by themselves (chi-squared) are not looked at; one in twelve of those that do nothing passes."""
_MOST_TERMS = 60
_SHUFFLES = 4
_FOLLOWS = {
    "gun_compensates_for": "ambient",
    "head_surface": "emissivity",
    "head_wall": "head_surface",
    "liner": "head_surface",
}
"""What is worked out from another input: only the other can be measured."""


@dataclass(frozen=True)
class Influence:
    """What not knowing one item does to the answer.

    Parameters
    ----------
    name : of the item, see `unknown_items.item_of`
    share_of_spread : share of the score's spread that is left while all else is known but this item [1] (its total effect);
        these shares add up to more than one where items work together
    narrowing : the share by which the range narrows once it alone is measured [1]
    measure_by : the means of measuring it; empty where none is named
    known_by : how its range is known, in plain words
    """

    name: str
    share_of_spread: float
    narrowing: float
    measure_by: str
    known_by: str


@dataclass(frozen=True, eq=False)
class Shapes:
    """Inputs as curves of their ranks: `curves` (n_draw, n_curve), each of mean 0 and spread 1; `inputs` and `degrees` (n_curve,)."""

    curves: FloatArray
    inputs: tuple[str, ...]
    degrees: tuple[int, ...]

    def with_more(self, other: Shapes) -> Shapes:
        """Return these and the other's."""
        return Shapes(
            np.column_stack([self.curves, other.curves]), self.inputs + other.inputs, self.degrees + other.degrees
        )


def shapes_of(inputs: Mapping[str, FloatArray]) -> Shapes:
    """Return the curves of each input (n_draw,) that varies and does not follow from another that does.

    A number's are the first three Legendre polynomials of its rank, of unit spread; a choice's are its levels but one.
    """
    varies = {name for name, value in inputs.items() if np.all(np.isfinite(value)) and np.ptp(value) > 0}
    n_draw = next((value.size for value in inputs.values()), 0)
    curves: list[FloatArray] = []
    names: list[str] = []
    degrees: list[int] = []
    for name in inputs:
        if name not in varies or _FOLLOWS.get(name) in varies:
            continue
        new = _levels(inputs[name]) or _polynomials(inputs[name])
        curves += new
        names += [name] * len(new)
        degrees += [1] * len(new) if len(new) != _DEGREE else range(1, _DEGREE + 1)
    return Shapes(np.column_stack(curves) if curves else np.empty((n_draw, 0)), tuple(names), tuple(degrees))


def _levels(value: FloatArray) -> list[FloatArray]:
    """Return which draws have each value but the first, where there are few values; else nothing."""
    levels = np.unique(value[: 10 * _FEW_LEVELS])
    if levels.size > _FEW_LEVELS or (levels := np.unique(value)).size > _FEW_LEVELS:
        return []
    chosen = [(value == level).astype(float) for level in levels[1:]]
    return [(one - one.mean()) / one.std() for one in chosen]


def _polynomials(value: FloatArray) -> list[FloatArray]:
    u = 2 * (stats.rankdata(value) - 0.5) / value.size - 1
    return [np.sqrt(3) * u, np.sqrt(5) * (3 * u**2 - 1) / 2, np.sqrt(7) * (5 * u**3 - 3 * u) / 2]


@dataclass(frozen=True, eq=False)
class Unknowns:
    """What was not known of one material's runs, and how it fared: enough to tell what moves the answer.

    Parameters
    ----------
    shapes : of all draws, from `shapes_of`
    life : (n_draw,) [s]
    wanted : the run wanted [s]
    effective : how many draws the draws are worth [1]
    material : with its values
    assumed : names of the assumptions that were drawn, see `Conditions.assumed`
    """

    shapes: Shapes
    life: FloatArray
    wanted: float
    effective: float
    material: Material
    assumed: frozenset[str] = frozenset()

    @cached_property
    def items(self) -> frozenset[str]:
        """All items that are not known, whatever they do."""
        return frozenset(map(item_of, self.shapes.inputs))

    @cached_property
    def influences(self) -> tuple[Influence, ...]:
        """The items that move the answer by more than chance would, largest first; see `influences`."""
        return influences(self)


def influences(unknowns: Unknowns) -> tuple[Influence, ...]:
    """Return the items by their total effect on the score, largest first; what cannot be told from chance is left out.

    The score is regressed on the inputs' curves and on the products of two of the strongest inputs, term by term while the
    next one explains more than the best of as many idle ones would in ninety-nine of a hundred cases, counting draws at their
    worth. An item's total effect is then half the mean square of what shuffling its draws among themselves does to the
    regression. What the regression leaves unexplained is counted to all items in proportion: on its own it would make every
    effect too small.

    Returns
    -------
    tuple of Influence
        Empty where the score does not vary, where there are fewer than 50 draws, or where nothing can be told from chance.

    Notes
    -----
    Against runs in which each item is drawn anew (tests/judgement/choice/test_effects_by_runs.py) the largest miss is 0.11: the
    film of PA66 in the demo, 0.14 for 0.25. What works only together with others, or bends strongly, comes out too small.
    After a log has been weighed the draws hang together, and one item may be told for another that goes with it.

    References
    ----------
    Sudret, Reliability Engineering and System Safety 93 (2008) 964 (effects from a polynomial regression); Blatman and
    Sudret, Journal of Computational Physics 230 (2011) 2345 (few terms); Jansen, Computer Physics Communications 117
    (1999) 35 (total effect by half the mean square): from memory.
    """
    score = scores(unknowns.life, unknowns.wanted)
    if score.size < _FEWEST or np.ptp(score) == 0 or not unknowns.shapes.inputs:
        return ()
    centred = (score - score.mean()) / score.std()
    fit = _regression(unknowns.shapes, centred, unknowns.effective)
    found = [_influence(item, fit, unknowns) for item in dict.fromkeys(item for term in fit.items for item in term)]
    return tuple(sorted(found, key=lambda influence: -influence.share_of_spread))


@dataclass(frozen=True, eq=False)
class _Fit:
    """A regression: `terms` of one or two curves with their `weights`; `explained` share of draws that it has not seen [1]."""

    terms: tuple[tuple[int, ...], ...]
    items: tuple[tuple[str, ...], ...]
    weights: FloatArray
    explained: float


def _regression(shapes: Shapes, target: FloatArray, effective: float) -> _Fit:
    """Return the regression of a target of mean 0 and spread 1."""
    strength = effective * (shapes.curves.T @ target / target.size) ** 2
    of_input: dict[str, float] = {}
    for name, own in zip(shapes.inputs, strength, strict=True):
        of_input[name] = of_input.get(name, 0.0) + own
    strongest = set(sorted(of_input, key=lambda name: -of_input[name])[:_STRONGEST])
    at = [column for column, name in enumerate(shapes.inputs) if name in strongest]
    pairs = [
        (a, b)
        for place, a in enumerate(at)
        for b in at[place + 1 :]
        if shapes.inputs[a] != shapes.inputs[b] and shapes.degrees[a] + shapes.degrees[b] <= _DEGREE
    ]
    single = [(int(column),) for column in np.flatnonzero(strength > _FAINT)]
    terms: list[tuple[int, ...]] = [*single, *pairs]
    if not terms:
        return _Fit((), (), np.empty(0), 0.0)
    looked_at = len(shapes.inputs) + len(pairs)
    values = np.stack([np.prod(shapes.curves[:, term], axis=1) for term in terms])
    values -= values.mean(axis=1, keepdims=True)
    taken = _taken(values, target, effective, float(stats.chi2.isf(_BY_CHANCE / looked_at, 1)))
    if not taken:
        return _Fit((), (), np.empty(0), 0.0)
    orthogonal, triangle = linalg.qr(values[taken].T, mode="economic")
    along = orthogonal.T @ target
    unseen = (target - orthogonal @ along) / (1 - (orthogonal**2).sum(axis=1) - 1 / target.size)
    chosen = tuple(terms[place] for place in taken)
    return _Fit(
        terms=chosen,
        items=tuple(tuple(item_of(shapes.inputs[column]) for column in term) for term in chosen),
        weights=linalg.solve_triangular(triangle, along),
        explained=float(np.clip(1 - np.mean(unseen**2), 0.1, 1)),
    )


def _taken(values: FloatArray, target: FloatArray, effective: float, least: float) -> list[int]:
    """Return which of the terms (n_term, n_draw) to take, each the one that explains most of what the others left."""
    products, along = values @ values.T, values @ target
    left, size = float(target @ target), np.diag(products).copy()
    usable = 1e-6 * size
    factors = np.empty((0, size.size))
    taken: list[int] = []
    while len(taken) < _MOST_TERMS:
        gain = np.where(size > usable, along**2 / np.maximum(size, usable), 0.0)
        best = int(gain.argmax())
        if -effective * np.log1p(-min(gain[best] / left, 1 - 1e-12)) < least:
            break
        factor = (products[best] - factors[:, best] @ factors) / np.sqrt(size[best])
        step = along[best] / np.sqrt(size[best])
        left -= step**2
        along = along - step * factor
        size = size - factor**2
        size[best] = 0.0
        factors = np.vstack([factors, factor])
        taken.append(best)
        if left <= 1e-9 * target.size:
            break
    return taken


def _influence(item: str, fit: _Fit, unknowns: Unknowns) -> Influence:
    curves = unknowns.shapes.curves
    own = [name == item for name in map(item_of, unknowns.shapes.inputs)]
    touched = [
        (term, items, weight)
        for term, items, weight in zip(fit.terms, fit.items, fit.weights, strict=True)
        if item in items
    ]
    alone = sum(
        (weight * np.prod(curves[:, term], axis=1) for term, items, weight in touched if set(items) == {item}),
        np.zeros(len(curves)),
    )
    generator = np.random.default_rng(0)
    total = 0.0
    for _ in range(_SHUFFLES):
        order = generator.permutation(len(curves))
        change = np.zeros(len(curves))
        for term, _, weight in touched:
            shuffled = [curves[order, column] if own[column] else curves[:, column] for column in term]
            change += weight * (np.prod(shuffled, axis=0) - np.prod(curves[:, term], axis=1))
        total += float(np.mean(change**2)) / 2 / _SHUFFLES
    drawn = [name for name in dict.fromkeys(unknowns.shapes.inputs) if item_of(name) == item]
    alone_share = min(float(np.var(alone)) / fit.explained, 1.0)
    return Influence(
        name=item,
        share_of_spread=min(max(total / fit.explained, alone_share), 1.0),
        narrowing=1 - float(np.sqrt(1 - alone_share)),
        measure_by=measured_by(item),
        known_by=known_by(drawn, unknowns.material, unknowns.assumed),
    )
