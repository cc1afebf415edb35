"""The head's surface, draw by draw: a draw that contradicts the reading is drawn anew and told, too many refuse the case."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy import optimize

from screening.errors import OutOfRange
from screening.judgement.case.case_file import load_case
from screening.judgement.choice.screening import screen
from screening.judgement.draws.conditions import draw_conditions
from screening.judgement.draws.head_draws import MOST_IMPOSSIBLE
from screening.physics.head.thermometry import band_radiance, can_be_read, surface_temperature
from screening.records.tables.assumptions import load_assumptions

COLD_LOG = "time_s,temperature_C\n" + "\n".join(f"{30 * i},{22 + 0.3 * (-1) ** i}" for i in range(12))


def case_with(head: dict[str, Any], ambient: float | None = None) -> Any:
    document: dict[str, Any] = {
        "format": "polymer-piston-case", "version": 1, "engine": {"displacement_cc": 98}, "fuel": "ethanol", "head": head,
    }  # fmt: skip
    return load_case(document if ambient is None else document | {"operation": {"ambient_C": ambient}})


def test_what_can_be_read_is_what_the_gun_formula_takes() -> None:
    """The two agree at each point: one tells beforehand where the other would refuse."""
    told, took = [], []
    for reading in (260.0, 285.0, 300.0, 500.0, 1200.0):
        for emissivity in (0.03, 0.1, 0.5, 0.9):
            told.append(bool(can_be_read(reading, 0.95, emissivity, 300.0)))
            try:
                took.append(bool(np.isfinite(surface_temperature(reading, 0.95, emissivity, 300.0))))
            except OutOfRange:
                took.append(False)
    assert told == took
    assert 4 < sum(told) < 16
    assert not can_be_read(np.nan, 0.95, 0.5, 300.0)


def test_a_usual_reading_redraws_nothing() -> None:
    drawn = draw_conditions(case_with({"reading_C": 65}), 400)
    assert drawn.head_redrawn == 0
    assert not any(w.figure == "head_redrawn" for w in screen(load_case("petrol_baseline"), 10).warnings)


@pytest.mark.parametrize(
    "head", [{"reading_C": 22, "surface": "bare_cast_aluminium"}, {"log": COLD_LOG}], ids=["reading", "log"]
)
def test_a_few_impossible_draws_are_drawn_anew_and_told(head: dict[str, Any]) -> None:
    case = case_with(head)
    drawn = draw_conditions(case, 400)
    assert 0 < drawn.head_redrawn <= MOST_IMPOSSIBLE
    for name in ("head_surface", "head_wall", "liner", "ambient", "surroundings", "emissivity"):
        assert np.all(np.isfinite(drawn[name])), name
    assert drawn.taken(slice(0, 10)).head_redrawn == drawn.head_redrawn
    told = [w.message for w in screen(case, 100, materials=["abs"]).warnings if w.figure == "head_redrawn"]
    assert len(told) == 1
    assert "drawn anew" in told[0]


def test_the_surroundings_of_a_redrawn_draw_are_those_its_surface_mirrors() -> None:
    """Reading, air, surroundings and emissivity are taken over together, so the radiation balances in each draw."""
    drawn = draw_conditions(case_with({"reading_C": 22}), 400)
    assert drawn.head_redrawn > 0
    surface = surface_temperature(295.15, 0.95, drawn["emissivity"], drawn["surroundings"], drawn["ambient"])
    assert np.allclose(surface, drawn["head_surface"], rtol=1e-12)
    assert np.array_equal(drawn["gun_compensates_for"], drawn["ambient"])


def test_what_the_head_mirrors_is_drawn_about_the_air() -> None:
    """The table's 10 K under to 20 K above; a case that says what it is has that alone, whatever the gun takes off."""
    drawn = draw_conditions(case_with({"reading_C": 90, "surface": "matt_black_paint"}, ambient=17), 1000)
    excess = drawn["surroundings"] - drawn["ambient"]
    assert np.quantile(excess, (0.05, 0.5, 0.95)) == pytest.approx([-10, 0, 20], abs=0.5)
    said = draw_conditions(case_with({"reading_C": 90, "surroundings_C": 50, "gun_compensates_for_C": 25}), 10)
    assert np.all(said["surroundings"] == 323.15)
    assert np.all(said["gun_compensates_for"] == 298.15)


@pytest.mark.parametrize(
    ("share", "celsius", "end"), [(1 / 3, -20.0, "low"), (1 / 20, 250.0, "high")], ids=["open sky", "silencer"]
)
def test_the_range_of_what_is_mirrored_is_that_of_sky_and_silencer(share: float, celsius: float, end: str) -> None:
    """A third of open sky at -20 degC, or a twentieth of silencer at 250 degC, the rest as the air of 20 degC, in 8 to 14 um.

    One temperature of the same radiance, by bisection; the table's ends are that to within 2 K.
    """
    seen = (1 - share) * band_radiance(293.15) + share * band_radiance(celsius + 273.15)
    alike = optimize.brentq(lambda kelvin: float(band_radiance(kelvin) - seen), 200.0, 500.0)
    assert getattr(load_assumptions()["mirrored_above_air"], end) == pytest.approx(alike - 293.15, abs=2.0)


def test_only_a_bright_head_asks_what_it_mirrors() -> None:
    """20 K more around a head read at 60 degC: much off bare metal, under 1 K off matt paint (emissivity 0.95).

    By hand, of the paint: 0.05 of what 20 K are in the band against 0.95 of what a kelvin is at 60 degC, some 0.8 K.
    """
    for surface, low, high in (("bare_cast_aluminium", 20, 60), ("matt_black_paint", 0.3, 1)):
        cold, hot = (
            np.median(
                draw_conditions(case_with({"reading_C": 60, "surface": surface, "surroundings_C": t}), 200)[
                    "head_surface"
                ]
            )
            for t in (20, 40)
        )
        assert low < cold - hot < high


@pytest.mark.parametrize(
    ("head", "key"), [({"reading_C": 8}, "head.reading_C"), ({"log": COLD_LOG}, "head.log")], ids=["reading", "log"]
)
def test_many_impossible_draws_refuse_the_case_by_the_right_key(head: dict[str, Any], key: str) -> None:
    with pytest.raises(
        OutOfRange, match=rf"^{key}: in \d+ % of the draws .* °C where it mirrors 30 °C; check head\.surface"
    ):
        draw_conditions(case_with(head, ambient=30), 200)


def test_bore_is_no_hotter_than_its_oil_film_stands() -> None:
    """Bare cast aluminium that reads 125 degC is above 210 degC at the table's typical emissivity of 0.24, its bore, 30 K below, above
    180: no oil film stands that and the engine runs, so the metal is darker. Drawn anew, not held at the limit."""
    case = case_with({"reading_C": 125, "surface": "bare_cast_aluminium"}, ambient=25)
    at_typical = float(surface_temperature(398.15, 0.95, 0.24, 298.15))
    drawn = draw_conditions(case, 400)
    assert at_typical - 30 > 453.15
    assert drawn["liner"].max() <= drawn["hottest_bore"].max()
    assert drawn["head_surface"] - drawn["liner_below_head"] == pytest.approx(drawn["liner"])
    assert np.median(drawn["emissivity"]) > 0.3
