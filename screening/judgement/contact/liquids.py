"""A fuel as a polymer meets it: the mixture and each of its liquids, with its activity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.quantities import ROOM_TEMPERATURE
from screening.records.liquids import open_tables
from screening.records.liquids.blend_vapour import activity_coefficients
from screening.records.liquids.find_fuel import Fuel
from screening.records.liquids.pure_liquids import Liquid, place_choice
from screening.records.tables.assumptions import load_assumptions

Shares = tuple[tuple[str, float], ...]
"""(CAS number or name, volume fraction) of what a liquid is made of."""

ASSOCIATED = 12.0
"""dH [MPa^0.5] above which a liquid is bonded to itself as alcohols and water are (Hansen 2007: alcohols 12 to 22)."""
_DENSITY_UNKNOWN = 850.0
"""[kg/m3] of a liquid whose density is not known: it enters the softening alone, and there hardly."""


@dataclass(frozen=True)
class WettingLiquid:
    """One liquid, or a mixture taken as one, that a polymer meets.

    `hansen` [MPa^0.5]; `molar_volume` [m3/mol]; `density` [kg/m3]; `transition` its glass transition [K]; `activity` at
    which it stands in the fuel [1]; `shares` (CAS or name, volume fraction) of what it is made of; `associated`
    whether it is an alcohol or water.
    """

    name: str
    hansen: tuple[float, float, float]
    molar_volume: float
    density: float
    transition: float
    activity: float
    shares: tuple[tuple[str, float], ...]
    associated: bool


@dataclass(frozen=True, eq=False)
class LiquidArrays:
    """Several liquids side by side: `hansen` (n_liquid, 3), all else (n_liquid,); units as in `WettingLiquid`."""

    hansen: FloatArray
    molar_volume: FloatArray
    density: FloatArray
    transition: FloatArray
    activity: FloatArray
    associated: NDArray[np.bool_]


def side_by_side(liquids: Sequence[WettingLiquid]) -> LiquidArrays:
    """Return liquids as arrays, to judge many at once."""
    numbers = [(q.molar_volume, q.density, q.transition, q.activity) for q in liquids]
    volume, density, transition, activity = np.array(numbers, dtype=float).reshape(-1, 4).T
    hansen = np.array([q.hansen for q in liquids], dtype=float).reshape(-1, 3)
    associated = np.array([q.associated for q in liquids], dtype=bool)
    return LiquidArrays(hansen, volume, density, transition, activity, associated)


@lru_cache(maxsize=512)
def wetting_liquids(fuel: Fuel, temperature: float = ROOM_TEMPERATURE) -> tuple[WettingLiquid, ...]:
    """Return the fuel as one liquid first, then each component of a blend alone at its own activity, then those that
    are no alcohols together, and the alcohols together.

    Empty where the mixture's Hansen parameters or molar volume are not known.
    """
    if fuel.hansen is None or fuel.molar_volume is None:
        return ()
    shares = fuel_shares(fuel)
    density = fuel.density or _DENSITY_UNKNOWN
    transition = 1 / sum(share.mass_fraction / liquid_transition(share.component) for share in fuel.components)
    whole = WettingLiquid(
        fuel.name, fuel.hansen, fuel.molar_volume, density, transition, 1.0, shares, fuel.hansen[2] > ASSOCIATED
    )
    if len(fuel.components) == 1:
        return (whole,)
    activities = component_activities(fuel, temperature)
    parts = [_part(share.component, activity) for share, activity in zip(fuel.components, activities, strict=True)]
    amounts = [share.mole_fraction for share in fuel.components]
    known = [(part, amount) for part, amount in zip(parts, amounts, strict=True) if part is not None]
    kinds = [[pair for pair in known if pair[0].associated is kind] for kind in (False, True)]
    pooled = [_pooled(kind, fuel.name) for kind in kinds if len(kind) < len(known)]
    return (whole, *(part for part, _ in known), *(part for part in pooled if part is not None))


def _pooled(parts: list[tuple[WettingLiquid, float]], fuel: str) -> WettingLiquid | None:
    """Return all parts of one kind (bonded to themselves or not) as one liquid; None for fewer than two.

    Petrol's many hydrocarbons act together where alcohol is left outside, each at a small activity of its own. Among
    themselves they mix nearly ideally, so that their activities add up.
    """
    if len(parts) < 2:
        return None
    amount = sum(n for _, n in parts)
    volume = sum(n * part.molar_volume for part, n in parts)
    shares = [(part, n * part.molar_volume / volume) for part, n in parts]
    d, p, h = (sum(share * part.hansen[axis] for part, share in shares) for axis in range(3))
    kind = "alcohols" if parts[0][0].associated else "what is not alcohol"
    mass = sum(share * part.density for part, share in shares)
    return WettingLiquid(
        name=f"{kind} of {fuel}",
        hansen=(d, p, h),
        molar_volume=volume / amount,
        density=mass,
        transition=mass / sum(share * part.density / part.transition for part, share in shares),
        activity=min(1.0, sum(part.activity for part, _ in parts)),
        shares=tuple((part.shares[0][0], share) for part, share in shares),
        associated=parts[0][0].associated,
    )


def fuel_shares(fuel: Fuel) -> tuple[tuple[str, float], ...]:
    """Return (CAS number or name, volume fraction) of each pure liquid of a fuel."""
    return tuple((share.component.cas or share.component.name, share.volume_fraction) for share in fuel.components)


def shared_volume(one: tuple[tuple[str, float], ...], other: tuple[tuple[str, float], ...]) -> float:
    """Share that two liquids have in common, by volume, 0 to 1."""
    theirs = dict(other)
    return sum(min(fraction, theirs.get(name, 0.0)) for name, fraction in one)


def shared_volumes(ones: Sequence[Shares], others: Sequence[Shares]) -> FloatArray:
    """Return `shared_volume` of each of some liquids with each of others, (n_one, n_other)."""
    every = dict.fromkeys(name for shares in (*ones, *others) for name, _ in shares)  # in order: sums repeat
    names = {name: place for place, name in enumerate(every)}

    def fractions(liquids: Sequence[Shares]) -> FloatArray:
        found = np.zeros((len(liquids), len(names)))
        for row, shares in enumerate(liquids):
            for name, fraction in shares:
                found[row, names[name]] += fraction
        return found

    return np.asarray(np.minimum(fractions(ones)[:, None], fractions(others)).sum(axis=-1))


def _part(liquid: Liquid, activity: float) -> WettingLiquid | None:
    volume = liquid.typical("molar_volume")
    if liquid.hansen is None or volume is None:
        return None
    return WettingLiquid(
        liquid.name,
        liquid.hansen,
        volume,
        liquid.molar_mass / volume,
        liquid_transition(liquid),
        activity,
        ((liquid.cas or liquid.name, 1.0),),
        liquid.hansen[2] > ASSOCIATED,
    )


@lru_cache(maxsize=512)
def component_activities(fuel: Fuel, temperature: float) -> tuple[float, ...]:
    """Return the activity of each component of a blend [1], at most 1: mole fraction times UNIFAC coefficient.

    Where a component's groups are not known all coefficients are taken as 1, which is too low for alcohols in petrol.
    """
    moles = [share.mole_fraction for share in fuel.components]
    if not all(share.component.groups for share in fuel.components):
        return tuple(moles)
    coefficients = activity_coefficients([share.component for share in fuel.components], moles, [temperature])[0]
    return tuple(min(1.0, float(x * gamma)) for x, gamma in zip(moles, coefficients, strict=True))


def liquid_transition(liquid: Liquid) -> float:
    """Return a small molecule's glass transition [K] as two thirds of its melting point."""
    return _transition_of(liquid.cas)


def _transition_of(cas: str | None) -> float:
    assumed, melting = load_assumptions(), _melting_point(cas) if cas else None
    if melting is None:
        return assumed["liquid_transition"].typical
    return assumed["liquid_transition_ratio"].typical * melting


@lru_cache(maxsize=256)
def _melting_point(cas: str) -> float | None:
    from chemicals import Tm

    found = Tm(cas)
    return None if found is None else float(found)


def plain_liquid(name: str, cas: str) -> WettingLiquid:
    """Return a liquid that is not curated, maybe no fuel (a chlorinated solvent), to judge a contact with it.

    Raises LookupError where its Hansen parameters or its molar volume are not in the open tables.
    """
    from chemicals import MW

    identity = open_tables.identify(cas)
    if identity is None:
        raise LookupError(f"{name} ({cas}): not in the open tables")
    needed = ("hansen_d", "hansen_p", "hansen_h", "molar_volume")
    chosen = {key: place_choice(key, values) for key, values in open_tables.place_candidates(identity).items()}
    found = {key: choice.typical for key, choice in chosen.items() if choice is not None}
    missing = [key for key in needed if key not in found]
    if missing:
        raise LookupError(f"{name} ({cas}): {', '.join(missing)} not in the open tables")
    d, p, h, volume = (found[key] for key in needed)
    transition = _transition_of(cas)
    density = float(MW(cas)) / 1000 / volume
    return WettingLiquid(name, (d, p, h), volume, density, transition, 1.0, ((cas, 1.0),), h > ASSOCIATED)
