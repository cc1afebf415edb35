"""What pressures a charge gives: its mean peak, what it would give unburned, and what no cycle of it can pass."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.physics.cylinder.cycle import CylinderCycle
from screening.physics.cylinder.cycle_inputs import CycleInputs
from screening.physics.cylinder.cyclic_peaks import highest_peak
from screening.physics.cylinder.gas_tables import gas_tables
from screening.physics.cylinder.pressure_bound import pressure_bound
from screening.physics.cylinder.volume import clearance_volume, cylinder_volume, swept_volume


@dataclass(frozen=True)
class Peaks:
    """Peak pressures of one charge, (n_draw,) [Pa].

    `mean` of its cycles, `motored` (compressed, not burned), and `bound`, burned at once at top dead centre without loss.
    """

    mean: FloatArray
    motored: FloatArray
    bound: FloatArray

    def highest_of(self, cycles: FloatArray, variation: FloatArray) -> FloatArray:
        """Return the highest peak of so many `cycles` [1] that scatter by `variation` [1], (n_draw,) [Pa]; see
        `screening.physics.cylinder.cyclic_peaks.highest_peak`."""
        return highest_peak(self.mean, self.motored, self.bound, variation, np.maximum(cycles, 2.0))


def peaks_of(inputs: CycleInputs, cycle: CylinderCycle) -> Peaks:
    """Return the peaks of the charge of a solved cycle, from its gas where the intake closes."""
    tables = gas_tables(inputs.chemistry)
    closing = np.broadcast_to(np.asarray(inputs.intake_closing, dtype=float) % (4 * np.pi), cycle.charge_mass.shape)
    volume = cylinder_volume(closing, inputs.bore, inputs.stroke, inputs.rod_length, inputs.compression_ratio)
    step = cycle.crank_angle[1] - cycle.crank_angle[0]
    row = np.minimum((closing / step).astype(int), cycle.crank_angle.size - 1)
    draw = np.arange(row.size)
    pressure, temperature = cycle.pressure[row, draw], cycle.temperature[row, draw]
    least = clearance_volume(swept_volume(inputs.bore, inputs.stroke), inputs.compression_ratio)
    at_once = pressure_bound(
        tables,
        inputs.equivalence_ratio,
        cycle.residual_fraction,
        temperature,
        pressure,
        volume / least,
    )
    motored = np.minimum(at_once.compressed_pressure, cycle.peak_pressure)
    return Peaks(cycle.peak_pressure, motored, np.maximum(at_once.burned_pressure, cycle.peak_pressure))
