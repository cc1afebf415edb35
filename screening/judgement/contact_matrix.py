"""Many materials against many fuels at once: the outcome of each pair, what it rests on and how sure it is."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import pandas as pd

from screening.judgement.case import Case
from screening.judgement.contact import judged_contact
from screening.judgement.contact_exposures import ROOM
from screening.records.fuels import Fuel, find_fuel
from screening.records.package import data_digest

COLUMNS = ("material", "fuel", "outcome", "evidence", "confidence", "volume_swell", "distance_ratio")


def contact_matrix(
    material_ids: Sequence[str],
    fuels: Sequence[Fuel | str],
    temperature: float = ROOM,
    exposure: str = "soak",
    case: Case | None = None,
) -> pd.DataFrame:
    """Return one row a pair with `COLUMNS`; pivot it on material and fuel for the matrix.

    Materials and fuels keep their order. Kept in memory by content: ids, fuels, conditions, the case and the tables.

    Parameters
    ----------
    temperature : float
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
    temperature: float,
    exposure: str,
    case: Case | None,
    digest: str,
) -> tuple[tuple[str | float, ...], ...]:
    rows = []
    for material in materials:
        for fuel in fuels:
            judged = judged_contact(material, fuel, temperature, exposure, case)
            rows.append((material, fuel.name, judged.outcome, judged.evidence, judged.confidence,
                         judged.volume_swell, judged.distance_ratio))  # fmt: skip
    return tuple(rows)
