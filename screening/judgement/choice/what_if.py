"""What would have to change: the same case with one thing different, computed again."""

from __future__ import annotations

import copy
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from screening.errors import ScreeningError
from screening.judgement.case.case import Case
from screening.judgement.case.case_file import load_case
from screening.judgement.choice.screening import screen
from screening.judgement.choice.verdict import Standing

Document = dict[str, Any]
THICKEST_TRIED = 0.27
"""Crown thickness over bore up to which a thicker crown is tried: 15 mm for 56 mm (the project's own choice)."""


@dataclass(frozen=True)
class Change:
    """One thing changed, and how the material then stands (None where it cannot be computed, with the reason)."""

    what: str
    standing: Standing | None
    why_not: str = ""


def what_if(case: Case, material: str, draws: int = 256, seed: int = 0) -> tuple[Change, ...]:
    """Return how one material stands in the case as it is and with one change at a time.

    Parameters
    ----------
    material : id
    draws : 256 tell medians to about 10 %
    """
    changes = []
    for what, change in _changes(case):
        document = case.to_dict()
        try:
            change(document)
            story = screen(load_case(document), draws, seed, materials=[material]).material(material)
            changes.append(Change(what, story.standing))
        except ScreeningError as error:
            changes.append(Change(what, None, str(error)))
    return tuple(changes)


def _changes(case: Case) -> Sequence[tuple[str, Callable[[Document], None]]]:
    thickness, bore = case.piston.crown_thickness * 1e3, case.engine.bore * 1e3
    found: list[tuple[str, Callable[[Document], None]]] = [("as it is", lambda document: None)]
    for thicker in (1.5 * thickness, THICKEST_TRIED * bore):
        if thickness * 1.2 < thicker <= 40:
            found.append((f"crown {thicker:.0f} mm thick", _put("piston", "crown_thickness_mm", round(thicker, 1))))
    if case.piston.build == "all polymer":
        found.append(("5 mm aluminium cap with the ring groove in it", _cap))
    if case.operation.burned_volume is not None:
        found.append(("half the fuel a minute", _halve_burn))
    else:
        found.append(("a quarter throttle", _put("operation", "throttle", 0.25)))
    if (
        case.fuel.name != case.reference_fuel.name
        and case.fuel.energy_per_volume
        and case.reference_fuel.energy_per_volume
    ):
        ratio = case.fuel.energy_per_volume / case.reference_fuel.energy_per_volume
        found.append((f"the same power on {case.reference_fuel.name}", lambda document: _other_fuel(document, ratio)))
    return found


def _put(section: str, key: str, value: float) -> Callable[[Document], None]:
    def change(document: Document) -> None:
        document.setdefault(section, {})[key] = value

    return change


def _cap(document: Document) -> None:
    piston = copy.deepcopy(document.get("piston", {}))
    piston |= {"build": "metal cap", "crown_layers": [{"material": "aluminium", "thickness_mm": 5.0}]}
    document["piston"] = piston


def _halve_burn(document: Document) -> None:
    document["operation"]["burned_mL"] /= 2


def _other_fuel(document: Document, ratio: float) -> None:
    document["fuel"] = document.get("reference_fuel", "petrol E0")
    operation = document.get("operation", {})
    if "burned_mL" in operation:
        operation["burned_mL"] *= ratio
