"""What a crown is made of, what its faces exchange heat with, how it decomposes; and what of that is refused."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.errors import OutOfRange

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Layer:
    """One layer of the stack, from the gas side down; every field a number or `(n_draw,)`.

    Parameters
    ----------
    thickness : [m]
    conductivity : [W/(m K)]
    density : [kg/m3]
    heat_capacity : [J/(kg K)]; not used where a curve is given below
    contact_resistance : towards the layer beneath (of the last layer: not used) [m2 K/W]
    ring_conductance : sideways to the bore, referred to the face area of the crown, spread evenly through the
        layer [W/(m2 K)]
    ring_temperature : of what it leads to [K]
    heat_capacity_temperature : knots of the heat capacity, rising, `(n_knot,)` or `(n_knot, n_draw)` [K]
    heat_capacity_values : heat capacity at the knots, straight between, level beyond [J/(kg K)]
    """

    thickness: ArrayLike
    conductivity: ArrayLike
    density: ArrayLike
    heat_capacity: ArrayLike
    contact_resistance: ArrayLike = 0.0
    ring_conductance: ArrayLike = 0.0
    ring_temperature: ArrayLike = np.nan
    heat_capacity_temperature: ArrayLike | None = None
    heat_capacity_values: ArrayLike | None = None


@dataclass(frozen=True)
class Film:
    """What a face exchanges heat with; every field a number or `(n_draw,)`.

    Flux into the face at T: h (T_gas - T) - emissivity sigma (T^4 - T_radiation^4), with
    T_gas = temperature + feedback (T - feedback_at) and h = coefficient + coefficient_feedback (T - feedback_at).

    Parameters
    ----------
    coefficient : [W/(m2 K)]
    temperature : of the gas or liquid [K]
    feedback : rise of the gas temperature per rise of the face's, below 1 [K/K]
    feedback_at : face temperature at which `coefficient` and `temperature` hold [K]
    coefficient_feedback : rise of the coefficient per rise of the face's temperature [W/(m2 K2)]
    radiation_emissivity : effective, of face and surroundings together [1]
    radiation_temperature : of the surroundings [K]
    """

    coefficient: ArrayLike
    temperature: ArrayLike
    feedback: ArrayLike = 0.0
    feedback_at: ArrayLike = np.nan
    coefficient_feedback: ArrayLike = 0.0
    radiation_emissivity: ArrayLike = 0.0
    radiation_temperature: ArrayLike = np.nan


@dataclass(frozen=True)
class Decomposition:
    """How the top layer decomposes at its face; every field a number or `(n_draw,)`.

    Parameters
    ----------
    onset : temperature at which the face is held while it recedes [K]
    gasification_heat : latent heat at the onset per kg of polymer lost, sensible heat not included [J/kg]
    char_yield : mass left as char per mass of polymer [1]
    char_retained : share of the char that stays on, 0 (all shed) to 1; thickness char_yield x char_retained x
        recession [1]
    char_conductivity : [W/(m K)]
    density : of the polymer that is lost [kg/m3]; nan: that of the top layer
    vapour_heat_capacity : of the vapour, which is all that is lost but the char; it thins the film of gas. 0: as if it
        did not [J/(kg K)]
    """

    onset: ArrayLike
    gasification_heat: ArrayLike
    char_yield: ArrayLike = 0.0
    char_retained: ArrayLike = 0.0
    char_conductivity: ArrayLike = 0.2
    density: ArrayLike = np.nan
    vapour_heat_capacity: ArrayLike = 0.0


# field -> lowest and whether it may be equal to it; feedback and the like are checked on their own
_POSITIVE = ("thickness", "conductivity", "density", "heat_capacity", "onset", "gasification_heat",
             "char_conductivity", "heat_capacity_values", "initial")  # fmt: skip
_NOT_NEGATIVE = ("contact_resistance", "ring_conductance", "coefficient", "radiation_emissivity", "temperature",
                 "char_yield", "char_retained", "vapour_heat_capacity")  # fmt: skip
_AT_MOST_ONE = ("radiation_emissivity", "char_yield", "char_retained")


def check_times(times: ArrayLike) -> Floats:
    """Return the times at which the result is wanted as a row, `(n_time,)` [s].

    Raises
    ------
    OutOfRange
        not one row of finite seconds, from 0 on, rising.
    """
    when = np.atleast_1d(np.asarray(times, dtype=np.float64))
    if when.ndim != 1 or when.size == 0 or not np.all(np.isfinite(when)):
        raise OutOfRange(f"times: shape {when.shape}; must be one row of finite seconds")
    if when[0] < 0 or np.any(np.diff(when) <= 0) or when[-1] <= 0:
        raise OutOfRange("times: must rise, from 0 s on, and end after 0 s")
    return when


def _each_field(parts: Sequence[Any]) -> Iterator[tuple[str, str, Floats]]:
    for place, part in parts:
        for field in fields(part):
            value = getattr(part, field.name)
            if value is not None:
                yield place, field.name, np.asarray(value, dtype=np.float64)


def _check(place: str, name: str, value: Floats) -> None:
    """Refuse what no crown can have; NaN passes, to come out as NaN."""
    wrong = None
    if name in _POSITIVE and np.any(value <= 0):
        wrong = f"got {np.nanmin(value):g}; must be above 0"
    elif name in _NOT_NEGATIVE and np.any(value < 0):
        wrong = f"got {np.nanmin(value):g}; must be 0 or more"
    elif name in _AT_MOST_ONE and np.any(value > 1):
        wrong = f"got {np.nanmax(value):g}; must be at most 1"
    elif name == "feedback" and np.any(value >= 1):
        wrong = f"got {np.nanmax(value):g}; must be below 1, or the gas would outrun the wall"
    elif np.any(np.isinf(value)):
        wrong = "got inf; must be finite"
    if wrong:
        raise OutOfRange(f"{place}, {name}: {wrong}")


def check_crown(parts: Sequence[tuple[str, Any]], start: Floats) -> tuple[int, bool]:
    """Refuse what no crown can have; return the number of draws and whether there are none at all.

    Raises
    ------
    OutOfRange
        a number that means nothing here; fields with draws of different number.
    """
    _check("start", "initial", start)
    counts = {start.shape[0]} if start.ndim else set()
    for place, name, value in _each_field(parts):
        _check(place, name, value)
        flat = 1 if name.startswith("heat_capacity_") else 0
        if value.ndim > flat + 1:
            raise OutOfRange(f"{place}, {name}: got shape {value.shape}; must be a number or one for each draw")
        if value.ndim == flat + 1:
            counts.add(value.shape[flat])
    if len(counts - {1}) > 1:
        raise OutOfRange(f"draws: fields have {sorted(counts)} of them; all must have the same number, or one")
    return max(counts, default=1), not counts
