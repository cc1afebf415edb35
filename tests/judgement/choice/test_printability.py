"""Prints, prints with care, cannot: by the printer's reach, and with the reason."""

from __future__ import annotations

from dataclasses import replace

import pytest

from screening.judgement.case.case import Printer
from screening.judgement.choice.printability import CANNOT, CARE, PRINTS, UNKNOWN, judge_printability
from screening.records.materials.materials import Material, Value, load_materials
from screening.records.tables.printers import load_printer_classes
from screening.sentences import worded

OPEN = Printer(nozzle=245 + 273.15, bed=373.15, chamber=298.15, hardened_nozzle=False, dryer=False, annealing_oven=None)
HOT = Printer(nozzle=773.15, bed=523.15, chamber=523.15, hardened_nozzle=True, dryer=True, annealing_oven=573.15)


def _value(low: float, typical: float, high: float, unit: str = "K") -> Value:
    return replace(
        next(iter(load_materials().get("abs").values.values()))[0], low=low, typical=typical, high=high, unit=unit
    )


def _made(**values: tuple[float, float, float]) -> Material:
    needs = {"nozzle_temperature": (500.0, 510.0, 530.0)} | values
    made = {name: (replace(_value(*three), use="main"),) for name, three in needs.items()}
    return replace(load_materials().get("abs"), name="made", note="", values=made)


@pytest.mark.parametrize(
    ("nozzle", "outcome", "said"),
    [
        (510.0, PRINTS, "The printer reaches all it needs."),
        (509.9, CARE, "at the low end"),
        (500.0, CARE, "at the low end"),
        (499.9, CANNOT, "too cold"),
    ],
)
@pytest.mark.parametrize("part", ["nozzle", "bed", "chamber"])
def test_borders_of_each_reach(part: str, nozzle: float, outcome: str, said: str) -> None:
    material = _made(**{f"{part}_temperature": (500.0, 510.0, 530.0)})
    found = judge_printability(material, replace(HOT, **{part: nozzle}))
    assert found.outcome == outcome
    assert said in worded(found.reasons[0])
    assert outcome == PRINTS or f"The {part} should reach 237 °C (227 °C to 257 °C)" in worded(found.reasons[0])


def test_equipment_and_careful_steps() -> None:
    wet = _made(
        moisture_uptake=(0.01, 0.02, 0.03), drying_temperature=(340, 353.15, 360), drying_time=(3600, 14400, 28800)
    )
    assert judge_printability(wet, HOT).outcome == PRINTS
    without = judge_printability(wet, replace(HOT, dryer=False))
    assert without.outcome == CARE
    assert "dry the filament at 80 °C for 4 h" in worded(without.reasons[0])
    filled = _made(abrasive=(1, 1, 1))
    assert "fit a hardened one" in worded(judge_printability(filled, replace(HOT, hardened_nozzle=False)).reasons[0])
    assert judge_printability(filled, HOT).outcome == PRINTS
    annealed = replace(_made(annealing_temperature=(450, 473.15, 490)), state="annealed")
    assert "no oven is named" in worded(judge_printability(annealed, replace(HOT, annealing_oven=None)).reasons[0])
    assert "the oven reaches 127 °C" in worded(
        judge_printability(annealed, replace(HOT, annealing_oven=400.0)).reasons[0]
    )
    assert judge_printability(annealed, HOT).outcome == PRINTS


def test_not_filament_and_not_known() -> None:
    powder = replace(_made(), roles=("reference",), form="powder")
    assert "filament (powder)" in worded(judge_printability(powder, HOT).reasons[0])
    assert judge_printability(powder, HOT).outcome == CANNOT
    nothing = replace(_made(), values={})
    assert judge_printability(nothing, HOT).outcome == UNKNOWN
    assert judge_printability(nothing, HOT).reasons == ("No printing temperature is known.",)


def test_what_the_trade_knows() -> None:
    """An open frame prints PLA and not PEEK or PEI; a high-temperature machine prints PEEK (common practice)."""
    materials = load_materials()
    assert judge_printability(materials.get("pla"), OPEN).outcome in (PRINTS, CARE)
    for id in ("peek", "pei", "pc"):
        assert judge_printability(materials.get(id), OPEN).outcome == CANNOT
    assert judge_printability(materials.get("peek"), HOT).outcome in (PRINTS, CARE)


def test_a_hotter_class_never_prints_less() -> None:
    order = {CANNOT: 0, CARE: 1, PRINTS: 2, UNKNOWN: -1}
    printers = [
        Printer(c.nozzle, c.bed, c.chamber, True, True, 573.15)
        for c in load_printer_classes().values()
        if c.id in ("open_frame", "enclosed", "heated_chamber", "high_temperature", "industrial_high_temperature")
    ]
    materials = load_materials()
    for id in materials.printable:
        outcomes = [order[judge_printability(materials.get(id), printer).outcome] for printer in printers]
        assert outcomes == sorted(outcomes), id
        assert judge_printability(materials.get(id), printers[0]).reasons
