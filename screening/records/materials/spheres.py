"""Published solubility spheres and published contacts of materials with liquids."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from screening.quantities import to_si
from screening.records.tables.package import read_rows

OUTCOMES = ("dissolves", "swells strongly", "swells", "slight", "none", "stress cracks")


@dataclass(frozen=True)
class HansenSphere:
    """One published sphere: centre (dD, dP, dH) and radius R0 (NaN: only the place is published), all [MPa^0.5].

    `edge` is what happens within it, "dissolution" or "attack" ("none": no radius); `speaks_of` is "swelling" or
    "breakthrough" of gloves; `weight` [1] is how much it counts beside others.
    """

    material: str
    dD: float
    dP: float
    dH: float
    R0: float
    conditions: str
    edge: str
    speaks_of: str
    weight: float
    source: str
    how: str
    note: str

    @property
    def centre(self) -> tuple[float, float, float]:
        """Return dD, dP, dH [MPa^0.5]."""
        return self.dD, self.dP, self.dH


@dataclass(frozen=True)
class ContactObservation:
    """One published contact; `temperature` [K], `time` [s], changes as fractions; NaN where not stated.

    `outcome` is one of `OUTCOMES`; the table's description says which swell each stands for.
    """

    material: str
    fluid: str
    cas: str
    temperature: float
    time: float
    outcome: str
    volume_change: float
    mass_change: float
    state: str
    source: str
    how: str
    note: str


@lru_cache(maxsize=8)
def load_spheres(folder: Path | None = None) -> Mapping[str, tuple[HansenSphere, ...]]:
    """Return every published sphere, by material id; a material without one has no entry."""
    by_material: dict[str, list[HansenSphere]] = {}
    for _, row in read_rows("hansen_spheres", folder):
        by_material.setdefault(row["material"], []).append(HansenSphere(**row))
    return MappingProxyType({material: tuple(spheres) for material, spheres in by_material.items()})


@dataclass(frozen=True)
class NearPolymers:
    """The materials whose spheres stand in for one that has none, and why."""

    stand_ins: tuple[str, ...]
    why: str


@lru_cache(maxsize=8)
def load_near_polymers(folder: Path | None = None) -> Mapping[str, NearPolymers]:
    """Materials whose spheres stand in, by the id of the one without a sphere."""
    by_material: dict[str, NearPolymers] = {}
    for _, row in read_rows("near_polymers", folder):
        former = by_material.get(row["material"])
        stand_ins = (row["stands_in"],) if former is None else (*former.stand_ins, row["stands_in"])
        by_material[row["material"]] = NearPolymers(stand_ins, row["why"])
    return MappingProxyType(by_material)


@lru_cache(maxsize=8)
def load_observations(folder: Path | None = None) -> Mapping[str, tuple[ContactObservation, ...]]:
    """Return every published contact, by material id; a material without one has no entry."""
    by_material: dict[str, list[ContactObservation]] = {}
    for _, row in read_rows("contact_observations", folder):
        observation = ContactObservation(
            material=row["material"],
            fluid=row["fluid"],
            cas=row["cas"],
            temperature=to_si(row["temperature_C"], "degC"),
            time=to_si(row["time_h"], "h"),
            outcome=row["outcome"],
            volume_change=_fraction(row["volume_change_percent"]),
            mass_change=_fraction(row["mass_change_percent"]),
            state=row["state"],
            source=row["source"],
            how=row["how"],
            note=row["note"],
        )
        by_material.setdefault(observation.material, []).append(observation)
    return MappingProxyType({material: tuple(rows) for material, rows in by_material.items()})


def _fraction(percent: float) -> float:
    return to_si(percent, "%") if math.isfinite(percent) else math.nan
