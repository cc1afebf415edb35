"""The pages of the data, of gun and log, and of the fuel, in their main states, from the entry file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from screening.records.materials.materials import load_materials
from screening.report.materials.material_rows import plain_property, shown_values

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


@pytest.fixture
def _few_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """A small answer is enough on the way to a page."""
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 10)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 10)


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


def metric(app: AppTest, label: str) -> str:
    return str(next(m.value for m in app.metric if m.label == label))


def pasted(app: AppTest, text: str) -> AppTest:
    named(app.radio, "Which log").set_value("paste one").run()
    return named(app.text_area, "The log").set_value(text).run()


def test_log_of_the_case_is_shown_first(opened: Any) -> None:
    app = opened("gun_and_log")
    assert metric(app, "Settles at a reading of") == "61.1 °C"
    assert metric(app, "Time constant") == "229 s"
    assert metric(app, "Fuel burned") == "8.8 mL/min"
    assert any("59.6 to 62.6 °C" in text.value for text in app.markdown)
    assert any("208 to 253 s" in text.value for text in app.markdown)
    assert any("2 of them lie far from the curve" in text.value for text in app.markdown)


def test_gun_inputs_keep_their_value_when_the_unit_is_switched(opened: Any) -> None:
    app = opened("gun_and_log")
    named(app.number_input, "Gun shows").set_value(80.0).run()
    named(app.radio, "Temperatures in").set_value("°F").run()
    assert named(app.number_input, "Gun shows").value == pytest.approx(176.0)
    named(app.radio, "Temperatures in").set_value("°C").run()
    assert named(app.number_input, "Gun shows").value == pytest.approx(80.0)


def test_a_reading_becomes_the_heads_temperature(opened: Any) -> None:
    app = opened("gun_and_log")
    named(app.number_input, "Gun shows").set_value(72.0).run()
    named(app.selectbox, "Surface").select("matt_black_paint").run()
    named(app.button, "Use this reading").click().run()
    assert not app.exception
    assert app.session_state.document["head"] == {
        "reading_C": 72.0, "surface": "matt_black_paint", "gun_emissivity": 0.95,
    }  # fmt: skip


def test_what_is_mirrored_and_what_the_gun_assumes_go_into_the_case_where_they_are_not_the_airs(opened: Any) -> None:
    """60 degC mirrored lowers bare metal; set back to the air it stays a key once the case has it."""
    app = opened("gun_and_log")
    plain = next(text.value for text in app.markdown if text.value.startswith("The surface is at about"))
    named(app.number_input, "Surface mirrors").set_value(60.0).run()
    shrouded = next(text.value for text in app.markdown if text.value.startswith("The surface is at about"))
    kelvin = [float(text.split("**")[1].split()[0]) for text in (plain, shrouded)]
    assert kelvin[0] > kelvin[1] + 20
    named(app.button, "Use this reading").click().run()
    head = app.session_state.document["head"]
    assert head["surroundings_C"] == 60.0
    assert "gun_compensates_for_C" not in head
    named(app.number_input, "Gun assumes it mirrors").set_value(25.0).run()
    named(app.button, "Use this reading").click().run()
    assert app.session_state.document["head"] == head | {"gun_compensates_for_C": 25.0}


FAHRENHEIT = "minutes;temp (F);fuel mL\n" + "\n".join(f"{i};{140 - 70 * 0.6**i:.1f};{9 * i}" for i in range(12))


def test_a_log_in_fahrenheit_is_read_and_taken_into_the_case(opened: Any) -> None:
    app = pasted(opened("gun_and_log"), FAHRENHEIT)
    assert not app.error
    assert metric(app, "Settles at a reading of") == "60.0 °C"
    assert metric(app, "Fuel burned") == "9 mL/min"
    named(app.button, "Use this log").click().run()
    assert not app.exception
    document = app.session_state.document
    assert document["head"]["log"] == FAHRENHEIT
    assert document["operation"]["burned_mL"] == 99
    assert document["operation"]["burn_duration_s"] == 660


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("#", "the log is empty"),
        ("time_s,temperature_C\n0,20\n30,warm\n60,30\n90,33", "line 3: got 'warm'; must be a number"),
        ("colour,size\n0,68\n600,77\n1200,86\n1800,200", "Celsius or Fahrenheit?"),
        ("time_s,temperature_C\n0,20", "1 row of numbers; at least 4"),
        ("/etc/hostname", "at least 4"),
    ],
    ids=["empty", "word", "no units", "too short", "name of a file"],
)
def test_a_wrong_log_is_told(opened: Any, text: str, told: str) -> None:
    app = pasted(opened("gun_and_log"), text)
    assert not app.exception
    said = "\n".join([*(e.value for e in app.error), *(t.value for t in app.markdown)])
    assert told in said
    assert "no such file" not in said


def test_a_run_is_held_against_a_baseline(opened: Any) -> None:
    app = opened("gun_and_log")
    named(app.checkbox, "A cooler head").check().run()
    named(app.selectbox, "Invented log").select("petrol_baseline_log").run()
    assert not app.exception
    assert any("It is fed 3.52 kW against" in text.value for text in app.markdown)


def fill(app: AppTest, figures: dict[str, Any]) -> AppTest:
    """Fill in the form of a liquid and send it."""
    for label, value in figures.items():
        kinds = app.text_input if isinstance(value, str) else app.number_input
        named(kinds, label).set_value(value)
    named(app.button, "Use this liquid").click().run()
    return app


LIQUID = {"Name of the liquid": "can 3", "Formula": "C5H8O", "Density": 950.0, "Lower heating": 34.0,
          "Heat of vapor": 500.0, "Flash point": 26.0, "Hansen dD": 17.9, "Hansen dP": 11.9, "Hansen dH": 5.2}  # fmt: skip


def test_a_liquid_that_no_table_knows_becomes_the_fuel(opened: Any) -> None:
    app = fill(opened("fuel"), LIQUID)
    assert not app.exception
    assert not app.error
    assert app.session_state.document["fuel"] == {
        "name": "can 3", "formula": "C5H8O", "density_kg_m3": 950.0, "lower_heating_value_MJ_kg": 34.0,
        "latent_heat_kJ_kg": 500.0, "flash_point_C": 26.0, "hansen": [17.9, 11.9, 5.2],
    }  # fmt: skip
    assert "can 3" in tables(app)
    named(app.button, "Back to a named fuel").click().run()
    assert app.session_state.document["fuel"] == "ethanol"


def test_a_wrong_liquid_is_told_and_the_case_stays(opened: Any) -> None:
    app = opened("fuel")
    before = app.session_state.document
    fill(app, {"Name of the liquid": "can 3", "Formula": "C5H8Cl", "Hansen dD": 17.9})
    told = "\n".join(error.value for error in app.error)
    assert "only C, H, O and N are covered" in told
    assert "density" in told
    assert "three numbers dD, dP, dH" in told
    assert app.session_state.document == before


def test_an_own_liquid_without_energy_says_what_to_add(opened: Any) -> None:
    app = fill(opened("fuel"), {"Name of the liquid": "can 4", "Formula": "C5H8O", "Density": 950.0})
    assert not app.exception
    assert any("latent" in info.value and "with it" in info.value for info in app.info)


def test_an_unknown_fuel_is_told_with_its_neighbours(opened: Any) -> None:
    app = opened("fuel")
    named(app.text_input, "Fuel").set_value("etanol").run()
    assert not app.exception
    assert any("nearest known: ethanol" in error.value for error in app.error)
