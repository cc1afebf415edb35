"""What the log's heat says of the draws: off where it cannot tell, right where the truth is known, told in words."""

from __future__ import annotations

import copy
from typing import Any

import numpy as np
import pytest
from markupsafe import escape

from screening import load_case, report_html, report_json, screen
from screening.judgement.case.case import Case
from screening.judgement.cylinder.calibration import weighed_by_log
from screening.judgement.cylinder.gas_side import wall_heat
from screening.judgement.draws.conditions import Conditions, draw_conditions
from screening.records.tables.assumptions import load_assumptions

DRAWS = 400
ALL = [slice(0, DRAWS)]


def changed(**sections: dict[str, Any]) -> Case:
    document = copy.deepcopy(load_case("petrol_baseline").to_dict())
    for name, values in sections.items():
        document[name] |= values
    return load_case(document)


def logged(heat: float, seconds: float = 600.0) -> Case:
    """Return the petrol case with the log of a black head that takes `heat` [W] and settles 130 K above the air."""
    rise, ambient, constant = 130.0, 21.0, 220.0
    mass = heat * constant / (load_assumptions()["head_heat_capacity"].typical * rise)
    times = np.arange(0.0, seconds + 1, 30.0)
    rows = [f"{time:.0f},{ambient + rise * (1 - np.exp(-time / constant)):.2f}" for time in times]
    text = "time_s,temperature_C\n" + "\n".join(rows) + "\n"
    head = {"log": text, "gun_emissivity": 0.95, "surface": "matt_black_paint"}
    return changed(engine={"warmed_metal_kg": round(mass, 4)}, head=head)


def weighed(case: Case) -> tuple[Conditions, Conditions, Any]:
    before = draw_conditions(case, DRAWS)
    after, evidence = weighed_by_log(case, before, ALL)
    return before, after, evidence


@pytest.mark.parametrize("truth", [700.0, 1000.0, 1500.0])
def test_prior_and_evidence_meet_as_two_log_normals_do(truth: float) -> None:
    """Closed form: the middle of two log-normals is between theirs, nearer to the narrower one, by inverse variances."""
    case = logged(1.2 * truth)
    before, after, evidence = weighed(case)
    was, now = (np.log(wall_heat(case, draws)[0]) for draws in (before, after))
    bias, capacity = (load_assumptions()[name] for name in ("log_heat_bias", "head_heat_capacity"))
    side = bias.typical / bias.low if np.exp(was.mean()) > truth else bias.high / bias.typical
    spread = np.hypot(np.log(side), np.log(capacity.typical / capacity.low)) / 1.645
    weight = was.var() / (was.var() + spread**2)
    expected = np.exp(weight * np.log(truth) + (1 - weight) * was.mean())
    print(f"\n{truth:.0f} W: {np.exp(was.mean()):.0f} before, {np.exp(now.mean()):.0f} after, expected {expected:.0f}")
    assert evidence.applied
    assert np.exp(now.mean()) == pytest.approx(expected, rel=0.05)


def test_evidence_narrows_the_heat() -> None:
    case = logged(1.2 * 1000.0)
    before, after, _ = weighed(case)
    spans = [np.ptp(np.quantile(np.log(wall_heat(case, draws)[1]), (0.05, 0.95))) for draws in (before, after)]
    assert spans[1] < 0.75 * spans[0]


def test_without_a_log_or_a_weighed_mass_nothing_is_touched() -> None:
    reading = load_case(load_case("petrol_baseline").to_dict() | {"head": {"reading_C": 64}})
    unweighed = load_case("petrol_baseline").to_dict()
    del unweighed["engine"]["warmed_metal_kg"]
    for case in (reading, load_case(unweighed)):
        before, after, evidence = weighed(case)
        assert evidence is None
        assert after is before


def test_too_short_a_log_is_left_alone_and_said() -> None:
    before, after, evidence = weighed(logged(1500.0, seconds=180.0))
    assert after is before
    assert not evidence.applied
    assert "too short" in str(evidence.told)


def test_log_of_another_load_contradicts_the_burn() -> None:
    """A log of a head that takes 200 W beside a burn of 3.7 kW: refused, and told what to check."""
    result = screen(logged(200.0), 60, materials=["abs"])
    assert result.evidence is not None
    assert not result.evidence.applied
    told = [warning.message for warning in result.warnings if warning.figure == "log_heat"]
    assert len(told) == 1
    assert "engine.warmed_metal_kg" in told[0]


def test_bright_surface_warms_sooner_than_its_reading() -> None:
    """Law: of a bright head the reading goes as the radiance, so the metal's heat is more than the reading's pace says."""
    case = load_case("petrol_baseline")
    before = draw_conditions(case, DRAWS)
    _, evidence = weighed_by_log(case, before, ALL)
    naive = 2.1 * load_assumptions()["head_heat_capacity"].typical
    naive *= np.median((before["head_surface"] - before["ambient"]) / before["bore_warm_up_time"]) / 1e3
    assert evidence is not None
    taken = float(str(evidence.told).split(" kg of metal took ")[1].split(" kW")[0])
    assert 1.02 * naive < taken < 1.4 * naive


def test_what_the_evidence_did_is_in_all_reports() -> None:
    result = screen(load_case("petrol_baseline"), 60, materials=["abs"])
    assert result.evidence is not None
    assert escape(str(result.evidence.told)) in report_html(result)
    assert f'"effective": {result.evidence.effective}' in report_json(result)
    assert {"log_heat_bias", "head_heat_capacity"} <= {assumption.name for assumption in result.assumptions}
