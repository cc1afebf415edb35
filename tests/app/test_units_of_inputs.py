"""The case stays in degrees Celsius whatever is shown: each input is turned once, and a switch of units changes nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from app.shown import shown_units

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
UNITS = (shown_units.CELSIUS, shown_units.FAHRENHEIT)
in_the_app = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


@pytest.fixture
def choose(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    return lambda unit: monkeypatch.setattr(shown_units, "chosen", lambda: unit)


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(100, 212), (0, 32), (-40, -40), (37, 98.6), (171, 339.8)])
def test_fixed_points(choose: Callable[[str], None], celsius: float, fahrenheit: float) -> None:
    choose(shown_units.FAHRENHEIT)
    assert shown_units.shown_temperature(celsius) == pytest.approx(fahrenheit)
    assert shown_units.stored_temperature(fahrenheit) == celsius
    choose(shown_units.CELSIUS)
    assert shown_units.shown_temperature(celsius) == celsius
    assert shown_units.stored_temperature(celsius) == celsius


def test_to_and_fro_a_hundred_times_moves_nothing(choose: Callable[[str], None]) -> None:
    for hundredths in range(-3000, 50001, 137):
        celsius = value = hundredths / 100
        for number in range(100):
            choose(UNITS[number % 2])
            value = shown_units.stored_temperature(shown_units.shown_temperature(value))
        assert value == celsius


def switched(app: AppTest, unit: str) -> AppTest:
    next(radio for radio in app.radio if radio.key == "temperature_unit").set_value(unit).run()
    assert not app.exception
    return app


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> AppTest:
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 10)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 10)
    return AppTest.from_file(ENTRY, default_timeout=240).run()


@in_the_app
def test_what_is_typed_in_fahrenheit_is_stored_in_celsius(app: AppTest) -> None:
    switched(app, shown_units.FAHRENHEIT)
    typed = next(box for box in app.number_input if (box.key or "").startswith("operation.ambient_C"))
    assert typed.value == pytest.approx(67.1)
    assert typed.min == pytest.approx(-22)
    assert typed.max == pytest.approx(131)
    typed.set_value(86.0).run()
    assert not app.exception
    assert app.session_state["document"]["operation"]["ambient_C"] == 30.0


@in_the_app
def test_an_own_liquid_typed_in_fahrenheit_is_stored_in_celsius(app: AppTest) -> None:
    switched(app.switch_page("app_pages/fuel.py").run(), shown_units.FAHRENHEIT)

    def put(label: str, value: object) -> None:
        boxes = (*app.text_input, *app.number_input)
        next(box for box in boxes if box.label.startswith(label)).set_value(value)

    put("Name of the liquid", "spirit")
    put("Formula", "C2H6O")
    put("Density", 811.0)
    put("Boiling point", 172.4)
    put("Flash point", 59.0)
    next(button for button in app.button if button.label == "Use this liquid as the fuel").click().run()
    assert not app.exception
    fuel = app.session_state["document"]["fuel"]
    assert (fuel["boiling_point_C"], fuel["flash_point_C"]) == (78.0, 15.0)
    switched(app, shown_units.CELSIUS)
    assert app.session_state["document"]["fuel"] == fuel
