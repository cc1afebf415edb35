"""The address stands for the case: edits go into it, and what stands in it is shown."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from app.session import link
from screening.demo_cases import bundled_logs
from screening.judgement.case.case_file import load_case

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own
DEMO = load_case("cyclopentanone_blend").to_dict()
LOG = bundled_logs()["petrol_baseline_log"].read_text("utf-8")


@pytest.fixture(autouse=True)
def _few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 20)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 20)


def opened(case: dict[str, Any] | str | None = None) -> AppTest:
    app = AppTest.from_file(ENTRY, default_timeout=240)
    if case is not None:
        app.query_params[link.PARAMETER] = case if isinstance(case, str) else link.for_address(case)
    app.run()
    assert not app.exception
    return app


def in_address(app: AppTest) -> dict[str, Any]:
    """The case that the address stands for."""
    found = app.query_params[link.PARAMETER]
    return link.decoded(found[0] if isinstance(found, list) else found)


def number(app: AppTest, label: str) -> Any:
    return next(n for n in app.number_input if n.label.startswith(label))


def test_a_bare_address_is_the_demo() -> None:
    app = opened()
    assert link.PARAMETER not in app.query_params
    assert number(app, "Bore").value == 56


def test_an_edit_goes_into_the_address() -> None:
    app = opened()
    number(app, "Bore").set_value(60.0).run()
    assert in_address(app)["engine"]["bore_mm"] == 60
    number(app, "Stroke").set_value(42.0).run()
    assert in_address(app)["engine"] == DEMO["engine"] | {"bore_mm": 60, "stroke_mm": 42}


def test_a_new_session_shows_the_case_in_the_address() -> None:
    app = opened(DEMO | {"engine": DEMO["engine"] | {"bore_mm": 61}})
    assert number(app, "Bore").value == 61
    assert not app.error


def test_another_page_keeps_the_case() -> None:
    app = opened()
    number(app, "Bore").set_value(60.0).run()
    del app.query_params[link.PARAMETER]  # as the frame does when a page is chosen
    app.switch_page("app_pages/fuel.py").run()
    assert in_address(app)["engine"]["bore_mm"] == 60
    app.switch_page("app_pages/shortlist.py").run()
    assert number(app, "Bore").value == 60


def test_an_address_that_comes_late_does_not_undo_an_edit() -> None:
    app = opened()
    number(app, "Bore").set_value(60.0).run()
    late = app.query_params[link.PARAMETER]
    number(app, "Bore").set_value(62.0).run()
    app.query_params[link.PARAMETER] = late
    number(app, "Stroke").set_value(42.0).run()
    assert in_address(app)["engine"] == DEMO["engine"] | {"bore_mm": 62, "stroke_mm": 42}


def test_another_address_in_the_same_session_is_followed() -> None:
    app = opened()
    number(app, "Bore").set_value(60.0).run()
    app.query_params[link.PARAMETER] = link.for_address(load_case("petrol_baseline").to_dict())
    app.run()
    assert next(box for box in app.text_input if box.label == "Fuel").value == "petrol E0"
    assert number(app, "Bore").value == 56


def test_a_faulty_case_stays_out_of_the_address() -> None:
    app = opened()
    number(app, "Bore").set_value(60.0).run()
    before = app.query_params[link.PARAMETER]
    next(box for box in app.text_input if box.label == "Fuel").set_value("etanol").run()
    assert app.query_params[link.PARAMETER] == before
    assert any("nearest known: ethanol" in error.value for error in app.error)


@pytest.mark.parametrize("query", ["not-a-case", "file.0123456789abcdef", "eJw"])
def test_bad_link_is_told_once_and_the_demo_shown(query: str) -> None:
    app = opened(query)
    assert [error.value for error in app.error if "link" in error.value]
    assert len(app.error) == 1
    assert number(app, "Bore").value == 56
    number(app, "Bore").set_value(57.0).run()
    assert not app.error
    assert in_address(app)["engine"]["bore_mm"] == 57


def test_the_faults_of_a_link_are_listed() -> None:
    app = opened(DEMO | {"engine": {"displacement_cc": -3}, "colour": "red"})
    assert "displacement_cc" in app.error[0].value
    assert "colour" in app.error[0].value


def test_an_own_log_never_enters_the_address() -> None:
    app = opened()
    app.session_state.document = link.with_log(DEMO, LOG)
    app.session_state.logs = {link.log_digest(LOG): LOG}
    number(app, "Bore").set_value(60.0).run()
    assert in_address(app)["head"]["log"] == {"digest": link.log_digest(LOG)}
    assert any("does not travel in the link" in info.value for info in app.info)


def test_a_link_with_a_missing_log_asks_for_it() -> None:
    app = opened(link.without_own_log(link.with_log(DEMO, LOG)))
    assert any("log of its own" in warning.value for warning in app.warning)
    assert not app.error
    assert app.file_uploader[0].label == "The log of this case"
    app.file_uploader[0].upload("log.csv", b"time_s,temperature_C\n0,20\n9,30", "text/csv").run()
    assert any("another log" in error.value for error in app.error)
    app.file_uploader[0].upload("log.csv", LOG.encode(), "text/csv").run()
    assert app.session_state.document["head"]["log"] == LOG
    assert not app.warning or not any("log of its own" in warning.value for warning in app.warning)
