"""A made-up crown, engine and polymer of round numbers, so that what ends a run can be reckoned by pocket calculator.

The crown is 4 mm thick and free over a radius R of 50/2 - 5 = 20 mm: (R/t)^2 is 25. Its belt, 5 mm thick and 10 high, clamps
it; with the edge factor 11.26 x 10/11.26 = 10 a crown of even strength carries 10 (t^2/4)/R^2 = 0.1 of it. The polymer has 50 MPa at 300 K and loses 0.25 MPa a kelvin, so it
carries 5 MPa at 300 K and nothing at 500 K. Engine, burn and polymer are invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType, SimpleNamespace
from typing import Any, cast

import numpy as np

from screening import load_case
from screening.judgement.case.case import Case, CrownLayer
from screening.judgement.cylinder.gas_side import GasSide
from screening.judgement.cylinder.peaks import Peaks
from screening.judgement.cylinder.starts import Starts
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.judgement.piston.load import Load, Start
from screening.judgement.piston.stack import CrownStack
from screening.physics.crown.conduction import Film, Layer
from screening.physics.crown.crown_heat import CrownHeat
from screening.physics.cylinder.film import FilmHarmonics
from screening.physics.strength.crown_edge import centre_stress_factor
from screening.physics.strength.strength_curve import StrengthCurve
from screening.records.materials.materials import Material, Value

Floats = np.ndarray
TIMES = np.array([0.0, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0])
"""Doubling, so that what rises evenly from look to look is straight over log t."""
DEPTH = np.linspace(0.0, 0.004, 401)
CENTRE_FACTOR = float(centre_stress_factor(0.004, 0.020, 0.005, 0.010, 0.005))
"""Of this crown in its belt; its error is made such that the factor is 1."""
_CONDITIONS = {
    "ambient": 300.0, "liner": 400.0, "head_wall": 450.0, "crankcase": 360.0,
    "bore": 0.050, "stroke": 0.040, "skirt_wall": 0.005, "crown_thickness": 0.004, "ring_groove_depth": 0.001,
    "pin_diameter": 0.010, "both_bosses_length": 0.030, "solid_share": 1.0, "compression_ratio": 8.0, "speed": 30.0,
    "ambient_pressure": 1e5, "running_variation": 1e-6, "start_variation": 0.1, "choke_lasts": 1.0, "start_rate_gain": 1.25, "start_lasts": 0.5,
    "ring_depth": 0.0, "ring_back_clearance": 0.0, "webs_span_share": 1.0, "edge_factor_error": 10 / 11.26,
    "centre_stress_error": 1 / CENTRE_FACTOR, "flexural_to_tensile": 1.5, "brittle_size_share": 0.8, "brittle_rate_gain": 1.25,
    "thermal_belt_share": 0.25, "bearing_factor": 1.2, "brittle_below_transition": 20.0, "poisson_ratio": 0.37,
    "ring_land_strength_share": 0.4, "ring_land_side_cooling": 1.5,
    "crown_gas_mixed": 0.5, "rich_limit": 1.5, "equivalence_ratio": 1.0, "face_heating_rate": 1 / 6,
    "onset_measured_rate": 1 / 6, "char_retained": 0.5, "char_conductivity": 0.2, "crown_vapour_heat_capacity": 2000.0, "hot_spot_ignition": 800.0,
    "crankcase_film": 100.0, "oil_film_conductance": 300.0, "crown_emissivity": 0.5, "bore_warm_up_time": 1e-9,
    "seizure_interference": 1e-4, "running_clearance_to_bore": 0.001, "metal_clearance_to_bore": 0.002,
    "metal_land_clearance_to_bore": 0.01, "crevice_density_ratio": 1.5, "print_size_error": 0.0, "ring_above_bore": 50.0,
    "ring_belt_conductance": 1000.0, "ring_belt_height_to_bore": 0.2, "cap_contact_resistance": 1e-4,
    "cast_iron.thermal_expansion": 1e-5,
    "aluminium.thermal_conductivity": 200.0, "aluminium.density": 2700.0, "aluminium.heat_capacity": 900.0,
    "aluminium.tensile_strength": 200e6, "aluminium.tensile_modulus": 70e9,
}  # fmt: skip
_PROPERTIES = {
    "density": 1000.0, "thermal_conductivity": 0.25, "heat_capacity": 1500.0, "glass_transition": 480.0,
    "tensile_strength": 80e6, "activation_energy": 2e5, "air_need_of_gas": 9.52, "thermal_expansion": 8e-5, "decomposition_onset": 700.0, "gasification_heat": 2e6,
}  # fmt: skip


def conditions(n_draw: int = 1, **changed: Any) -> Conditions:
    """Return the draws of the made-up engine, the same in each but for what is `changed`; a dot in a name is a __."""
    values = _CONDITIONS | {name.replace("__", "."): value for name, value in changed.items()}
    return Conditions(
        MappingProxyType({name: np.array(np.broadcast_to(np.asarray(v, float), n_draw)) for name, v in values.items()})
    )


def gas(n_draw: int = 1, **changed: Any) -> GasSide:
    """Return a gas side of 20 bar mean peak and 32.6 bar with the throttle open, held 20; no charge gives more than 59, unburned
    11 bar. The fuel needs 9.52 kg of air a kg; the film's flux has one harmonic, 1e5 W/m2."""
    values = {
        "film_coefficient": 100.0, "gas_temperature": 1200.0, "film_feedback": 0.02, "gas_feedback": 0.1,
        "peak_pressure": 2e6, "fuel_flow": 1e-4 * np.pi / 2,
    } | changed  # fmt: skip
    row = {name: np.array(np.broadcast_to(np.asarray(v, float), n_draw)) for name, v in values.items()}
    harmonics = FilmHarmonics(np.array([[2e5], [1.45e5]], complex), np.array([[100.0], [100.0]], complex))
    low, most = np.full(n_draw, 11e5), np.full(n_draw, 59e5)
    run, governed, held, choked = (Peaks(np.full(n_draw, mean), low, most) for mean in (20e5, 32.6e5, 20e5, 25e5))
    starts = Starts(governed, held, choked)
    return cast(GasSide, SimpleNamespace(**row, peaks=run, starts=starts, harmonics=harmonics, air_need=9.52))


def load(running: float = 2.5e6, starting: float = 3.5e6, flow: float = 2.8e6) -> Load:
    """Return 25 bar running and, for the first 0.5 s, 35 at the start, or something else; held, the start asks half."""
    start = Start(np.array([starting]), np.array([flow]), np.array([0.5]))
    return Load(np.array([running]), (start,), Start(start.pressure / 2, start.pressure_to_flow / 2, start.lasts))


def strength(n_draw: int = 1, cold: float = 50e6) -> StrengthCurve:
    """Return a strength that falls in a straight line from `cold` at 300 K to nothing at 500 K."""
    return StrengthCurve(np.array([[300.0], [500.0]]) * np.ones(n_draw), np.array([[cold], [0.0]]) * np.ones(n_draw))


def material(morphology: str = "amorphous", **values: float | tuple[float, float, float]) -> Material:
    """Return a made-up material of the table; values are SI, one number or (low, typical, high)."""
    rows = {}
    for name, value in (_PROPERTIES | values).items():
        low, typical, high = value if isinstance(value, tuple) else (value, value, value)
        unit = "K" if name in ("glass_transition", "melting_point", "decomposition_onset") else "1"
        rows[name] = (Value(low, typical, high, unit, np.nan, "", "", "made up", "made up", ""),)
    return Material(
        "made_up",
        "Made-up polymer",
        "MU",
        "made up",
        morphology,
        "free",
        "as made",
        ("printable",),
        "",
        "",
        0.0,
        "",
        "",
        rows,
    )


def polymer(n_draw: int = 1, morphology: str = "amorphous", cold: float = 50e6, **changed: Any) -> Polymer:
    """Return the made-up polymer's draws; `brittle` and `softening` may be changed like the properties."""
    brittle, softening = changed.pop("brittle", False), changed.pop("softening", 400.0)
    values = {
        name: np.array(np.broadcast_to(np.asarray(v, float), n_draw)) for name, v in (_PROPERTIES | changed).items()
    }
    one = np.ones(n_draw)
    return Polymer(
        material(morphology), values, strength(n_draw, cold), cold * one, softening * one, heat_capacity_shape=0 * one,
        brittle=np.full(n_draw, brittle), assumed={},
    )  # fmt: skip


def warming(start: float = 320.0, each: float = 20.0, under: float = 0.0) -> Floats:
    """Return a crown's temperature (n_time, n_depth, 1) [K]: 300 K cold, `start` after 1 s, `each` more a doubling of time.

    It is `under` [K/m] colder a metre beneath the face.
    """
    face = np.concatenate([[300.0], start + each * np.arange(TIMES.size - 1)])
    return (face[:, None] - np.where(TIMES[:, None] > 0, under * DEPTH, 0.0))[:, :, None]


def heat(temperature: Floats, recession: Floats | None = None, speed: Floats | None = None) -> CrownHeat:
    """Return a crown's heat from its temperature (n_time, n_depth, n_draw) [K] at TIMES and DEPTH."""
    n_draw = temperature.shape[2]
    none = np.zeros((TIMES.size, n_draw))
    lost = none if recession is None else recession.reshape(TIMES.size, -1) + none
    return CrownHeat(
        times=TIMES,
        depth=DEPTH,
        temperature=temperature,
        surface_temperature=temperature[:, 0],
        back_temperature=temperature[:, -1],
        recession=lost,
        recession_speed=none if speed is None else speed.reshape(TIMES.size, -1) + none,
        consumed_at=np.full(n_draw, np.inf),
        followed=np.full(n_draw, TIMES[-1]),
        energy_in=none,
        energy_out=none,
        energy_ring=none,
        energy_stored=none,
        energy_lost=none,
        initial=np.full(n_draw, 300.0),
    )


def stack(n_draw: int = 1, cap: float = 0.0, **changed: Any) -> CrownStack:
    """Return the bare made-up crown, or its polymer under a metal of `cap` [m], which has 200 MPa at any temperature."""
    one = np.ones(n_draw)
    layers = [Layer(0.004 - cap, 0.25, 1000.0, 1500.0)]
    curves = [strength(n_draw)]
    if cap:
        layers.insert(0, Layer(cap, 200.0, 2700.0, 900.0))
        curves.insert(0, StrengthCurve(np.array([[300.0], [3000.0]]) * one, np.array([[200e6], [200e6]]) * one))
    values: Mapping[str, Any] = {
        "groove_in_metal": bool(cap), "decomposition": None, "centre_excess": 0 * one, "on_skirt": False
    } | changed  # fmt: skip
    film = Film(100.0, 1200.0)
    return CrownStack(tuple(layers), tuple(curves), film, film, **values)


def case(build: str = "all polymer", layers: tuple[CrownLayer, ...] = (), **piston: Any) -> Case:
    """Return a case whose piston is of a `build`; what else of it is drawn stands in `conditions`."""
    plain = load_case("petrol_baseline")
    changed = {"build": build, "crown_layers": layers, "bore_material": "cast_iron"} | piston
    return replace(plain, piston=replace(plain.piston, **changed))
