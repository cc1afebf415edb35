"""Mixing liquids by volume: what adds by volume, by mass, by amount, and what is only bounded."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

from screening.errors import CaseError, Fault
from screening.records.liquids.blend_vapour import bubble_curve
from screening.records.liquids.fuel import Fuel, Share
from screening.records.liquids.pure_liquids import Liquid

_PART = re.compile(r"\s*(?P<name>\S.*?)\s+(?P<percent>\d+(?:\.\d+)?)\s*%?\s*(?:,|$)")
_TOTAL_TOLERANCE = 0.05


def parse_blend(text: str) -> list[tuple[str, float]] | None:
    """Return (name, percent) of each part, or None when the text is not written as a blend.

    The text is split only at a comma that follows a percentage, so `2,5-dimethylfuran 30, ethanol 70` and
    `1,2,4-trimethylbenzene 10, toluene 90` are read right.

    Raises
    ------
    CaseError
        If the parts do not total 100, or one is not above zero.
    """
    parts: list[tuple[str, float]] = []
    position = 0
    while position < len(text):
        match = _PART.match(text, position)
        if match is None:
            return None
        parts.append((match["name"].strip(), float(match["percent"])))
        position = match.end()
    if not parts:
        return None
    faults = [
        Fault("fuel", f"{name} {percent:g} %: a share must be above 0") for name, percent in parts if percent <= 0
    ]
    total = sum(percent for _, percent in parts)
    if abs(total - 100.0) > _TOTAL_TOLERANCE:
        faults.append(
            Fault(
                "fuel",
                f"{text!r} totals {total:g} %; shares by volume must total 100 (name percent, name percent)",
            )
        )
    if faults:
        raise CaseError(faults)
    return parts


def mix(parts: Sequence[tuple[Fuel, float]], name: str, kind: str = "blend") -> Fuel:
    """Return the blend of `parts`, each a fuel and its volume fraction.

    Raises
    ------
    CaseError
        If the density of a part is unknown: shares by volume then say nothing about mass.
    """
    faults = [
        Fault("fuel", f"no density of {part.name} is known, so it cannot be blended by volume")
        for part, _ in parts
        if part.density is None
    ]
    if faults:
        raise CaseError(faults)
    shares = _shares(parts)
    mass = _mass_fractions(parts)
    liquids = tuple(share.component for share in shares)
    moles = tuple(share.mole_fraction for share in shares)
    atoms = {
        element: sum(share.mole_fraction * getattr(share.component, element) for share in shares)
        for element in ("carbon", "hydrogen", "oxygen", "nitrogen")
    }
    curve, vapour_method = (
        (liquids[0].vapour, liquids[0].vapour_source) if len(liquids) == 1 else bubble_curve(liquids, moles)
    )
    values = _blended_values(parts, shares, mass)
    values["boiling_point"] = None if curve is None else curve.boiling_point()
    hansen = _mean_hansen(parts)
    reasons = _reasons(parts, liquids, {**values, "hansen": hansen, "vapour_pressure": curve}, vapour_method)
    return Fuel(
        name=name,
        cas=liquids[0].cas if len(liquids) == 1 else None,
        kind=kind,
        components=shares,
        hansen=hansen,
        vapour_curve=curve,
        range_pairs=tuple(_ranges(parts, mass)),
        source_pairs=tuple(_sources(parts, vapour_method, [key for key, _ in reasons])),
        reason_pairs=tuple(reasons),
        **atoms,
        **values,
    )


def _blended_values(
    parts: Sequence[tuple[Fuel, float]], shares: Sequence[Share], mass: Sequence[float]
) -> dict[str, Any]:
    """Return the blend's values that follow from its parts' by volume, mass [1] or mole."""
    liquids = tuple(share.component for share in shares)
    moles = tuple(share.mole_fraction for share in shares)
    volumes = [fraction for _, fraction in parts]
    return {
        "density": _mean((part.density for part, _ in parts), volumes),
        "lower_heating_value": _mean((part.lower_heating_value for part, _ in parts), mass),
        "latent_heat": _mean((part.latent_heat for part, _ in parts), mass),
        "molar_volume": _mean((liquid.typical("molar_volume") for liquid in liquids), moles),
        "enthalpy_of_formation_liquid": _mean((q.typical("enthalpy_of_formation_liquid") for q in liquids), moles),
        "enthalpy_of_formation_gas": _mean((q.typical("enthalpy_of_formation_gas") for q in liquids), moles),
        "flash_point": _lowest(parts, "flash_point"),
        "autoignition": _lowest(parts, "autoignition"),
        "lower_flammability_limit": _le_chatelier(liquids, moles, "lower"),
        "upper_flammability_limit": _le_chatelier(liquids, moles, "upper"),
    }


def _mass_fractions(parts: Sequence[tuple[Fuel, float]]) -> list[float]:
    masses = [volume * (part.density or 0.0) for part, volume in parts]
    return [mass / sum(masses) for mass in masses]


def _shares(parts: Sequence[tuple[Fuel, float]]) -> tuple[Share, ...]:
    """Return the pure liquids of all parts, the same liquid of two parts added up, in order of first use."""
    volume: dict[Liquid, float] = {}
    mass: dict[Liquid, float] = {}
    for (part, part_volume), part_mass in zip(parts, _mass_fractions(parts), strict=True):
        for share in part.components:
            volume[share.component] = volume.get(share.component, 0.0) + part_volume * share.volume_fraction
            mass[share.component] = mass.get(share.component, 0.0) + part_mass * share.mass_fraction
    amount = {liquid: fraction / liquid.molar_mass for liquid, fraction in mass.items()}
    total = sum(amount.values())
    return tuple(Share(liquid, volume[liquid], mass[liquid], amount[liquid] / total) for liquid in mass)


def _mean(values: Iterable[float | None], weights: Iterable[float]) -> float | None:
    """Return the weighted mean, or None when one of the values is unknown."""
    pairs = list(zip(values, weights, strict=True))
    if any(value is None for value, _ in pairs):
        return None
    return sum(value * weight for value, weight in pairs if value is not None)


def _mean_hansen(parts: Sequence[tuple[Fuel, float]]) -> tuple[float, float, float] | None:
    """Return the volume-fraction average of the Hansen parameters [MPa^0.5]."""
    places = [(part.hansen, volume) for part, volume in parts if part.hansen is not None]
    if len(places) < len(parts):
        return None
    d, p, h = (sum(hansen[axis] * volume for hansen, volume in places) for axis in range(3))
    return (d, p, h)


def _lowest(parts: Sequence[tuple[Fuel, float]], name: str) -> float | None:
    """Return the lowest value of the parts that burn: a bound on the blend's. None when one is unknown."""
    values = [getattr(part, name) for part, _ in parts if part.oxygen_need > 0]
    return None if not values or any(value is None for value in values) else min(values)


def _le_chatelier(liquids: Sequence[Liquid], moles: Sequence[float], end: str) -> float | None:
    """Return the flammability limit of the wholly evaporated blend: 1 / sum(y_i / L_i), water left out."""
    burning = [(q.typical(f"{end}_flammability_limit"), x) for q, x in zip(liquids, moles, strict=True) if q.carbon]
    if not burning or any(limit is None for limit, _ in burning):
        return None
    return sum(x for _, x in burning) / sum(x / limit for limit, x in burning if limit)


_WEIGHTED_BY_MASS = ("lower_heating_value", "latent_heat", "air_fuel_ratio")


def _ranges(parts: Sequence[tuple[Fuel, float]], mass: Sequence[float]) -> list[tuple[str, float, float]]:
    """Return the ranges of a blend: its parts' ends weighted as the value is, all low or all high at once."""
    spreads: list[tuple[str, float, float]] = []
    for name in (*_WEIGHTED_BY_MASS, "density"):
        weights = mass if name in _WEIGHTED_BY_MASS else [volume for _, volume in parts]
        if all(name not in part.ranges for part, _ in parts):
            continue
        ends = [part.ranges.get(name, (getattr(part, name),) * 2) for part, _ in parts]
        low, high = (_mean((end[side] for end in ends), weights) for side in (0, 1))
        if low is not None and high is not None:
            spreads.append((name, low, high))
    return spreads


_RULES = {
    "density": "by volume",
    "lower_heating_value": "by mass",
    "latent_heat": "by mass, without heat of mixing",
    "molar_volume": "by amount",
    "hansen": "by volume",
    "enthalpy_of_formation_liquid": "by amount, without heat of mixing",
    "enthalpy_of_formation_gas": "by amount",
    "flash_point": "lowest of the components, a bound",
    "autoignition": "lowest of the components, a bound",
    "lower_flammability_limit": "Le Chatelier's rule, wholly evaporated",
    "upper_flammability_limit": "Le Chatelier's rule, wholly evaporated",
}


def _sources(parts: Sequence[tuple[Fuel, float]], vapour_method: str, unknown: Sequence[str]) -> list[tuple[str, str]]:
    """Source of each value of the blend: the mixing rule, then the source of each part."""
    origins = [
        (name, f"{rule}; " + "; ".join(f"{part.name}: {part.source(name)}" for part, _ in parts))
        for name, rule in _RULES.items()
        if name not in unknown
    ]
    origins += [(name, parts[0][0].source(name)) for name in ("air_fuel_ratio", "oxygen_need", "molar_mass")]
    if "vapour_pressure" not in unknown:
        origins += [("vapour_pressure", vapour_method), ("boiling_point", f"first bubble; {vapour_method}")]
    return origins


def _reasons(
    parts: Sequence[tuple[Fuel, float]],
    liquids: Sequence[Liquid],
    values: dict[str, object],
    vapour_method: str,
) -> list[tuple[str, str]]:
    """Return the unknown properties of the blend, each with the reason."""
    reasons: list[tuple[str, str]] = []
    for name, value in values.items():
        if value is not None:
            continue
        lacking = [part.name for part, _ in parts if name in part.unknown]
        if name in ("vapour_pressure", "boiling_point"):
            reasons.append((name, vapour_method))
        elif lacking:
            reasons.append((name, f"no published value for {', '.join(lacking)}"))
        else:
            names = ", ".join(liquid.name for liquid in liquids if liquid.value(name) is None)
            reasons.append((name, f"no published value for {names}" if names else "not known for this blend"))
    return reasons
