"""How fast is the crown against a general solver of the same cells? Prints one table; not a test.

`python tests/benchmarks/crown_against_lsoda.py` (from the project's root) times `heat_crown` over 256 draws, on the grid of the ranking, against
scipy's LSODA on the same cells, with heat capacity by curve, radiation and gas feedback, in one run on one machine.
LSODA takes crowns one by one (a few of them; its time per crown is what is compared), with the band of its Jacobian
given, at relative tolerance 1e-6 and at 1e-3, where its error is nearer the crown's. Its right-hand side is numpy, not
compiled, so part of the ratio is the interpreter's. Errors are against LSODA at 1e-9: both stand on the same cells.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import constants
from scipy.integrate import solve_ivp

sys.path.insert(0, str(Path(__file__).parents[2]))

from screening.judgement.piston.heating import CELLS, STEPS
from screening.physics.crown.conduction import Film, Layer, heat_crown
from screening.physics.crown.grid import cell_edges

Floats = NDArray[np.float64]
DRAWS, LSODA_CROWNS, REPEATS = 256, 6, 5
KNOTS = np.array([150.0, 370.0, 380.0, 480.0, 500.0, 520.0, 900.0])
CURVE = np.array([700.0, 1500.0, 1900.0, 2100.0, 9000.0, 2200.0, 2600.0])
TIMES = np.geomspace(0.1, 300.0, 40)
START, DENSITY, BACK_FILM, BACK_AT, HEAD_AT, FEEDBACK, FEEDBACK_AT = 300.0, 1200.0, 80.0, 360.0, 430.0, 0.12, 420.0


def draw_inputs() -> dict[str, Floats]:
    rng = np.random.default_rng(3)
    return {
        "thickness": rng.uniform(4e-3, 9e-3, DRAWS),
        "conductivity": rng.uniform(0.15, 0.4, DRAWS),
        "film": rng.uniform(60.0, 300.0, DRAWS),
        "gas": rng.uniform(850.0, 1250.0, DRAWS),
        "emissivity": rng.uniform(0.5, 0.8, DRAWS),
    }


def heat_all(draws: dict[str, Floats], cells: int = CELLS, steps: int = STEPS) -> Floats:
    layer = Layer(
        draws["thickness"], draws["conductivity"], DENSITY, 1500.0,
        heat_capacity_temperature=KNOTS, heat_capacity_values=CURVE,
    )  # fmt: skip
    film = Film(
        draws["film"], draws["gas"], feedback=FEEDBACK, feedback_at=FEEDBACK_AT,
        radiation_emissivity=draws["emissivity"], radiation_temperature=HEAD_AT,
    )  # fmt: skip
    return heat_crown([layer], film, Film(BACK_FILM, BACK_AT), START, TIMES, cells=cells, steps=steps).temperature


def semi_discrete(draws: dict[str, Floats], d: int) -> Any:
    """Return the rate of change of the cells' temperatures of one draw."""
    width = np.diff(cell_edges(CELLS, True, False)) * draws["thickness"][d]
    half = width / (2 * draws["conductivity"][d])
    inner = 1.0 / (half[:-1] + half[1:])
    film, gas, glow = draws["film"][d], draws["gas"][d], draws["emissivity"][d] * constants.Stefan_Boltzmann

    def face(first: float) -> float:
        surface = first
        for _ in range(50):
            hot = gas + FEEDBACK * (surface - FEEDBACK_AT)
            off = film * (hot - surface) - glow * (surface**4 - HEAD_AT**4) - (surface - first) / half[0]
            change = off / (film * (1 - FEEDBACK) + 4 * glow * surface**3 + 1 / half[0])
            surface += change
            if abs(change) < 1e-10:
                break
        return surface

    def rate(_: float, temperature: Floats) -> Floats:
        flow = inner * (temperature[:-1] - temperature[1:])
        gain = np.empty(CELLS)
        gain[:-1] = -flow
        gain[-1] = (BACK_AT - temperature[-1]) / (half[-1] + 1 / BACK_FILM)
        gain[1:] += flow
        gain[0] += (face(float(temperature[0])) - temperature[0]) / half[0]
        return gain / (DENSITY * width * np.interp(temperature, KNOTS, CURVE))

    return rate


def by_lsoda(draws: dict[str, Floats], d: int, tolerance: float) -> tuple[Floats, int]:
    """Return cell temperatures `(n_time, n_cell)` and the number of steps that LSODA took."""
    found = solve_ivp(
        semi_discrete(draws, d), (0.0, TIMES[-1]), np.full(CELLS, START), "LSODA", dense_output=True,
        rtol=tolerance, atol=tolerance * 100, lband=1, uband=1,
    )  # fmt: skip
    return found.sol(TIMES).T, found.t.size - 1


def main() -> None:
    draws = draw_inputs()
    begun = time.perf_counter()
    heat_all(draws)
    first = time.perf_counter() - begun
    best = np.inf
    for _ in range(REPEATS):
        begun = time.perf_counter()
        field = heat_all(draws)
        best = min(best, time.perf_counter() - begun)
    alone = {name: value[:1] for name, value in draws.items()}
    single = np.inf
    for _ in range(REPEATS):
        begun = time.perf_counter()
        heat_all(alone)
        single = min(single, time.perf_counter() - begun)
    own: list[float] = []
    table: dict[float, list[tuple[float, int, float]]] = {1e-6: [], 1e-3: []}
    for d in range(LSODA_CROWNS):
        exact, _ = by_lsoda(draws, d, 1e-9)
        own.append(float(np.abs(field[:, 1:-1, d] - exact).max()))
        for tolerance, rows in table.items():
            begun = time.perf_counter()
            found, steps = by_lsoda(draws, d, tolerance)
            rows.append((time.perf_counter() - begun, steps, float(np.abs(found - exact).max())))
    ours = best / DRAWS
    print(f"{DRAWS} draws, {CELLS} cells, run of {TIMES[-1]:.0f} s, c(T) with melting, radiation, gas feedback")
    print(f"processors {os.cpu_count()}; first call (compiles or reads the compiled code) {first:.1f} s")
    print(f"{'':20}{'tolerance':>12}{'steps':>8}{'ms a crown':>12}{'error [K]':>11}{'ratio':>8}{'one alone':>11}")
    print(f"{'crown':20}{'fixed steps':>12}{STEPS:>8d}{ours * 1e3:>12.4f}{max(own):>11.3f}{1:>8d}{1:>11d}")
    for tolerance, rows in table.items():
        spent, taken, error = np.median([r[0] for r in rows]), np.median([r[1] for r in rows]), max(r[2] for r in rows)
        ratios = f"{spent / ours:>8.0f}{spent / single:>11.0f}"
        print(f"{'LSODA':20}{tolerance:>12.0e}{taken:>8.0f}{spent * 1e3:>12.2f}{error:>11.3f}{ratios}")
    theirs = float(np.median([r[0] for r in table[1e-6]]))
    print(f"all {DRAWS} draws: crown {best:.4f} s, LSODA at 1e-6 would take {theirs * DRAWS:.0f} s")


if __name__ == "__main__":
    main()
