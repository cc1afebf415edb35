"""Files that come in and go out in a real browser: a wrong case, a right one, and the one that is handed on."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from selenium.webdriver.common.by import By
from visitor import DEMO_FUEL, FIRST_ANSWER, Visitor

from screening.judgement.case.case_file import load_case

pytestmark = pytest.mark.browser


def upload(visitor: Visitor, path: Path) -> None:
    boxes = (By.CSS_SELECTOR, 'input[type="file"]')
    visitor.until("a file can be given", lambda: visitor.browser.find_elements(*boxes))  # it is drawn a moment later
    visitor.browser.find_elements(*boxes)[-1].send_keys(str(path))


def test_a_wrong_case_file_shows_its_faults_and_keeps_the_case(visitor: Visitor, tmp_path: Path) -> None:
    wrong = {"format": "polymer-piston-case", "version": 1, "engine": {"displacement_cc": -3}, "fuel": "ethanol",
             "head": {"reading_C": 60}, "colour": "red"}  # fmt: skip
    (tmp_path / "wrong.json").write_text(json.dumps(wrong), "utf-8")
    visitor.open()
    upload(visitor, tmp_path / "wrong.json")
    visitor.until("the faults are told", lambda: visitor.errors())
    told = "\n".join(visitor.errors())
    assert "displacement_cc" in told
    assert "colour" in told
    assert visitor.value("Fuel") == DEMO_FUEL


def test_a_right_case_file_becomes_the_case(visitor: Visitor, tmp_path: Path) -> None:
    case = {"format": "polymer-piston-case", "version": 1, "engine": {"displacement_cc": 50}, "fuel": "ethanol",
            "head": {"reading_C": 60}}  # fmt: skip
    (tmp_path / "right.json").write_text(json.dumps(case), "utf-8")
    visitor.open()
    upload(visitor, tmp_path / "right.json")
    visitor.until("the case is taken", lambda: visitor.value("Fuel") == "ethanol")
    visitor.rest(FIRST_ANSWER)
    assert visitor.errors() == []


def test_the_case_file_that_goes_out_can_be_loaded(visitor: Visitor, tmp_path: Path) -> None:
    visitor.browser.execute_cdp_cmd("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(tmp_path)})
    visitor.open()
    visitor.named("button", "Case file").click()
    visitor.until("the case file has come", lambda: list(tmp_path.glob("*.json")))
    assert load_case(next(tmp_path.glob("*.json"))).to_dict() == load_case("cyclopentanone_blend").to_dict()
