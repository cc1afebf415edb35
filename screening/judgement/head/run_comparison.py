"""Two runs side by side: is the head cooler because of the fuel, or because less energy was burned?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from screening.judgement.head.gun import read_gun
from screening.judgement.head.run_log import RunLog
from screening.records.liquids.fuel import Fuel
from screening.records.tables.assumptions import load_assumptions


@dataclass(frozen=True)
class RunFigures:
    """What one run says.

    Parameters
    ----------
    fuel : its name
    rise, rise_error : [K] from the start of the head's surface to where it settles, and half of its 90 % interval. Both
        temperatures are corrected at the surface's typical emissivity, which two runs on one head share
    power, power_error : [W] energy fed a second and half of its 90 % interval; None without a burn or a heating value
    is_settled : whether the log is long enough
    """

    fuel: str
    rise: float
    rise_error: float
    power: float | None
    power_error: float | None
    is_settled: bool


@dataclass(frozen=True)
class RunComparison:
    """A run, the baseline it is held against, and what the two say together."""

    run: RunFigures
    baseline: RunFigures
    findings: tuple[str, ...]


def run_figures(log: RunLog, fuel: Fuel, surface: str, gun_emissivity: float) -> RunFigures:
    """Return the rise of the head [K] and the energy fed [W] in a run on a fuel.

    The start of the log stands for the surroundings and for what the gun takes them to be, so that runs in different air can be held side by side.

    Parameters
    ----------
    log : RunLog
    fuel : Fuel
    surface : id or plain name of the surface that the gun read
    gun_emissivity : [1] what the gun was set to

    Returns
    -------
    RunFigures

    Raises
    ------
    UnknownName : the surface is not in the table
    OutOfRange : readings that no surface of that emissivity can give, or that cannot be fitted
    """
    fit = log.fit_warm_up()

    def surface_at(reading: float) -> float:
        return read_gun(reading, surface, gun_emissivity, fit.start, fit.start).typical

    low, high = (surface_at(reading) for reading in fit.settled_interval)
    burned, energy = log.fuel_burned(), fuel.energy_per_volume
    power = None if burned is None or energy is None else burned.flow * energy
    error = load_assumptions()["burn_error"]
    return RunFigures(
        fuel=fuel.name,
        rise=surface_at(fit.settled) - fit.start,
        rise_error=(high - low) / 2,
        power=power,
        power_error=None if power is None else power * (error.high - error.low) / 2,
        is_settled=fit.is_settled,
    )


def compare_runs(run: RunFigures, baseline: RunFigures) -> RunComparison:
    """Return the findings of two runs on the same head: whether the energy burned explains what they differ by.

    Errors are added as independent ones; two figures differ where their ratio's 90 % interval leaves 1 out.

        r = (rise/power)/(rise_0/power_0);  (dr/r)^2 = sum of (d rise/rise)^2 + (d power/power)^2 over both runs

    Parameters
    ----------
    run : RunFigures
    baseline : RunFigures, of the run that it is held against

    Returns
    -------
    RunComparison, its findings in sentences

    Example
    -------
    >>> less, more = (RunFigures("x", rise, 1.0, power, 50.0, True) for rise, power in ((80.0, 2000.0), (100.0, 2500.0)))
    >>> print(compare_runs(less, more).findings[1])
    It is fed 2.00 kW against 2.50 kW (80 %).
    """
    findings = [
        f"On {run.fuel} the head settles {run.rise:.0f} K above its start, on {baseline.fuel} {baseline.rise:.0f} K."
    ]
    if not (run.is_settled and baseline.is_settled):
        findings.append("One of the runs had not settled: its end is an extrapolation.")
    if min(run.rise - run.rise_error, baseline.rise - baseline.rise_error) <= 0:
        findings.append("One of the heads hardly warmed: there is nothing to hold against the other.")
        return RunComparison(run, baseline, tuple(findings))
    if run.power is None or baseline.power is None:
        findings.append(
            "Energy cannot be compared: both logs need a column of fuel, and both fuels a known heating value. Until then "
            "a cooler head may simply have burned less."
        )
        return RunComparison(run, baseline, tuple(findings))
    findings.append(
        f"It is fed {run.power / 1e3:.2f} kW against {baseline.power / 1e3:.2f} kW "
        f"({100 * run.power / baseline.power:.0f} %)."
    )
    lift, reference = 1e3 * run.rise / run.power, 1e3 * baseline.rise / baseline.power
    ratio = lift / reference
    error = ratio * math.sqrt(sum(_relative_error(figures) ** 2 for figures in (run, baseline)))
    each = f"A kilowatt lifts it by {lift:.1f} K against {reference:.1f} K"
    if abs(ratio - 1) <= error:
        meaning = (
            "these measurements cannot tell that from equal; the energy burned is enough to explain the two heads."
        )
    else:
        meaning = (
            f"{'more' if ratio > 1 else 'less'} than the errors explain: the same energy heats the head differently."
        )
    findings.append(f"{each} (ratio {ratio - error:.2f} to {ratio + error:.2f}): {meaning}")
    return RunComparison(run, baseline, tuple(findings))


def _relative_error(figures: RunFigures) -> float:
    power_error = figures.power_error or 0.0
    return math.hypot(figures.rise_error / figures.rise, power_error / (figures.power or math.inf))
