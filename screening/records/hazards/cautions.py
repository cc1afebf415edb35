"""Hazards of polymers, of fuels and of the work, each with the first advice."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from screening.errors import UnknownName
from screening.quantities import to_si
from screening.records.materials.materials import load_materials
from screening.records.tables.package import read_rows


@dataclass(frozen=True)
class Caution:
    """One hazard: of what, when, from which temperature `onset` [K] (NaN: any or unknown), first advice."""

    subject_kind: str
    subject: str
    hazard: str
    condition: str
    onset: float
    first_advice: str
    source: str
    how: str


@lru_cache(maxsize=8)
def load_cautions(folder: Path | None = None) -> tuple[Caution, ...]:
    """Return every caution in the order of the table."""
    cautions = []
    for _, row in read_rows("cautions", folder):
        onset = to_si(row.pop("onset_C"), "degC")
        cautions.append(Caution(**row, onset=onset))
    return tuple(cautions)


def material_cautions(id: str) -> tuple[Caution, ...]:
    """Return the cautions of a material and of its base polymer; another id raises UnknownName."""
    material = load_materials().get(id)
    return tuple(c for c in load_cautions() if c.subject_kind == "polymer" and c.subject in (id, material.base))


def fuel_cautions(*names: str) -> tuple[Caution, ...]:
    """Return the cautions of a liquid by its names or CAS number; of a blend give every component's.

    Exact names only; an empty tuple means unknown and not harmless.
    """
    wanted = {name.casefold() for name in names}
    return tuple(c for c in load_cautions() if c.subject_kind == "fuel" and c.subject.casefold() in wanted)


def work_cautions(topic: str | None = None) -> tuple[Caution, ...]:
    """Return the cautions of the work, the most urgent first, all or of one topic."""
    cautions = tuple(c for c in load_cautions() if c.subject_kind == "work")
    if topic is None:
        return cautions
    topics = {c.subject for c in cautions}
    if topic not in topics:
        raise UnknownName("topic of the work", topic, topics)
    return tuple(c for c in cautions if c.subject == topic)


def told_once(cautions: Iterable[Caution]) -> tuple[str, ...]:
    """Return each advice once, after every hazard that it answers: 'hazard; hazard: advice', in the order of the first.

    >>> advice = {"condition": "", "onset": 0.0, "first_advice": "no flame near", "source": "", "how": ""}
    >>> told_once(Caution("fuel", "a", f"fire: {what}", **advice) for what in ("vapour", "gas", "vapour"))
    ('fire: vapour; gas: no flame near',)
    """
    hazards: dict[str, list[str]] = {}
    for caution in cautions:
        answered = hazards.setdefault(caution.first_advice, [])
        if caution.hazard not in answered:
            answered.append(caution.hazard)
    return tuple(f"{_joined(answered)}: {advice}" for advice, answered in hazards.items())


def _joined(hazards: Sequence[str]) -> str:
    """Return hazards parted by semicolons; a kind such as 'fire: ' that stands before the last one is not said again."""
    said, last = [], ""
    for hazard in hazards:
        kind, colon, what = hazard.partition(": ")
        said.append(what if colon and kind == last else hazard)
        last = kind if colon else ""
    return "; ".join(said)
