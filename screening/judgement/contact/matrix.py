"""Many materials against many fuels at once: the outcome of each pair, what it rests on and how sure it is."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import pandas as pd

from screening.judgement.case.case import Case
from screening.judgement.contact.pair import judged_contacts
from screening.records.liquids.find_fuel import Fuel, find_fuel
from screening.records.tables.package import data_digest

COLUMNS = ("material", "fuel", "outcome", "evidence", "confidence", "volume_swell", "distance_ratio")


def contact_matrix(
    material_ids: Sequence[str],
    fuels: Sequence[Fuel | str],
    temperature: float | None = None,
    exposure: str = "soak",
    case: Case | None = None,
) -> pd.DataFrame:
    """Return one row a pair with `COLUMNS`; pivot it on material and fuel for the matrix.

    Materials and fuels keep their order. Kept in memory by content: ids, fuels, conditions, the case and the tables.

    Parameters
    ----------
    temperature : float, optional
        [K]; see `assess_contact`.

    Raises
    ------
    UnknownName
        For an unknown material, fuel or exposure.

    Examples
    --------
    >>> frame = contact_matrix(["abs", "pp"], ["acetone", "ethanol"])
    >>> frame.pivot(index="material", columns="fuel", values="outcome").loc["abs", "acetone"]
    'dissolves'
    """
    found = tuple(find_fuel(fuel) if isinstance(fuel, str) else fuel for fuel in fuels)
    return pd.DataFrame(_rows(tuple(material_ids), found, temperature, exposure, case, data_digest()), columns=COLUMNS)


@lru_cache(maxsize=16)
def _rows(
    materials: tuple[str, ...],
    fuels: tuple[Fuel, ...],
    temperature: float | None,
    exposure: str,
    case: Case | None,
    digest: str,
) -> tuple[tuple[str | float, ...], ...]:
    found = judged_contacts(materials, fuels, temperature, exposure, case)
    return tuple(
        (material, fuel.name, cell.outcome, cell.evidence, cell.confidence, cell.volume_swell, cell.distance_ratio)
        for material, row in zip(materials, found, strict=True)
        for fuel, cell in zip(fuels, row, strict=True)
    )
