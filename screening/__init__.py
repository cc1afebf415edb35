"""Polymer piston screening: can a printed polymer piston run, of which filament, and for how long.

Every public name is importable from here; all take and give SI units unless a name carries a unit. A name's module is
loaded when the name is first asked for: the gun's reading need not wait for the combustion library.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_HOMES = {
    "screening.errors": (
        "CaseError",
        "DataError",
        "LogError",
        "NotBuiltYet",
        "OutOfRange",
        "ScreeningError",
        "UnknownName",
    ),
    "screening.judgement.case.case": (
        "Case",
        "Engine",
        "Head",
        "Operation",
        "Piston",
        "Printer",
        "SoakTest",
    ),
    "screening.judgement.case.case_file": (
        "load_case",
        "save_case",
    ),
    "screening.judgement.contact.pair": (
        "Contact",
        "assess_contact",
    ),
    "screening.judgement.cylinder.gas_side": (
        "Cycle",
        "flame_temperature",
        "run_cycle",
    ),
    "screening.judgement.head.run_log": (
        "RunLog",
        "read_log",
    ),
    "screening.judgement.choice.screening": (
        "Screening",
        "screen",
    ),
    "screening.physics.crown.conduction": (
        "Decomposition",
        "Film",
        "Layer",
        "SteadyCrown",
        "heat_crown",
        "steady_crown",
    ),
    "screening.physics.crown.crown_heat": ("CrownHeat",),
    "screening.physics.head.thermometry": ("surface_temperature",),
    "screening.physics.head.warm_up": ("WarmUp",),
    "screening.report.shortlist.document": ("report_json",),
    "screening.report.shortlist.page": ("report_html",),
    "screening.records.liquids.find_fuel": (
        "Fuel",
        "find_fuel",
        "known_fuels",
    ),
    "screening.records.materials.materials": (
        "Material",
        "Materials",
        "Value",
        "load_materials",
    ),
}
_HOME_OF = {name: module for module, names in _HOMES.items() for name in names}

__all__ = [
    "Case",
    "CaseError",
    "Contact",
    "CrownHeat",
    "Cycle",
    "DataError",
    "Decomposition",
    "Engine",
    "Film",
    "Fuel",
    "Head",
    "Layer",
    "LogError",
    "Material",
    "Materials",
    "NotBuiltYet",
    "Operation",
    "OutOfRange",
    "Piston",
    "Printer",
    "RunLog",
    "Screening",
    "ScreeningError",
    "SoakTest",
    "SteadyCrown",
    "UnknownName",
    "Value",
    "WarmUp",
    "assess_contact",
    "find_fuel",
    "flame_temperature",
    "heat_crown",
    "known_fuels",
    "load_case",
    "load_materials",
    "read_log",
    "report_html",
    "report_json",
    "run_cycle",
    "save_case",
    "screen",
    "steady_crown",
    "surface_temperature",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'screening' has no public name {name!r}")
    return getattr(import_module(_HOME_OF[name]), name)


def __dir__() -> list[str]:
    return list(__all__)
