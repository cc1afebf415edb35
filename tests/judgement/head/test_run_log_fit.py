"""A run log read and fitted: the bundled ones, and its two faces, text and document."""

from __future__ import annotations

import json

import numpy as np
import pytest

from screening.demo_cases import bundled_logs
from screening.judgement.head.run_log import RunLog, read_log
from screening.report.head.log_text import log_document, log_sheet


@pytest.mark.parametrize("name", sorted(bundled_logs()))
def test_bundled_logs_settle_and_show_their_two_outliers(name: str) -> None:
    log = read_log(bundled_logs()[name])
    fit = log.fit_warm_up()
    assert isinstance(log, RunLog)
    assert log.notes == ()
    assert fit.is_settled
    assert fit.outliers.sum() == 2
    assert 55 < fit.settled - 273.15 < 70
    assert 150 < fit.time_constant < 300
    assert log.fuel_used is not None
    assert np.all(np.diff(log.fuel_used) > 0)


def test_document_and_sheet() -> None:
    log = read_log(bundled_logs()["petrol_baseline_log"])
    document = log_document(log)
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    assert [row["time_s"] for row in document["outliers"]] == [180, 420]
    sheet = log_sheet(log)
    assert "Settles at a reading of" in sheet
    assert "left out of the fit: 59.3 °C at 180 s" in sheet
    assert "Not settled" not in sheet


def test_a_short_log_says_so_and_still_makes_a_document() -> None:
    log = read_log("time_s,temp_C\n" + "\n".join(f"{30 * i},{20 + i}" for i in range(6)))
    assert "Not settled yet" in log_sheet(log)
    json.dumps(log_document(log), allow_nan=False)
