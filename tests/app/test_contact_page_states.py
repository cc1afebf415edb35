"""The page on contacts in its main states, from the entry file."""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


def opened(**query: str) -> AppTest:
    app = AppTest.from_file(ENTRY, default_timeout=120)
    app.query_params.update(query)
    app.run()
    app.switch_page("app_pages/contact.py")
    app.query_params.update(query)  # a link opens the page itself; here the page is changed after the entry
    return app.run()


def shown(app: AppTest) -> str:
    return "\n".join(str(piece.value) for piece in (*app.markdown, *app.subheader, *app.error))


def test_link_opens_its_pair() -> None:
    app = opened(material="nbr", fuel="acetone")
    assert not app.exception
    assert app.selectbox(key="pair.material").value == "nbr"
    assert app.text_input(key="pair.fuel").value == "acetone"
    assert "acrylonitrile butadiene rubber and acetone" in shown(app)


def test_another_fuel_is_one_entry_and_stands_in_the_address() -> None:
    app = opened()
    app.text_input(key="pair.fuel").set_value("toluene").run()
    assert not app.exception
    assert "and toluene" in shown(app)
    assert app.query_params["fuel"] == "toluene"
    assert app.query_params["material"] == "abs"


def test_liquid_of_ones_own_by_its_place() -> None:
    app = opened()
    app.text_input(key="pair.fuel").set_value("mine: dD 17.9, dP 11.9, dH 5.2, V 89").run()
    assert not app.exception
    assert "and mine" in shown(app)


@pytest.mark.parametrize("wrong", ["etanol", "ethanol 70, water 20", "dD 17.9, dP 11.9"])
def test_fuel_that_is_not_understood_is_said(wrong: str) -> None:
    app = opened()
    app.text_input(key="pair.fuel").set_value(wrong).run()
    assert not app.exception
    assert app.error


def test_unknown_material_in_a_link_is_said() -> None:
    app = opened(material="abss", fuel="acetone")
    assert not app.exception
    assert any("abss" in error.value for error in app.error)


def test_soak_test_that_is_entered_decides_and_can_be_removed() -> None:
    app = opened(material="hips", fuel="toluene")
    app.selectbox[-1].set_value("unchanged")
    next(button for button in app.button if button.label.startswith("Add this soak test")).click().run()
    assert not app.exception
    assert "○ none (own soak)" in shown(app)
    assert any("no flame" in warning.value for warning in app.warning)
    next(button for button in app.button if button.label == "Remove").click().run()
    assert "own soak" not in shown(app)


def test_the_temperature_of_a_soak_test_follows_the_unit() -> None:
    app = opened(material="hips", fuel="toluene")
    assert [field.label for field in app.number_input if field.label.startswith("Temp")] == ["Temperature [°C]"]
    next(choice for choice in app.radio if choice.label == "Temperatures in").set_value("°F").run()
    (field,) = [field for field in app.number_input if field.label.startswith("Temp")]
    assert (field.label, field.min) == ("Temperature [°F]", pytest.approx(-22))
    field.set_value(104.0)
    app.selectbox[-1].set_value("unchanged")
    next(button for button in app.button if button.label.startswith("Add this soak test")).click().run()
    assert not app.exception
    assert app.session_state.document["soak_tests"][-1]["temperature_C"] == pytest.approx(40)
    assert "temperature 104 °F" in shown(app)
    next(choice for choice in app.radio if choice.label == "Temperatures in").set_value("°C").run()
    assert "temperature 40 °C" in shown(app)


def test_soak_test_that_says_nothing_is_refused() -> None:
    app = opened()
    next(button for button in app.button if button.label.startswith("Add this soak test")).click().run()
    assert not app.exception
    assert any("says nothing" in error.value for error in app.error)
