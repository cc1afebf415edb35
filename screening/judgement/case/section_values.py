"""Single values of a case document: in SI by the unit that a key ends in, or what stands for them where they are left out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from screening.errors import CaseError, Fault, ScreeningError
from screening.quantities import to_si
from screening.records.tables.assumptions import load_assumptions

Section = Mapping[str, Any]
Made = TypeVar("Made")


def kept(faults: list[Fault], where: str, work: Callable[[], Made]) -> Made | None:
    """Result of `work`, or None with its complaint added to `faults`."""
    try:
        return work()
    except CaseError as error:
        faults += [fault if fault.where.startswith(where) else Fault(where, str(fault)) for fault in error.faults]
    except ScreeningError as error:
        faults.append(Fault(where, str(error)))
    return None


def si(section: Section, key: str, default: float) -> float:
    """Return `key` in SI, read by the unit its name ends in, or the SI `default` where it is left out."""
    return to_si(section[key], unit_of_key(key)) if key in section else default


def optional_si(section: Section, key: str) -> float | None:
    """Return `key` in SI, read by the unit its name ends in, or None where it is left out."""
    return to_si(section[key], unit_of_key(key)) if key in section else None


def unit_of_key(key: str) -> str:
    """Return the unit that a key of the case names at its end; '1' where it names none.

    Examples
    --------
    >>> unit_of_key("crown_thickness_mm"), unit_of_key("throttle")
    ('mm', '1')
    """
    endings = {
        "_W_m2K": "W/(m2 K)", "_mm": "mm", "_cc": "cc", "_mL": "mL", "_C": "degC", "_K": "K", "_rpm": "rpm",
        "_kg": "kg", "_g": "g", "_s": "s", "_h": "h", "_deg": "deg", "_bar": "bar",
    }  # fmt: skip
    return next((unit for ending, unit in endings.items() if key.endswith(ending)), "1")


def typical(name: str) -> float:
    """Return the typical value of an assumption in SI, which stands for what a case leaves out."""
    return load_assumptions()[name].typical
