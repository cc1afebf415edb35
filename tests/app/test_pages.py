"""Each page runs from the entry file without an exception and shows its first answer."""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
PAGES = ("shortlist", "material", "fuel", "contact", "gun_and_log", "data")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


@pytest.fixture(autouse=True)
def _few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """A small answer is enough to see a page."""
    monkeypatch.setattr("app.compute.FIRST_DRAWS", 20)
    monkeypatch.setattr("app.compute.FULL_DRAWS", 20)


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
