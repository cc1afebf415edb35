"""The pages of the data, of gun and log, and of the fuel, in their main states, from the entry file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from screening.records.materials import load_materials
from screening.report.material_rows import plain_property, shown_values

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


@pytest.fixture
def _few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """A small answer is enough on the way to a page."""
    monkeypatch.setattr("app.compute.FIRST_DRAWS", 10)
    monkeypatch.setattr("app.compute.FULL_DRAWS", 10)


@pytest.fixture
def opened(_few_draws: None) -> Any:
    def open_page(page: str) -> AppTest:
        return AppTest.from_file(ENTRY, default_timeout=240).run().switch_page(f"app_pages/{page}.py").run()

    return open_page


def named(elements: Any, label: str) -> Any:
    return next(element for element in elements if element.label.startswith(label))


def tables(app: AppTest) -> str:
    return "".join(element.proto.body for element in app.get("html"))


def test_data_of_one_material_are_those_of_the_terminal(opened: Any) -> None:
    app = opened("data")
    named(app.selectbox, "Material").select("peek").run()
    assert not app.exception
    html = tables(app)
    for value in shown_values(load_materials().get("peek")):
        assert f">{plain_property(value.name)}</th>" in html
        assert value.range in html
    assert "◇ from memory" in html
    assert "unknown</td>" in html


def test_data_follow_the_temperature_unit(opened: Any) -> None:
    app = opened("data")
    assert " °C<" in tables(app)
    named(app.radio, "Temperatures in").set_value("°F").run()
    assert not app.exception
    assert " °F<" in tables(app)
    assert " °C<" not in tables(app)


@pytest.mark.parametrize(("kind", "known"), [("printable", "polycarbonate"), ("seal", "rubber"), ("metal", "")])
def test_data_by_property(opened: Any, kind: str, known: str) -> None:
    app = opened("data")
    named(app.radio, "Show").set_value("one property").run()
    named(app.selectbox, "Materials").select(kind).run()
    assert not app.exception
    if known:
        assert known in tables(app)
    else:
        assert any("no such property" in text.value for text in app.markdown)
