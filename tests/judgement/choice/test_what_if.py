"""One thing changed at a time: what is computed again is the case with that change and no other."""

from __future__ import annotations

import sys
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from screening import load_case
from screening.errors import ScreeningError
from screening.judgement.case.case import Case
from screening.judgement.choice.verdict import standing
from screening.judgement.choice.what_if import what_if
from screening.judgement.piston.load import StartOutcome

START = StartOutcome(np.zeros(20), np.zeros(20, dtype=bool))


@pytest.fixture
def computed(monkeypatch: pytest.MonkeyPatch) -> list[Case]:
    """Return the cases that are computed; a crown lasts as many seconds as it is thick in mm, under a cap none does."""
    cases: list[Case] = []

    def screen(case: Case, *_: Any, **__: Any) -> Any:
        cases.append(case)
        if case.piston.build == "metal cap":
            raise ScreeningError("made up")
        place = standing({"crown collapse": np.full(20, 1e3 * case.piston.crown_thickness)}, 300.0, START)
        return SimpleNamespace(material=lambda id: SimpleNamespace(standing=place))

    monkeypatch.setattr(sys.modules[what_if.__module__], "screen", screen)
    return cases


def test_each_change_stands_alone_and_with_its_own_answer(computed: list[Case]) -> None:
    """Of 6 mm in a bore of 56: 1.5 x 6 = 9 mm and 0.27 x 56 = 15.1 mm; half of 88 mL; on petrol, which has 31.78 MJ/L where the
    blend has 23.97, 88 x 23.97/31.78 = 66.4 mL give the same power."""
    changes = what_if(load_case("cyclopentanone_blend"), "abs")
    plain, thicker, thickest, capped, held, half, petrol = computed
    assert [1e3 * case.piston.crown_thickness for case in computed] == pytest.approx([6, 9, 15.1, 6, 6, 6, 6])
    assert [1e6 * (case.operation.burned_volume or 0) for case in computed] == pytest.approx(
        [88] * 5 + [44, 66.4], rel=1e-3
    )
    assert (petrol.fuel.name, plain.fuel.name, half.fuel.name) == ("petrol E0", plain.fuel.name, plain.fuel.name)
    assert [layer.thickness for layer in capped.piston.crown_layers] == pytest.approx([0.005])
    assert [bool(case.piston.crown_layers) for case in (plain, thicker, thickest, held, half, petrol)] == [False] * 6
    assert [case.operation.start for case in computed] == ["not known"] * 4 + ["held"] + ["not known"] * 2
    medians = [change.standing and change.standing.median for change in changes]
    assert medians == pytest.approx([6, 9, 15.1, None, 6, 6, 6])
    assert changes[3].why_not == "made up"


def test_reference_fuel_has_nothing_to_be_set_against(computed: list[Case]) -> None:
    """On petrol itself there is no other fuel of the same power; a throttle that was given is set to a quarter."""
    document = load_case("petrol_baseline").to_dict()
    document["operation"] = {"throttle": 0.8, "equivalence_ratio": 1.0}
    what_if(load_case(document), "abs")
    assert len(computed) == 6
    assert [case.operation.throttle for case in computed] == [0.8] * 5 + [0.25]
    computed.clear()
    document["operation"]["start"] = "held"
    what_if(load_case(document), "abs")
    assert len(computed) == 5, "what is so already is no change"
