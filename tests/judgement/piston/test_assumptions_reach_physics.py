"""What is assumed where a case says nothing arrives at physics as the table's typical value, in SI."""

from __future__ import annotations

import numpy as np
import pytest
from judgement.spied_cases import calls_of
from judgement.spies import argument

ICE = 273.15


@pytest.mark.parametrize(
    ("case", "function", "path", "expected"),
    [
        ("given", "heat_crown #-1", "decomposition.char_retained", 0.5),
        ("given", "heat_crown #-1", "decomposition.char_conductivity", 0.2),
        ("given", "heat_crown #-1", "decomposition.vapour_heat_capacity", 2000),
        ("given", "heat_crown #0", "layers.0.thickness", 0.0067),  # the metal piston's crown is as thick
        ("given", "warm_skirt", "bore.time_constant", 240),
        ("given", "warm_skirt", "oil_film", 1600),
        ("given", "heat_crown #-1", "film.radiation_emissivity", 0.75),
        ("given", "edge_factor_at_load", "error", 0.88),
        ("given", "onset_at_rate", "rate", 10.0),
        ("given", "onset_at_rate", "measured_rate", 10 / 60),
        ("given", "gas_that_floods", "mixed_share", 0.4),
        ("given", "gas_that_floods", "rich_limit", 1.6),
        ("given", "tension_of_warming", "belt_share", 0.25),
        ("given", "highest_peak #0", "variation", 0.10),
        ("given", "highest_peak #1", "variation", 0.13),
        ("given", "pin_boss_limit", "bearing_factor", 1.2),
        ("given", "ring_land_time", "side_cooling", 0.3),
        ("given", "solve_cycle", "inputs.ambient_pressure", 100500),
        ("given", "solve_cycle", "inputs.combustion_start", np.radians(-16)),
        ("given", "solve_cycle", "inputs.combustion_duration", np.radians(58)),
        ("given", "solve_cycle", "inputs.intake_heating", 25),
        ("given", "solve_cycle", "inputs.exhaust_pressure_ratio", 1.05),
        ("given", "solve_cycle", "inputs.wiebe_efficiency", 5),
        ("given", "solve_cycle", "inputs.wiebe_shape", 2),
        ("given", "solve_cycle", "inputs.exhaust_opening", np.radians(130)),
        ("given", "solve_cycle", "inputs.blowdown_angle", np.radians(55)),
        ("given", "solve_cycle", "inputs.overlap_angle", np.radians(20)),
        ("given", "solve_cycle", "inputs.intake_closing", np.radians(580)),
        ("given", "compression_with_crevice", "density_ratio", 1.4),
        ("capped", "heat_crown #-1", "layers.0.contact_resistance", 2e-4),
        ("capped", "drained_at_rim", "rim", 7000 * 4 * 0.17),
        ("throttled", "modulus_curve", "end", 251 + ICE),  # what has crystals is stiff until they melt
    ],
)
def test_typical_value_arrives(case: str, function: str, path: str, expected: float) -> None:
    for call in calls_of(case).of(function):
        arrived = argument(call, path)
        assert arrived.size > 0
        assert np.allclose(arrived, expected, rtol=1e-6), np.unique(arrived)[:3]
