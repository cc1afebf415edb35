"""The whole story of one material and one fuel: every exposure, the distance to each sphere, the curve, the evidence."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.judgement.case.case import Case
from screening.judgement.contact.curve import UptakeCurve, uptake_curve
from screening.judgement.contact.evidence import of_the_pair
from screening.judgement.contact.exposures import EXPOSURES
from screening.judgement.contact.learning import nearest
from screening.judgement.contact.nature import PolymerNature, polymer_nature
from screening.judgement.contact.pair import Contact, assess_contact
from screening.judgement.contact.weighing import all_evidence
from screening.physics.contact.hansen_distance import hansen_distance_squared
from screening.quantities import ROOM_TEMPERATURE
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.records.liquids.placed_liquid import placed_liquid
from screening.sentences import Text, joined

_NEAR_MOST = 3


@dataclass(frozen=True)
class SphereDistance:
    """One published place of the polymer: centre and radius [MPa^0.5] (NaN: none), distance Ra [MPa^0.5] and RED of the
    fuel [1], what its surface means, how far it is trusted [1] and where it is published."""

    centre: tuple[float, float, float]
    radius: float
    distance: float
    distance_ratio: float
    surface: str
    weight: float
    source: str


@dataclass(frozen=True)
class ContactStory:
    """Everything that is known of a pair; `seen` tells what was seen of the very pair, `near` of liquids like it."""

    material: str
    material_name: str
    fuel: Fuel
    asked: str
    contacts: tuple[Contact, ...]
    spheres: tuple[SphereDistance, ...]
    curve: UptakeCurve | None
    seen: tuple[Text, ...]
    near: tuple[Text, ...]
    stand_in: str

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source that one of the exposures rests on, each once."""
        return tuple(dict.fromkeys(source for contact in self.contacts for source in contact.sources))


def liquid_asked(text: str) -> Fuel:
    """Return a liquid by name, CAS number or blend, or placed by its Hansen parameters and molar volume.

    Raises
    ------
    UnknownName, CaseError
        See `find_fuel` and `placed_liquid`.
    """
    return placed_liquid(text) or find_fuel(text)


def contact_story(material_id: str, fuel: Fuel | str, case: Case | None = None) -> ContactStory:
    """Return the whole story of a material and a fuel.

    Raises
    ------
    UnknownName, CaseError
        For an unknown material or fuel.
    """
    asked = fuel if isinstance(fuel, str) else fuel.name
    liquid = liquid_asked(fuel) if isinstance(fuel, str) else fuel
    contacts = tuple(assess_contact(material_id, liquid, exposure=exposure, case=case) for exposure in EXPOSURES)
    nature = polymer_nature(material_id, case)
    seen: tuple[Text, ...] = ()
    near: tuple[Text, ...] = ()
    if nature is not None:
        evidence = all_evidence(nature, case)
        same = of_the_pair(evidence, liquid, ROOM_TEMPERATURE)
        seen = tuple(piece.told for piece in same)
        others = [piece for piece in evidence if piece not in same]
        for _ in range(_NEAR_MOST):
            closest = nearest(others, liquid)
            if closest is None:
                break
            near = (*near, joined([f"Likeness of the liquids {closest[1]:.2f} of 1:", closest[0].told]))
            others.remove(closest[0])
    return ContactStory(
        material=material_id,
        material_name=contacts[0].material_name,
        fuel=liquid,
        asked=" ".join(asked.split()),
        contacts=contacts,
        spheres=() if nature is None else _spheres(nature, liquid),
        curve=uptake_curve(material_id, liquid, case),
        seen=seen,
        near=near,
        stand_in="" if nature is None else nature.near,
    )


def _spheres(nature: PolymerNature, fuel: Fuel) -> tuple[SphereDistance, ...]:
    if fuel.hansen is None:
        return ()
    meaning = {
        "dissolution": "within it liquids dissolve the polymer",
        "attack": "within it liquids attack the polymer",
        "none": "no radius is published: distance alone counts",
    }
    found = []
    for place in nature.places:
        distance = float(np.sqrt(hansen_distance_squared(fuel.hansen, place.centre)))
        ratio = distance / place.radius
        found.append(
            SphereDistance(place.centre, place.radius, distance, ratio, meaning[place.edge], place.weight, place.told)
        )
    return tuple(found)
