"""What a log's column of fuel says, and two runs held side by side."""

from __future__ import annotations

import numpy as np
import pytest

from screening.judgement.head.run_comparison import RunFigures, compare_runs, run_figures
from screening.judgement.head.run_log import RunLog, read_log
from screening.records.liquids.find_fuel import find_fuel
from screening.report.head.log_text import fuel_sentence, log_document


def log(settled: float, flow: float, start: float = 20.0, fuel: bool = True, falls: bool = False) -> RunLog:
    """A run of 20 minutes with a time constant of 200 s; `flow` in mL a minute."""
    rows = ["time_s,temperature_C" + (",fuel_mL" if fuel else "")]
    for i in range(41):
        used = flow * i / 2
        cell = f",{500 - used if falls else used:.3f}" if fuel else ""
        rows.append(f"{30 * i},{settled - (settled - start) * np.exp(-30 * i / 200):.3f}{cell}")
    return read_log("\n".join(rows))


@pytest.mark.parametrize("falls", [False, True], ids=["fuel used", "fuel left"])
def test_fuel_burned(falls: bool) -> None:
    run = log(60, 10, falls=falls)
    burned = run.fuel_burned()
    assert burned is not None
    assert burned.volume == pytest.approx(200e-6)
    assert burned.duration == 1200
    assert burned.flow == pytest.approx(10e-6 / 60)
    assert fuel_sentence(run) == "Fuel: 200 mL in 1200 s, 10 mL a minute."
    assert log_document(run)["burned_mL"] == pytest.approx(200)


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        (("0", "5", "3", "9"), "neither only rises nor only falls"),
        (("", "", "", "4"), "neither"),
        (("4", "4", "4", "4"), "neither"),
    ],
)
def test_a_column_of_fuel_that_tells_nothing(cells: tuple[str, ...], told: str) -> None:
    rows = [f"{30 * i},{20 + 5 * i},{cell}" for i, cell in enumerate(cells)]
    run = read_log("\n".join(["time_s,temperature_C,fuel_mL", *rows]))
    assert run.fuel_burned() is None
    assert told in fuel_sentence(run)


def test_no_column_of_fuel() -> None:
    assert log(60, 10, fuel=False).fuel_burned() is None
    assert "No column of fuel" in fuel_sentence(log(60, 10, fuel=False))


def test_power_is_volume_times_heating_value() -> None:
    petrol = find_fuel("petrol E0")
    assert petrol.energy_per_volume is not None
    figures = run_figures(log(60, 10), petrol, "matt_black_paint", 0.95)
    assert figures.power == pytest.approx(10e-6 / 60 * petrol.energy_per_volume)
    assert figures.rise == pytest.approx(40, abs=0.5)  # paint of the gun's own emissivity: the reading is the truth


def test_the_air_of_the_day_does_not_count() -> None:
    """The same rise above a start 10 K warmer is the same rise, a few tenths apart through Planck's law."""
    petrol = find_fuel("petrol E0")
    cold, warm = (run_figures(log(60 + d, 10, 20 + d), petrol, "matt_black_paint", 0.95) for d in (0, 10))
    assert warm.rise == pytest.approx(cold.rise, abs=0.3)


def figures(rise: float, power: float | None, error: float = 1.0) -> RunFigures:
    return RunFigures("x", rise, error, power, None if power is None else 0.05 * power, True)


def test_less_energy_explains_a_cooler_head() -> None:
    told = compare_runs(figures(80, 2000), figures(100, 2500)).findings
    assert "80 K above its start, on x 100 K" in told[0]
    assert "2.00 kW against 2.50 kW (80 %)" in told[1]
    assert "the energy burned is enough to explain" in told[2]


@pytest.mark.parametrize(("rise", "word"), [(60, "less"), (160, "more")])
def test_another_lift_per_kilowatt_is_told(rise: float, word: str) -> None:
    told = compare_runs(figures(rise, 2500), figures(100, 2500)).findings[2]
    assert f": {word} than the errors explain" in told


def test_wide_errors_tell_nothing_apart() -> None:
    assert "enough to explain" in compare_runs(figures(60, 2500, 50), figures(100, 2500, 50)).findings[2]


def test_without_energy_or_without_a_rise_nothing_is_made_up() -> None:
    assert "Energy cannot be compared" in compare_runs(figures(80, None), figures(100, 2500)).findings[-1]
    assert "hardly warmed" in compare_runs(figures(0.5, 2500), figures(100, 2500)).findings[-1]
