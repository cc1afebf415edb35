"""Each page runs from the entry file without an exception and shows its first answer."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from screening import screen
from screening.errors import ScreeningError

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
PAGES = ("shortlist", "material", "fuel", "contact", "proof", "gun_and_log", "data")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


@pytest.fixture(autouse=True)
def _few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """A small answer is enough to see a page."""
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 20)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 20)


def opened(page: str = "shortlist") -> AppTest:
    app = AppTest.from_file(ENTRY, default_timeout=240).run()
    return app if page == "shortlist" else app.switch_page(f"app_pages/{page}.py").run()


@pytest.mark.parametrize("page", PAGES)
def test_page_runs_and_has_a_title(page: str) -> None:
    app = opened(page)
    assert not app.exception
    assert app.title[0].value
    assert not app.error


def test_wrong_fuel_is_said_and_the_page_stays_up() -> None:
    app = opened()
    next(box for box in app.text_input if box.label == "Fuel").set_value("etanol").run()
    assert not app.exception
    assert any("nearest known: ethanol" in error.value for error in app.error)


def test_changing_the_wanted_run_changes_the_answer() -> None:
    app = opened()
    next(n for n in app.number_input if n.label.startswith("Wanted run")).set_value(30.0).run()
    assert not app.exception
    assert any("30 s" in text.value for text in app.markdown)


def test_bad_link_is_told_and_the_demo_shown() -> None:
    app = AppTest.from_file(ENTRY, default_timeout=240)
    app.query_params["case"] = "not-a-case"
    app.run()
    assert not app.exception
    assert any("link" in error.value for error in app.error)


def box(app: AppTest, label: str) -> Any:
    return next(b for b in app.selectbox if b.label == label)


@pytest.mark.parametrize("build", ["coated crown", "metal cap", "metal crown on polymer skirt"])
def test_a_crown_with_layers_is_built_in_the_app(build: str) -> None:
    app = opened()
    box(app, "Build").set_value(build).run()
    assert not app.exception
    assert not app.error
    piston = app.session_state.document["piston"]
    assert piston["build"] == build
    assert len(piston["crown_layers"]) == 1
    next(n for n in app.number_input if n.label == "Thickness of layer 1 [mm]").set_value(0.3).run()
    assert app.session_state.document["piston"]["crown_layers"][0]["thickness_mm"] == 0.3
    next(b for b in app.button if b.label == "Add a layer beneath").click().run()
    assert len(app.session_state.document["piston"]["crown_layers"]) == 2
    next(b for b in app.button if b.label == "Take layer 1 away").click().run()
    assert len(app.session_state.document["piston"]["crown_layers"]) == 1
    assert not app.error
    box(app, "Build").set_value("all polymer").run()
    assert "crown_layers" not in app.session_state.document["piston"]
    assert not app.error


def test_every_page_follows_the_unit() -> None:
    app = opened()
    app.radio[0].set_value("°F").run()
    for page in ("material", "fuel", "gun_and_log", "shortlist"):
        app.switch_page(f"app_pages/{page}.py").run()
        assert not app.exception
        shown = [e.value for e in (*app.markdown, *app.caption, *app.warning, *app.info)]
        shown += [n.label for n in app.number_input]
        assert any("°F" in text for text in shown), page
        assert not any("°C" in text for text in shown), page


def test_switching_the_unit_changes_no_case() -> None:
    app = opened()
    before = app.session_state.document
    for unit in ("°F", "°C", "°F"):
        app.radio[0].set_value(unit).run()
    assert app.session_state.document == before


def test_a_first_answer_is_shown_while_the_full_one_is_computed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 21)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 23)
    app = opened()
    assert not app.exception
    assert any("first answer from 21 draws" in info.value for info in app.info)
    for _ in range(100):
        app.run()
        if any("From 23 draws" in caption.value for caption in app.caption):
            break
        time.sleep(0.3)
    assert any("From 23 draws" in caption.value for caption in app.caption)
    assert not any("first answer" in info.value for info in app.info)


def test_open_inputs_say_what_knowing_them_brings(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 200)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 200)
    app = opened()
    said = [caption.value for caption in app.caption if "arrows" in caption.value]
    assert any(text.startswith("Knowing it narrows the range by") or "too little to tell" in text for text in said)


def test_a_reading_takes_the_place_of_a_log_with_the_log_s_own_value() -> None:
    app = opened()
    next(b for b in app.button if b.label == "Type a reading").click().run()
    assert not app.error
    assert app.session_state.document["head"]["reading_C"] == pytest.approx(61.1, abs=0.2)
    assert "log" not in app.session_state.document["head"]


def test_what_would_have_to_change_stays_when_the_page_runs_again() -> None:
    app = opened("material")
    tables = len(app.get("html"))
    next(b for b in app.button if b.label == "Compute each change").click().run()
    assert not app.exception
    assert len(app.get("html")) == tables + 1
    app.run()
    assert len(app.get("html")) == tables + 1


def test_a_refinement_that_fails_is_told_and_not_begun_again(monkeypatch: pytest.MonkeyPatch) -> None:
    begun = []

    def fails(case: object, draws: int, *rest: object) -> object:
        if draws == 27:
            begun.append(draws)
            raise ScreeningError("too much of it")
        return screen(case, draws, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 26)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 27)
    monkeypatch.setattr("app.session.compute.screen", fails)
    app = opened()
    for _ in range(3):
        time.sleep(0.3)
        app.run()
    assert not app.exception
    assert begun == [27]
    assert any("could not be refined: too much of it" in caption.value for caption in app.caption)
