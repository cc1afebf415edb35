"""What would have to change: the same case with one thing different, computed again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from screening.errors import ScreeningError
from screening.judgement.case.case import HELD, Case
from screening.judgement.case.case_file import load_case
from screening.judgement.choice.screening import screen
from screening.judgement.choice.verdict import Standing

Document = dict[str, Any]
Changing = Callable[[Document], None]
THICKEST_TRIED = 0.27
"""Crown thickness over bore up to which a thicker crown is tried: 15 mm for 56 mm (the project's own choice)."""
_THICKER, _WORTH_TRYING, _THICKEST_MM = 1.5, 1.2, 40.0
"""A crown half as thick again is tried, where that is a fifth thicker or more and no more than 40 mm (the project's own choice)."""
_CAP = {"material": "aluminium", "thickness_mm": 5.0}
_LESS_THROTTLE = 0.25


@dataclass(frozen=True)
class Change:
    """One thing changed, and the material's standing then; None where the case cannot be computed, with the reason."""

    what: str
    standing: Standing | None
    why_not: str = ""


def what_if(case: Case, material: str, draws: int = 256, seed: int = 0) -> tuple[Change, ...]:
    """Return one material's standing in the case as it is and with one change at a time.

    Parameters
    ----------
    case : from `load_case`
    material : id
    draws : 256 give medians to about 10 %
    seed : as in `screen`

    Returns
    -------
    tuple of Change
        The case as it is first; log, cold proofs and runs weigh all of them by the case as it is.
    """
    changes = []
    for what, change in _changes(case):
        document = case.to_dict()
        try:
            change(document)
            story = screen(load_case(document), draws, seed, materials=[material], evidence_of=case).material(material)
            changes.append(Change(what, story.standing))
        except ScreeningError as error:
            changes.append(Change(what, None, str(error)))
    return tuple(changes)


def _changes(case: Case) -> list[tuple[str, Changing]]:
    """Changes tried in this case: a name, and a function that changes the case's document."""
    changes: list[tuple[str, Changing]] = [("as it is", lambda document: None)]
    thickness, bore = case.piston.crown_thickness * 1e3, case.engine.bore * 1e3
    for thicker in (_THICKER * thickness, THICKEST_TRIED * bore):
        if thickness * _WORTH_TRYING < thicker <= _THICKEST_MM:
            changes.append((f"crown {thicker:.0f} mm thick", _put("piston", "crown_thickness_mm", round(thicker, 1))))
    if case.piston.build == "all polymer":
        changes.append((f"{_CAP['thickness_mm']:.0f} mm aluminium cap with the ring groove in it", _cap))
    if case.operation.start != HELD:
        changes.append(("started with the throttle held nearly shut", _put("operation", "start", HELD)))
    if case.operation.burned_volume is not None:
        changes.append(("half the fuel a minute", _halve_burn))
    else:
        changes.append(("a quarter throttle", _put("operation", "throttle", _LESS_THROTTLE)))
    fuel, reference = case.fuel, case.reference_fuel
    if fuel.name != reference.name and fuel.energy_per_volume and reference.energy_per_volume:
        ratio = fuel.energy_per_volume / reference.energy_per_volume
        changes.append((f"the same power on {reference.name}", lambda document: _other_fuel(document, ratio)))
    return changes


def _put(section: str, key: str, value: float | str) -> Changing:
    def change(document: Document) -> None:
        document.setdefault(section, {})[key] = value

    return change


def _cap(document: Document) -> None:
    document["piston"] = document.get("piston", {}) | {"build": "metal cap", "crown_layers": [dict(_CAP)]}


def _halve_burn(document: Document) -> None:
    document["operation"]["burned_mL"] /= 2


def _other_fuel(document: Document, ratio: float) -> None:
    document["fuel"] = document.get("reference_fuel", "petrol E0")
    operation = document.get("operation", {})
    if "burned_mL" in operation:
        operation["burned_mL"] *= ratio
