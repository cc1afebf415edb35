"""What the gas does in the cylinder over 720 degrees: pressure, temperature, film, work, wall heat."""

from __future__ import annotations

import threading

import numpy as np

from screening.physics.cylinder.cycle_books import BOOKS, Traces
from screening.physics.cylinder.cycle_draw import Draw
from screening.physics.cylinder.cycle_inputs import CycleInputs, broadcast_inputs, check_inputs, draw_records
from screening.physics.cylinder.cycle_kernel import Settling, run_draws
from screening.physics.cylinder.cycle_results import CylinderCycle, gather_cycle
from screening.physics.cylinder.gas_mixture import Sheets
from screening.physics.cylinder.gas_tables import GasTables, gas_tables

__all__ = ["CycleInputs", "CylinderCycle", "solve_cycle"]

_ONE_AT_A_TIME = threading.Lock()  # some of numba's thread pools stop the process when entered twice
_MOST_CYCLES = 25


def solve_cycle(
    inputs: CycleInputs, steps_per_degree: int = 1, tables: GasTables | None = None, tolerance: float = 1e-4
) -> CylinderCycle:
    """Return the settled four-stroke cycle of each draw.

    One zone of uniform gas; first law dU = -p dV - sum h A_k (T - T_k) dt + h dm with Wiebe burning and
    energies from `gas_tables`; blow-down, exhaust and intake strokes at prescribed pressures (smooth fall
    after exhaust opening, smooth change about top dead centre), the gas that flows settled by the first law.
    What is pushed back into the intake port returns first. The intake pressure is solved so that the fresh
    mixture drawn in holds the fuel wanted.

    Parameters
    ----------
    inputs : CycleInputs
    steps_per_degree : implicit trapezoid steps per degree of crank angle [1]; events are rounded to a step
    tables : gas tables in place of those of `inputs.chemistry` (for limits with an exact solution)
    tolerance : largest change from one cycle to the next when it counts as settled; the results are then within
        about half of it (25 cycles at most) [1]

    Returns
    -------
    CylinderCycle, NaN for draws with a NaN input

    Raises
    ------
    OutOfRange : a size, speed or temperature not positive, compression ratio not above 1, rod too short, an
        equivalence ratio outside the gas tables, events out of order, an unknown correlation index, or not
        exactly one way to set the charge

    Notes
    -----
    One zone: dissociation is seen at the mean temperature, below that of the burned zone, so the peak
    pressure comes out a few per cent high. No blow-by, crevices, short-circuited fuel or pressure waves.
    Woschni's motored pressure is polytropic (1.33) from the start of combustion.

    References
    ----------
    Heywood 1988, chapters 2, 9, 12 and 14 (from memory).
    """
    table = gas_tables(inputs.chemistry) if tables is None else tables
    values = broadcast_inputs(inputs)
    check_inputs(inputs, values, table)
    draws = draw_records(values, table)
    usable = np.isfinite(values["correlation"])
    usable &= np.isfinite(draws["fresh_mass"]) | np.isfinite(draws["intake_pressure"])
    for name in Draw._fields:
        if name not in ("fresh_mass", "intake_pressure"):
            usable &= np.isfinite(draws[name])
    sheets = Sheets(
        table.equivalence_ratio,
        table.temperature,
        table.log_pressure,
        table.burned_energy,
        table.burned_gas_constant,
        table.air_energy,
        table.fuel_energy,
        table.air_gas_constant,
        table.fuel_gas_constant,
    )
    # draws weighed by a log's heat stand there several times; what is alike to the last bit is solved once
    _, first, alike = np.unique(draws.view(np.void(draws.itemsize)), return_index=True, return_inverse=True)
    traces = Traces(*(np.full((first.size, 720 * steps_per_degree), np.nan) for _ in Traces._fields))
    books = np.full(first.size, np.nan, BOOKS)
    with _ONE_AT_A_TIME:
        run_draws(draws[first], usable[first], sheets, Settling(_MOST_CYCLES, tolerance), traces, books)
    return gather_cycle(values, draws, table, Traces(*(trace[alike] for trace in traces)), books[alike])
