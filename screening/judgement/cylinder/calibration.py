"""What the heat that warmed the head says of the film of hot gas: draws that contradict it give way to those that do not.

Of film coefficient and gas temperature a metal's log shows only the product, so their trade-off stays as drawn.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.cylinder.gas_side import COLD_CROWN, wall_heat
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.sampling import kept_by_weight, worth_left
from screening.judgement.head.run_log import read_log, warm_up_rules
from screening.physics.head.thermometry import can_be_read, surface_temperature
from screening.physics.head.warm_up import WarmUp, fit_first_order
from screening.records.tables.assumptions import Assumption, load_assumptions
from screening.sentences import Temperature, Text, sentence
from screening.words import percent

_ASSUMED = ("log_heat_bias", "head_heat_capacity")
_RULES = ("log_heat_shortest", "log_heat_longest", "log_heat_readings", "log_heat_worth")
_NINETY_FIVE = 1.645


@dataclass(frozen=True)
class Evidence:
    """What the log's heat did: `effective` share of the draws' worth left [1], whether it was `applied`, in words.

    `chosen` (n_draw,) says which of the former draws each one is now; None: the draws stay as they are.
    """

    effective: float
    applied: bool
    told: Text
    chosen: NDArray[np.intp] | None = None


def weighed_by_log(case: Case, conditions: Conditions, parts: Sequence[slice]) -> tuple[Conditions, Evidence | None]:
    """Return the conditions with each draw as often as the log's heat makes it likely, and what that did.

    Needs a log of the head and the weighed mass of what warmed (`engine.warmed_metal_kg`); without them, or with too
    short a log, the draws stay as they are. The heat that warmed the metal is

        Q = m c (T_settled - T_ambient)/tau

    and its ratio to the heat that the cycle's walls take has the log-normal spread of `log_heat_bias`, to which port
    heat, friction and the several masses' different pace belong, and that of c. The weights are turned into equal ones
    by systematic resampling.

    Parameters
    ----------
    parts : slices of the draws that are computed at a time

    References
    ----------
    Gordon, Salmond and Smith 1993 (weights by resampling), from memory; see `kept_by_weight` and `worth_left`.
    """
    metal = case.engine.warmed_metal
    if case.head.log_text is None or metal is None:
        return conditions, None
    log = read_log(io.StringIO(case.head.log_text))
    shortest, longest, readings, worth = (load_assumptions()[name].typical for name in _RULES)
    first = log.time <= log.time[0] + longest
    window = float(np.ptp(log.time[first]))
    if window < shortest or first.sum() < readings:
        return conditions, Evidence(
            1.0, False, f"The log's heat was not weighed: {window / 60:.0f} min are too short for that."
        )
    taken, flux = (
        np.concatenate(rows) for rows in zip(*(wall_heat(case, conditions.taken(p)) for p in parts), strict=True)
    )
    warmed = _warmed(case, metal, conditions, fit_first_order(log.time[first], log.reading[first], warm_up_rules()))
    weight = _likelihood(warmed / taken)
    effective = worth_left(weight)
    if effective < worth:
        return conditions, Evidence(effective, False, _contradiction(warmed, taken))
    chosen = kept_by_weight(weight)
    weighed = replace(conditions.taken(chosen), assumed=conditions.assumed | {*_ASSUMED, *_RULES})
    return weighed, Evidence(effective, True, _told(metal, warmed, flux, flux[chosen], effective), chosen)


def _warmed(case: Case, metal: float, conditions: Conditions, fit: WarmUp) -> FloatArray:
    """Return the heat that warmed a mass of `metal` [kg], (n_draw,) [W].

    A gun's reading goes as the radiance, so that a bright surface seems to warm later than it does: the time constant is
    taken from where the surface is at start, at the reading's time constant, and settled.
    """
    emissivity, ambient = conditions["emissivity"], conditions["ambient"]
    around, taken_off = conditions["surroundings"], conditions["gun_compensates_for"]

    def surface(reading: float) -> FloatArray:
        possible = can_be_read(reading, case.head.gun_emissivity, emissivity, around, taken_off)
        bright = np.where(possible, emissivity, 1.0)  # which reads at any rate; it is taken to be as cold as the air
        return np.where(
            possible, surface_temperature(reading, case.head.gun_emissivity, bright, around, taken_off), ambient
        )

    start, settled = surface(fit.start), surface(fit.settled)
    between = surface(fit.settled - (fit.settled - fit.start) * np.exp(-1.0))
    left = np.clip((settled - between) / np.maximum(settled - start, 1.0), 0.05, 0.95)
    capacity = metal * load_assumptions()["head_heat_capacity"].typical
    return capacity * np.maximum(settled - ambient, 0.0) / (fit.time_constant / -np.log(left))


def _likelihood(ratio: FloatArray) -> FloatArray:
    """Return the likelihood of a ratio of the log's heat to the walls', up to a factor, (n_draw,) [1]."""
    bias, capacity = (load_assumptions()[name] for name in _ASSUMED)
    off = np.log(np.maximum(ratio, 1e-9) / bias.typical)
    spread = np.where(off < 0, _spread(bias, below=True), _spread(bias, below=False))
    return np.exp(-0.5 * (off / np.hypot(spread, _spread(capacity, below=True))) ** 2)


def _spread(assumption: Assumption, below: bool) -> float:
    """Return the standard deviation of the logarithm on one side."""
    ends = (assumption.low, assumption.typical) if below else (assumption.typical, assumption.high)
    return float(np.log(ends[1] / ends[0]) / _NINETY_FIVE)


def _told(metal: float, warmed: FloatArray, before: FloatArray, after: FloatArray, effective: float) -> Text:
    low, middle, high = np.quantile(warmed, (0.05, 0.5, 0.95)) / 1e3
    return sentence(
        "The log's heat ({metal} kg of metal took {middle} kW, {low} to {high} kW, port and friction heat included) was weighed "
        "against what the cylinder's walls take: the heat on a metal crown of {crown} went from {before} to {after} kW/m²; "
        "{left} of the draws' worth is left.",
        metal=f"{metal:.2g}",
        low=f"{low:.1f}",
        middle=f"{middle:.1f}",
        high=f"{high:.1f}",
        crown=Temperature(COLD_CROWN),
        before=_range(before),
        after=_range(after),
        left=percent(effective),
    )


def _contradiction(warmed: FloatArray, taken: FloatArray) -> str:
    return (
        f"The log's heat (about {np.median(warmed) / 1e3:.1f} kW) and what the burn gives the walls (about "
        f"{np.median(taken) / 1e3:.1f} kW) contradict each other, so the log was not weighed: check engine.warmed_metal_kg, "
        "operation.burned_mL and head.surface; the log must be of the same load."
    )


def _range(flux: FloatArray) -> str:
    low, middle, high = np.quantile(flux, (0.05, 0.5, 0.95)) / 1e3
    return f"{middle:.0f} ({low:.0f} to {high:.0f})"
