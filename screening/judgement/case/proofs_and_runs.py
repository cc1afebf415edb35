"""The user's own cold proofs and runs in a case document, in SI."""

from __future__ import annotations

from collections.abc import Iterable

from screening.errors import Fault, UnknownName
from screening.judgement.case.case import BookedRun, ColdProof
from screening.judgement.case.section_values import Section, optional_si, si


def cold_proofs(rows: Iterable[Section], known: tuple[str, ...], faults: list[Fault]) -> tuple[ColdProof, ...]:
    """Return the cold proofs in SI; `known` are the ids of materials; what is wrong is added to `faults`."""
    proofs = []
    for i, row in enumerate(rows):
        where = f"cold_proofs[{i}]"
        _check_material(row, where, known, faults)
        if ("burst_bar" in row) == ("held_bar" in row):
            got = "both" if "burst_bar" in row else "neither"
            faults.append(
                Fault(where, f"got {got} of burst_bar and held_bar; give one: the pressure it burst at, or held")
            )
        proofs.append(
            ColdProof(
                material=row["material"],
                thickness=optional_si(row, "crown_thickness_mm"),
                burst=optional_si(row, "burst_bar"),
                held=optional_si(row, "held_bar"),
            )
        )
    return tuple(proofs)


def booked_runs(rows: Iterable[Section], known: tuple[str, ...], faults: list[Fault]) -> tuple[BookedRun, ...]:
    """Return the runs of the result book in SI; `known` are the ids of materials; what is wrong is added to `faults`."""
    runs = []
    for i, row in enumerate(rows):
        _check_material(row, f"runs[{i}]", known, faults)
        thickness = optional_si(row, "crown_thickness_mm")
        runs.append(BookedRun(row["material"], thickness, si(row, "ran_s", 0.0), row["ended_by"]))
    return tuple(runs)


def _check_material(row: Section, where: str, known: tuple[str, ...], faults: list[Fault]) -> None:
    if row["material"] not in known:
        faults.append(Fault(f"{where}.material", str(UnknownName("material", row["material"], known))))
