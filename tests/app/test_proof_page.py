"""The page on cold proofs and runs: what is entered is in the case, weighs, and can be taken away again."""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

ENTRY = str(Path(__file__).parents[2] / "app" / "main.py")
pytestmark = pytest.mark.filterwarnings("default")  # the app's frame has warnings of its own


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> AppTest:
    monkeypatch.setattr("app.session.compute.FIRST_DRAWS", 120)
    monkeypatch.setattr("app.session.compute.FULL_DRAWS", 120)
    return AppTest.from_file(ENTRY, default_timeout=240).run().switch_page("app_pages/proof.py").run()


def shown(app: AppTest) -> str:
    return "\n".join(str(piece.value) for piece in (*app.markdown, *app.subheader, *app.error))


def button(app: AppTest, label: str) -> None:
    next(b for b in app.button if b.label.startswith(label)).click().run()
    assert not app.exception


def number(app: AppTest, label: str, value: float) -> None:
    next(n for n in app.number_input if n.label.startswith(label)).set_value(value)


def test_how_to_try_it_begins_with_the_rules_and_forbids_gas(app: AppTest) -> None:
    assert "Local rules come first" in shown(app)
    assert "never press with gas" in shown(app)


def test_a_proof_and_a_run_weigh_and_can_be_removed(app: AppTest) -> None:
    next(b for b in app.selectbox if b.label == "Material of the print").set_value("abs")
    number(app, "at the pressure", 50)
    button(app, "Add this cold proof")
    assert app.session_state.document["cold_proofs"] == [{"material": "abs", "crown_thickness_mm": 6, "burst_bar": 50}]
    assert "1 cold proof and 0 runs" in shown(app)
    next(b for b in app.selectbox if b.label == "Material of the piston").set_value("pc")
    next(b for b in app.selectbox if b.label == "What ended it").set_value("not seen")
    number(app, "It ran for", 30)
    button(app, "Add this run")
    assert app.session_state.document["runs"] == [
        {"material": "pc", "ended_by": "not seen", "crown_thickness_mm": 6, "ran_s": 30}
    ]
    assert "1 cold proof and 1 run" in shown(app)
    button(app, "Remove")
    assert app.session_state.document["cold_proofs"] == []
    assert "0 cold proofs and 1 run" in shown(app)


def test_a_proof_without_a_pressure_is_refused(app: AppTest) -> None:
    button(app, "Add this cold proof")
    assert "got neither of burst\\_bar and held\\_bar" in shown(app) or "got neither of burst_bar" in shown(app)
