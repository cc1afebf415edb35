"""A material as a liquid meets it: where it lies in Hansen space, and what holds its chains together."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.draws.polymer import case_material
from screening.records.materials.materials import Material, load_materials
from screening.records.materials.spheres import HansenSphere, load_near_polymers, load_spheres
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.sources import source

FILLER_DENSITIES = {"carbon fibre": "carbon_fibre_density", "glass fibre": "glass_fibre_density"}
"""Filler -> name of its density among the assumptions; all others are taken as glass beads."""
NETWORK, LINKED = "network", "linked"
"""What holds a polymer's chains, as the table of materials says it: a network, or links beside its crystals."""
_UNKNOWN = (np.nan, np.nan, np.nan)
Triple = tuple[float, float, float]


@dataclass(frozen=True)
class Place:
    """One published place of the polymer in Hansen space; `radius` NaN where only the centre is known [MPa^0.5].

    `edge` says what the sphere's surface is: "dissolution" (chi 0.5) or "attack" (swell at the line between slight
    and swells of the polymer that the sphere was drawn for, of which `share` takes up liquid [1] and `links` hold it
    [mol/m3]); `weight` is how far it is trusted.
    """

    centre: tuple[float, float, float]
    radius: float
    edge: str
    share: float
    links: float
    weight: float
    told: str


@dataclass(frozen=True, eq=False)
class PolymerNature:
    """What decides how a material answers a liquid; triples are (low, typical, high), SI.

    `kind` is "glassy", "semicrystalline" or "network"; `links` active chains of the part that swells [mol/m3];
    `crystallinity` and `filler` volume shares; `fusion` heat of fusion of its crystals [J/m3]; `diffusion` of a
    small liquid at 296 K [log10(m2/s)] and its `activation` energy [J/mol], NaN where not known; `deviation` of a
    fluorocarbon from the geometric mean [1], 0 for others.
    """

    id: str
    name: str
    base: str
    kind: str
    transition: float
    melting: float
    density: float
    crystallinity: tuple[float, float, float]
    links: tuple[float, float, float]
    filler: float
    fusion: float
    linked: bool
    diffusion: tuple[float, float, float]
    activation: tuple[float, float, float]
    amide: bool
    deviation: float
    printed: bool
    places: tuple[Place, ...]
    near: str

    @property
    def active_share(self) -> float:
        """Share of the volume that can take up liquid: neither crystal nor filler [1]."""
        return (1 - self.crystallinity[1]) * (1 - self.filler)


def polymer_nature(material_id: str, case: Case | None = None) -> PolymerNature | None:
    """Return a material's nature, or None for a metal or a ceramic; unknown ids raise UnknownName.

    A material of the case's own takes its base's places, with its own values over the base's.
    """
    if case is not None and any(own.id == material_id for own in case.own_materials):
        return _nature(case_material(case, material_id))
    return _table_nature(material_id)


@lru_cache(maxsize=256)
def _table_nature(material_id: str) -> PolymerNature | None:
    return _nature(load_materials().get(material_id))


def _nature(material: Material) -> PolymerNature | None:
    if material.morphology not in ("amorphous", "semicrystalline", "elastomer"):
        return None
    places, near = _places(material)
    kind, crystallinity, links, filler = _holding(material)
    density = _typical(material, "density", 1200.0)
    fusion = _typical(material, "heat_of_fusion", np.nan) * density / max(crystallinity[1], 0.05)
    return PolymerNature(
        id=material.id,
        name=material.name,
        base=material.base,
        kind=kind,
        transition=_typical(material, "glass_transition", np.nan),
        melting=_typical(material, "melting_point", np.nan),
        density=density,
        crystallinity=crystallinity,
        links=links,
        filler=filler,
        fusion=float(fusion) if np.isfinite(fusion) else load_assumptions()["perfect_crystal_fusion"].typical,
        linked=material.chains == LINKED,
        diffusion=_triple(material, "diffusion_liquid", _UNKNOWN),
        activation=_triple(material, "diffusion_activation", _UNKNOWN),
        deviation=_typical(material, "fluorocarbon_deviation", 0.0),
        amide=material.family == "polyamide",
        printed="printable" in material.roles,
        places=places,
        near=near,
    )


def _holding(material: Material) -> tuple[str, Triple, Triple, float]:
    """Return the kind of a polymer and what keeps it from taking up liquid: crystallinity, links, filler."""
    crystallinity = _triple(material, "crystallinity", (0.0, 0.0, 0.0))
    links = _triple(material, "crosslink_density", (0.0, 0.0, 0.0))
    kind = {"amorphous": "glassy", "semicrystalline": "semicrystalline", "elastomer": "network"}[material.morphology]
    assumed = load_assumptions()
    if kind == "semicrystalline":
        tie = assumed["tie_chains"]
        links = (links[0] + tie.low, links[1] + tie.typical, links[2] + tie.high)
        if material.chains == NETWORK:
            kind, links = "network", _triple(material, "crosslink_density", links)
    share = material.filler_mass_fraction
    density = assumed[FILLER_DENSITIES.get(material.filler, "glass_bead_density")].typical
    return kind, crystallinity, links, share * _typical(material, "density", 1200.0) / density


def _triple(material: Material, name: str, otherwise: tuple[float, float, float]) -> tuple[float, float, float]:
    value = material.value(name)
    return otherwise if value is None else (value.low, value.typical, value.high)


def _typical(material: Material, name: str, otherwise: float) -> float:
    value = material.value(name)
    return otherwise if value is None else value.typical


def _places(material: Material) -> tuple[tuple[Place, ...], str]:
    """Return the published places of a material and, where they are a near polymer's, why those stand in."""
    near = load_near_polymers()
    for id in (material.id, material.base):
        own = _usable(id)
        stand_ins = near[id].stand_ins if id in near else ()
        places = (*own, *(place for other in stand_ins for place in _usable(other)))
        if stand_ins and places:
            return places, f"spheres of {' and '.join(stand_ins)}: {near[id].why}"
        if places and all(np.isnan(place.radius) for place in places):
            return places, places[0].told
        if places:
            return places, "" if id == material.id else f"spheres of {id}, the same polymer"
    return (), ""


def _usable(id: str) -> tuple[Place, ...]:
    """Return a polymer's spheres that speak of swelling; breakthrough of gloves measures permeation and is left out."""
    rows = load_spheres().get(id, ())
    if not rows:
        return ()
    _, crystallinity, links, filler = _holding(load_materials().get(id))
    share = (1 - crystallinity[1]) * (1 - filler)
    kept = [row for row in rows if row.speaks_of == "swelling"]
    return tuple(_place(row, share, links[1]) for row in kept or rows)


def _place(row: HansenSphere, share: float, links: float) -> Place:
    d, p, h = row.centre
    return Place(
        centre=(d, max(p, 0.0), max(h, 0.0)),  # a negative parameter comes from the fit alone
        radius=row.R0,
        edge=row.edge,
        share=share,
        links=links,
        weight=row.weight,
        told=f"{row.conditions} ({source(row.source).short}, {row.how})",
    )
