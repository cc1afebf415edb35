"""Seals, hoses, floats, tanks and buckets that the fuel wets before it reaches the piston, and what to fit instead."""

from __future__ import annotations

import pandas as pd

from screening.judgement.case.case import Case
from screening.judgement.contact.outcome_words import ATTACKED, UNKNOWN, WORDS
from screening.judgement.contact.pair import Judged, judged_contact
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.records.materials.materials import load_materials

ROLES = ("seal", "hose", "float", "tank", "bucket")
COLUMNS = ("role", "material", "name", "outcome", "evidence", "confidence", "fit_instead")
METAL_INSTEAD = {
    "seal": "a copper or aluminium sealing washer",
    "hose": "a metal pipe with compression fittings",
    "float": "a brass or stainless float",
    "tank": "a tinned or stainless steel tank",
    "bucket": "a stainless or enamelled steel bucket, earthed",
}
"""What stands in where no plastic is known to hold (common practice; metals are not judged for corrosion)."""
_SURENESS = ("none", "low", "medium", "high")


def fuel_system_advice(fuel: Fuel | str, case: Case | None = None, temperature: float | None = None) -> pd.DataFrame:
    """Contacts of a fuel with each usual material of the fuel system, soaking in it.

    One row a role and material, with `COLUMNS`: the roles in order, in each the best first. `fit_instead` names up to
    two materials of the same role that are not attacked, rated by outcome and then by how sure that is, or metal; it is
    empty where the material itself holds. A seal may swell by a few per cent and still seal; a part that moves may not.

    Raises
    ------
    UnknownName
        For an unknown fuel.
    """
    liquid = find_fuel(fuel) if isinstance(fuel, str) else fuel
    materials = load_materials()
    rows = []
    for role in ROLES:
        judged = {id: judged_contact(id, liquid, temperature, case=case) for id in materials.with_role(role)}
        order = sorted(judged, key=lambda id: (_rank(judged[id]), id))
        holding = [id for id in order if judged[id].outcome not in (*ATTACKED, UNKNOWN)]
        for id in order:
            found = judged[id]
            instead = (
                ""
                if id in holding
                else _instead(role, [_offered(materials.get(other).name, judged[other]) for other in holding[:2]])
            )
            rows.append((role, id, materials.get(id).name, found.outcome, found.evidence, found.confidence, instead))
    return pd.DataFrame(rows, columns=COLUMNS)


def _rank(found: Judged) -> tuple[int, int]:
    """Return a key that puts the least attacked first, the unknown before what is attacked, the surest first."""
    unknown = WORDS.index("slight") + 0.5
    place = unknown if found.outcome == UNKNOWN else WORDS.index(found.outcome)
    return int(2 * place), -_SURENESS.index(found.confidence)


def _offered(name: str, found: Judged) -> str:
    return f"{name} (not sure: soak-test it first)" if found.confidence == "low" else name


def _instead(role: str, holding: list[str]) -> str:
    return " or ".join([*holding, METAL_INSTEAD[role]]) if holding else METAL_INSTEAD[role]
