"""How a log's heat weighs the draws, with made-up wall heats and spreads: each answer is reckoned in its test."""

from __future__ import annotations

import sys
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest

from screening import load_case
from screening.judgement.case.case import Case
from screening.judgement.cylinder.calibration import Evidence, weighed_by_log
from screening.judgement.draws.conditions import Conditions
from screening.records.tables.assumptions import load_assumptions

SECONDS = np.arange(0.0, 601.0, 30.0)
WARMED = 2.0 * 900.0 * 130.0 / 220.0
"""2 kg of 900 J/kgK that warm by 130 K with a time constant of 220 s: 1,063.6 W."""
STEP = np.log(1.25) / 1.645


@pytest.fixture
def log_case() -> Case:
    """A black body of 2 kg that warms from 21 C by 130 K with a time constant of 220 s, seen by a gun set to it."""
    rows = [f"{second:.0f},{21 + 130 * (1 - np.exp(-second / 220)):.3f}" for second in SECONDS]
    document = load_case("petrol_baseline").to_dict()
    document["engine"]["warmed_metal_kg"] = 2.0
    document["head"] = {
        "log": "\n".join(["time_s,temperature_C", *rows, ""]),
        "gun_emissivity": 1.0,
        "surface": "matt_black_paint",
    }
    return load_case(document)


def weighed(monkeypatch: pytest.MonkeyPatch, case: Case, ratios: list[float]) -> tuple[list[int], Evidence]:
    """Return the numbers of the draws that are left, where the log's heat is `ratios` of what the walls take in each.

    The log tells 1.25 of the walls' heat, 1.0 to 1.25 x 1.5625 in nine of ten: one deviation is ln(1.25)/1.645 = 0.1357
    below and twice that above. The metal's heat capacity is 900 J/kgK.
    """
    module, table = sys.modules[weighed_by_log.__module__], dict(load_assumptions())
    table["log_heat_bias"] = replace(table["log_heat_bias"], low=1.0, typical=1.25, high=1.25**3)
    table["head_heat_capacity"] = replace(table["head_heat_capacity"], low=900.0, typical=900.0, high=900.0)
    taken, count = WARMED / np.array(ratios), len(ratios)
    monkeypatch.setattr(module, "load_assumptions", lambda: table)
    monkeypatch.setattr(module, "wall_heat", lambda case, draws: (taken[draws["number"].astype(int)], draws["number"]))
    air = {name: np.full(count, 294.15) for name in ("ambient", "surroundings", "gun_compensates_for")}
    values = {"number": np.arange(float(count)), "emissivity": np.ones(count)} | air
    before = Conditions(MappingProxyType(values))
    after, evidence = weighed_by_log(case, before, [slice(0, count // 2), slice(count // 2, count)])
    assert evidence is not None
    return after["number"].astype(int).tolist(), evidence


def test_each_draw_is_left_as_often_as_the_logs_heat_makes_it_likely(
    monkeypatch: pytest.MonkeyPatch, log_case: Case
) -> None:
    """At the middle the weight is 1, one deviation above or below exp(-1/2) = 0.607, far off 0. The sum is 2.213; its parts
    end at 0.452, 0.726, 1 and 1, so that of 1/8, 3/8, 5/8 and 7/8 two fall to the first and one each to the next. What
    is left of the draws' worth is 2.213^2/(1 + 2 x 0.368)/4 = 0.705."""
    ratios = [1.25, 1.25 * np.exp(2 * STEP), 1.25 * np.exp(-STEP), 40.0]
    left, evidence = weighed(monkeypatch, log_case, ratios)
    assert evidence.applied
    assert evidence.effective == pytest.approx(0.705, abs=1e-3)
    assert sorted(left) == [0, 0, 1, 2]


def test_log_that_hardly_any_draw_agrees_with_is_not_weighed(monkeypatch: pytest.MonkeyPatch, log_case: Case) -> None:
    """One of 20 draws is worth 1/20, below a tenth: all stay as they were."""
    left, evidence = weighed(monkeypatch, log_case, [1.25] + [40.0] * 19)
    assert not evidence.applied
    assert evidence.effective == pytest.approx(0.05)
    assert left == list(range(20))


def test_heat_that_warmed_the_metal_is_mass_times_rise_over_time(
    monkeypatch: pytest.MonkeyPatch, log_case: Case
) -> None:
    """2 kg x 900 J/kgK x 130 K/220 s = 1,064 W: where the walls take 1/1.25 of that, 851 W, the weight is 1, where they take
    1.31 times less it is 0.607: 1.607^2/(1 + 0.368)/2 = 0.943. (Half the heat would put both on the other side.)"""
    left, evidence = weighed(monkeypatch, log_case, [1.25, 1.25 * np.exp(2 * STEP)])
    assert evidence.effective == pytest.approx(0.943, abs=1e-3)
    assert left == [0, 1]
