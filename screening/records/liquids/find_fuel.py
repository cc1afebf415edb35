"""Finding a fuel by what the builder calls it, and what it asks of the carburettor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from screening.errors import UnknownName
from screening.records.liquids.blends import mix, parse_blend
from screening.records.liquids.fuel import Fuel, Share
from screening.records.liquids.own_fuel import own_fuel
from screening.records.liquids.pump_fuels import pump_fuel, pump_fuel_names, pump_fuel_row
from screening.records.liquids.pure_fuels import pure_fuel
from screening.records.liquids.pure_liquids import find_liquid, known_liquids

__all__ = ["Fuel", "MixtureSetting", "Share", "find_fuel", "known_fuels", "mixture_setting", "own_fuel"]


HOW_WRITTEN = (
    "must be a name, a CAS number or a blend by volume that totals 100, such as 'ethanol 70, cyclopentanone 30'"
)


class MixtureSetting(NamedTuple):
    """How a carburettor set for one fuel must be changed for another.

    `fuel_mass_ratio`: fuel mass against the reference's at the same air, with its range.
    `jet_area_ratio`: jet area at the same pressure drop; None without both densities.
    """

    fuel_mass_ratio: float
    fuel_mass_ratio_range: tuple[float, float]
    jet_area_ratio: float | None


def mixture_setting(fuel: Fuel, reference: Fuel) -> MixtureSetting:
    """Fuel for the same air, relative to the reference, and the jet that passes it.

    mass ratio = AFR_ref / AFR; area ratio = mass ratio x sqrt(rho_ref / rho), from the flow
    C A sqrt(2 rho dp) with the same discharge coefficient: a thicker liquid needs a little more.

    Examples
    --------
    >>> round(mixture_setting(find_fuel("ethanol"), find_fuel("isooctane")).fuel_mass_ratio, 2)
    1.68
    """
    ratio = reference.air_fuel_ratio / fuel.air_fuel_ratio
    wanted = fuel.ranges.get("air_fuel_ratio", (fuel.air_fuel_ratio,) * 2)
    other = reference.ranges.get("air_fuel_ratio", (reference.air_fuel_ratio,) * 2)
    area = None
    if fuel.density is not None and reference.density is not None:
        area = ratio * (reference.density / fuel.density) ** 0.5
    return MixtureSetting(ratio, (other[0] / wanted[1], other[1] / wanted[0]), area)


def find_fuel(name: str | Mapping[str, Any]) -> Fuel:
    """Return a fuel by name, CAS number, blend by volume, or from a mapping that describes a liquid of the user's.

    A blend is `name percent, name percent` and totals 100; it may hold pump fuels. Names must match
    exactly, but for case. Results are cached.

    Parameters
    ----------
    name : str or mapping

    Returns
    -------
    Fuel

    Raises
    ------
    UnknownName
        If no table has a name (it is a LookupError); the message offers near ones.
    CaseError
        If a blend does not total 100, or a liquid holds other elements than C, H, O, N.

    Examples
    --------
    >>> round(find_fuel("ethanol").air_fuel_ratio, 2)
    9.0
    >>> [share.component.name for share in find_fuel("ethanol 70, cyclopentanone 30").components]
    ['ethanol', 'cyclopentanone']
    """
    if isinstance(name, Mapping):
        return own_fuel(name)
    return _find_fuel(" ".join(name.split()))


@lru_cache(maxsize=256)
def _find_fuel(name: str) -> Fuel:
    row = pump_fuel_row(name)
    if row is not None:
        parts = _parts(parse_blend(row.composition) or [])
        return pump_fuel(row, mix(parts, row.name, kind="pump fuel or surrogate"))
    # no liquid's name reads as a blend of several, and to look for one in the open tables takes a second
    named = parse_blend(name) if "," in name else None
    if named is None:
        try:
            return pure_fuel(find_liquid(name))
        except UnknownName:
            named = parse_blend(name)
            if named is None:
                raise UnknownName("fuel", name, known_fuels(), HOW_WRITTEN) from None
    if len(named) == 1:
        return _find_fuel(named[0][0])
    return mix(_parts(named), name)


def _parts(named: Sequence[tuple[str, float]]) -> list[tuple[Fuel, float]]:
    """Return (fuel, volume fraction) of (name, percent) pairs, the fractions totalling 1."""
    total = sum(percent for _, percent in named)
    return [(_find_fuel(part), percent / total) for part, percent in named]


def known_fuels() -> tuple[str, ...]:
    """Return the names of the curated liquids and of the pump fuels and surrogates.

    Returns
    -------
    tuple of str
        Each is understood by `find_fuel`, which knows the liquids of the open tables as well.

    Examples
    --------
    >>> {"ethanol", "petrol E10", "cyclopentanone"} <= set(known_fuels())
    True
    """
    return (*pump_fuel_names(), *known_liquids())
