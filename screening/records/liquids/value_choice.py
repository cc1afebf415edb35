"""Choosing one value where open tables disagree, and keeping the spread; never the first on offer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

ENTHALPY_TOLERANCE = 3000.0
"""How far [J/mol] gas less liquid enthalpy of formation may miss the heat of vaporisation."""

FITTED_FLASH_POINTS = ("Serat DIPPR (2017)",)


@dataclass(frozen=True)
class Choice:
    """One chosen value with the spread of what was measured, and a sentence where something was set aside."""

    low: float
    typical: float
    high: float
    method: str
    note: str = ""


def choose(values: Mapping[str, float], rounding: float | None = None) -> Choice | None:
    """Return the first value in order that lies near the median of all; None when there are none.

    A single slip among three or more (a lost sign, a mistyped digit) is so never the one taken. The spread of all of them is
    kept.

    Parameters
    ----------
    values : mapping of str to float
        Method -> value, best first, all in one unit.
    rounding : float, optional
        Difference that counts as near, in the values' unit; 1 % of the median if left out.

    Returns
    -------
    Choice or None
        In the values' unit.

    Examples
    --------
    >>> choose({"first": -93.4, "second": 93.4, "third": 93.5}).typical
    93.4
    """
    if not values:
        return None
    numbers = np.array(list(values.values()))
    method = next(iter(values))
    if len(numbers) > 2:
        middle = float(np.median(numbers))
        near = max(float(np.median(np.abs(numbers - middle))), 0.01 * abs(middle) if rounding is None else rounding)
        method = next(key for key, value in values.items() if abs(value - middle) <= near)
    return Choice(float(numbers.min()), values[method], float(numbers.max()), method)


def choose_first(values: Mapping[str, float]) -> Choice | None:
    """Return the first value in order with the spread of all: for lists that copy one origin.

    Examples
    --------
    >>> choose_first({"handbook": 15.8, "a copy": 16.0})
    Choice(low=15.8, typical=15.8, high=16.0, method='handbook', note='')
    """
    if not values:
        return None
    method = next(iter(values))
    return Choice(min(values.values()), values[method], max(values.values()), method)


def choose_flash_point(values: Mapping[str, float], boiling_point: float | None) -> Choice | None:
    """Return the flash point [K], without values that break its tie to the boiling point.

    Values of a collection that holds fitted ones among the measured count only where there is no other.
    The closed-cup flash point of an organic liquid lies near 0.73 of its boiling point (kelvin), give or
    take an eighth (Satyanarayana & Rao 1992, from memory); a lost minus sign falls outside that.
    """
    values = {key: value for key, value in values.items() if key not in FITTED_FLASH_POINTS} or values
    if boiling_point is None:
        return choose(values, rounding=5.0)
    kept = {key: value for key, value in values.items() if 0.66 < value / boiling_point < 0.86}
    chosen = choose(kept, rounding=5.0)
    dropped = {key: value for key, value in values.items() if key not in kept}
    if chosen is None or not dropped:
        return chosen
    slips = ", ".join(f"{key} {value - 273.15:.0f} degC" for key, value in dropped.items())
    return Choice(chosen.low, chosen.typical, chosen.high, chosen.method, f"set aside as a slip: {slips}")


def reconcile_enthalpies(
    liquid: Mapping[str, float], gas: Mapping[str, float], vaporisation: float | None
) -> tuple[Choice | None, Choice | None]:
    """Return the enthalpies of formation (liquid, gas) [J/mol at 298.15 K] that agree with each other.

    Gas and liquid must differ by the heat of vaporisation. The liquid value taken is the first that some
    gas value supports in this sense; the gas value is the one nearest to liquid + vaporisation. One that
    is missing follows from the other; a gas value that no liquid value and no second table supports is
    not trusted.
    """
    if vaporisation is None:
        return choose(liquid, 2500.0), choose({k: v for k, v in gas.items() if k != "YAWS"}, 2500.0)

    def misses(value: float) -> float:
        return min((abs(other - value - vaporisation) for other in gas.values()), default=np.inf)

    supported = {key: value for key, value in liquid.items() if misses(value) < ENTHALPY_TOLERANCE}
    chosen = choose(supported or liquid, 2500.0)
    if chosen is None:
        from_gas = choose({k: v for k, v in gas.items() if k != "YAWS"}, 2500.0)
        if from_gas is None:
            return None, None
        method = f"{from_gas.method} gas value less the heat of vaporisation"
        low, typical, high = (end - vaporisation for end in (from_gas.low, from_gas.typical, from_gas.high))
        return Choice(low, typical, high, method), from_gas
    dropped = {key: value for key, value in liquid.items() if key not in supported} if supported else {}
    if dropped:
        set_aside = ", ".join(f"{key} {value / 1000:.1f} kJ/mol" for key, value in dropped.items())
        chosen = Choice(
            chosen.low,
            chosen.typical,
            chosen.high,
            chosen.method,
            f"set aside, contradicts the gas value and the heat of vaporisation: {set_aside}",
        )
    expected = chosen.typical + vaporisation
    return chosen, _gas_near(gas, expected)


def _gas_near(gas: Mapping[str, float], expected: float) -> Choice:
    """Return the gas enthalpy of formation that agrees with liquid + vaporisation, or that sum itself."""
    agreeing = {key: value for key, value in gas.items() if abs(value - expected) < ENTHALPY_TOLERANCE}
    if not agreeing:
        return Choice(expected, expected, expected, "liquid value plus the heat of vaporisation")
    method = min(agreeing, key=lambda key: abs(agreeing[key] - expected) > 1500.0)
    dropped = {key: value for key, value in gas.items() if key not in agreeing}
    set_aside = ", ".join(f"{key} {value / 1000:.1f} kJ/mol" for key, value in dropped.items())
    note = f"set aside, contradicts the liquid value and the heat of vaporisation: {set_aside}" if set_aside else ""
    numbers = list(agreeing.values())
    return Choice(min(numbers), agreeing[method], max(numbers), method, note)
