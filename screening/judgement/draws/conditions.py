"""The draws that are common to all materials: engine, burn, air, film, head and crankcase.

What the case gives is taken as it is, with the error of its measurement where that matters (burn, mixture, printed
thickness); what it leaves out is drawn from the range in `assumptions.csv`. Materials share these draws, so that two
of them are compared in the same engine, draw by draw.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.errors import ScreeningError
from screening.judgement.case.case import CHOKED, WEBS, Case
from screening.judgement.draws.compression_draws import ratio_by_gauge_draws
from screening.judgement.draws.head_draws import draw_head, head_values, mirrored_around_head
from screening.judgement.draws.sampling import drawn_assumption, drawn_value, stratified
from screening.records.materials.materials import load_materials
from screening.records.tables.assumptions import load_assumptions

CORRELATIONS = ("woschni", "hohenberg", "annand")
METAL_PROPERTIES = (
    "density", "thermal_conductivity", "heat_capacity", "thermal_expansion", "tensile_strength", "tensile_modulus",
)  # fmt: skip
RICHEST = 1.8
"""Equivalence ratio at which the tables of burned gas and the case's range end [1]; the error of a stated one stops here."""
COATING_LACKS = ("thermal_expansion", "tensile_strength", "tensile_modulus")
"""A thin coating is taken to carry no pressure and to follow what it lies on, where the table says nothing."""

CYCLE_ROWS = (
    "wiebe_efficiency", "exhaust_opening", "blowdown_angle", "overlap_angle", "intake_closing", "intake_heating",
    "exhaust_pressure_ratio",
)  # fmt: skip
"""Rows of `assumptions.csv` that go to the cycle's inputs by the same name."""


@dataclass(frozen=True)
class Conditions:
    """Draws (n_draw,) in SI by name; names are those of `assumptions.csv` and of the case's sections.

    Beside them: `correlation` (index into CORRELATIONS), `multiplier`, `burned_volume_flow` [m3/s] or
    `volumetric_efficiency` [1] (the other one is NaN), `head_surface`, `head_wall`, `liner` [K], and the metals' values
    as `metal.property`. `assumed` names the rows of `assumptions.csv` that were drawn. `head_redrawn` is the
    share of draws that contradicted the head's reading and were drawn anew [1].
    """

    values: Mapping[str, FloatArray]
    assumed: frozenset[str] = frozenset()
    head_redrawn: float = 0.0

    def __getitem__(self, name: str) -> FloatArray:
        return self.values[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.values)

    @property
    def n_draw(self) -> int:
        """Number of draws."""
        return int(next(iter(self.values.values())).size)

    def taken(self, part: slice | NDArray[np.intp]) -> Conditions:
        """Return the draws of one part."""
        return replace(self, values=MappingProxyType({name: value[part] for name, value in self.values.items()}))


def baseline_metal() -> str:
    """Return the id of the metal whose piston is computed beside the polymers."""
    return load_materials().with_role("baseline")[0]


def ring_metal() -> str:
    """Return the id of the metal that the piston rings are made of."""
    return load_materials().with_role("ring")[0]


def draw_conditions(case: Case, n_draw: int, seed: int = 0) -> Conditions:
    """Return the draws of everything that does not depend on the piston's polymer.

    Parameters
    ----------
    case : Case
        What it gives is taken as it is, or with the error of its measurement; what it leaves out is drawn.
    n_draw : int
        Number of draws.
    seed : int
        The same seed gives the same draws.

    Returns
    -------
    Conditions
        Each quantity (n_draw,) in SI.

    Raises
    ------
    ScreeningError
        When the head's reading or log cannot be made sense of, or a metal of the piston lacks a value.

    Examples
    --------
    >>> from screening.judgement.case.case_file import load_case
    >>> conditions = draw_conditions(load_case("petrol_baseline"), 200)
    >>> round(float(np.median(conditions["running_variation"])), 2)
    0.1
    """
    draws = _Assumed(n_draw, seed, {})
    values = {row.name: draws.of(row.name) for row in load_assumptions().values() if row.drawn == "always"}
    values |= _geometry(case, draws)
    values |= _operation(case, draws) | _start(case, draws)
    values |= mirrored_around_head(case, values["ambient"], draws.of)
    values["burned_volume_flow"], values["volumetric_efficiency"] = _charge(case, draws, values["full_charge"])
    head = draw_head(case, values, n_draw, seed)
    values |= head_values(head, values)
    values |= _film(draws)
    values |= _metals(case, n_draw, seed)
    # a log says itself how fast its bore warms
    unused = set() if case.head.log_text is None else {"bore_warm_up_time"}
    return Conditions(MappingProxyType(values), frozenset(draws.drawn) - unused, head.redrawn)


@dataclass(frozen=True)
class _Assumed:
    """The assumptions of one set of draws: `drawn` keeps each one that was asked for, so that it counts as used."""

    n_draw: int
    seed: int
    drawn: dict[str, FloatArray]

    def of(self, name: str) -> FloatArray:
        """Return the draws of one row of `assumptions.csv`, (n_draw,) in SI."""
        if name not in self.drawn:
            self.drawn[name] = drawn_assumption(load_assumptions()[name], self.n_draw, self.seed)
        return self.drawn[name]

    def unless(self, given: bool, value: float, name: str) -> FloatArray:
        """Return the value that the case gives, in every draw, or the draws of the assumption in its place."""
        return np.full(self.n_draw, value) if given else self.of(name)


def _geometry(case: Case, draws: _Assumed) -> dict[str, FloatArray]:
    """Return the sizes of engine and piston [m], compression ratio [1] and speed [1/s]."""
    engine, piston = case.engine, case.piston
    if case.is_given("engine", "bore_mm"):
        bore, stroke = np.full(draws.n_draw, engine.bore), np.full(draws.n_draw, engine.stroke)
    else:
        swept = np.pi / 4 * engine.bore**2 * engine.stroke
        ratio = draws.of("bore_to_stroke")
        bore = np.cbrt(4 * swept * ratio / np.pi)
        stroke = bore / ratio
    values = {"bore": bore, "stroke": stroke}
    for name, size, scale, record, section in (
        ("rod_length", stroke, "rod_to_stroke", engine, "engine"),
        ("skirt_wall", bore, "skirt_wall_to_bore", piston, "piston"),
        ("ring_groove_depth", bore, "ring_groove_depth_to_bore", piston, "piston"),
        ("pin_diameter", bore, "pin_diameter_to_bore", piston, "piston"),
        ("both_bosses_length", bore, "both_bosses_length_to_bore", piston, "piston"),
        ("crown_thickness", bore, "crown_thickness_to_bore", piston, "piston"),
        ("ring_depth", bore, "ring_depth_to_bore", piston, "piston"),
    ):
        given = case.is_given(section, f"{name}_mm")
        values[name] = np.full(draws.n_draw, getattr(record, name)) if given else size * draws.of(scale)
    if case.is_given("piston", "crown_thickness_mm"):
        values["crown_thickness"] = values["crown_thickness"] * draws.of("crown_thickness_tolerance")
    webbed = piston.webs == WEBS
    values["webs_span_share"] = draws.of("webs_span_share") if webbed else np.ones(draws.n_draw)
    values["speed"] = draws.unless(case.is_given("engine", "speed_rpm"), engine.speed, "speed")
    if engine.compression_gauge is not None and not case.is_given("engine", "compression_ratio"):
        values["compression_ratio"] = ratio_by_gauge_draws(engine.compression_gauge, values, draws.of)
    else:
        given = case.is_given("engine", "compression_ratio")
        values["compression_ratio"] = draws.unless(given, engine.compression_ratio, "compression_ratio")
    solid = draws.unless(case.is_given("piston", "solid_share"), piston.solid_share, "solid_share")
    return values | {"solid_share": np.minimum(solid, 1)}


def _operation(case: Case, draws: _Assumed) -> dict[str, FloatArray]:
    """Return air and crankcase [K], the film beneath the crown [W/(m2 K)] and the equivalence ratio [1]."""
    operation = case.operation
    values = {
        name: draws.unless(case.is_given("operation", key), getattr(operation, name), name)
        for name, key in (
            ("ambient", "ambient_C"),
            ("crankcase", "crankcase_C"),
            ("crankcase_film", "crankcase_film_W_m2K"),
        )
    }
    if case.is_given("operation", "equivalence_ratio"):
        stated = operation.equivalence_ratio * draws.of("equivalence_ratio_error")
        return values | {"equivalence_ratio": np.minimum(stated, RICHEST)}
    return values | {"equivalence_ratio": draws.of("equivalence_ratio")}


def _start(case: Case, draws: _Assumed) -> dict[str, FloatArray]:
    """Return where the heat release begins [rad after top dead centre] and, for a start on the choke, its charge and time."""
    spark = case.operation.spark
    values = {
        "combustion_start": draws.of("combustion_start") if spark is None else draws.of("burn_start_error") - spark
    }
    if case.operation.start != CHOKED:
        return values
    return values | {name: draws.of(name) for name in ("choked_charge", "choked_mixture", "choke_lasts")}


def _charge(case: Case, draws: _Assumed, full_charge: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the fuel's volume flow [m3/s] and the volumetric efficiency [1]; the other one is NaN."""
    operation = case.operation
    unknown = np.full_like(full_charge, np.nan)
    if operation.burned_volume is not None and operation.burn_duration is not None:
        return operation.burned_volume / operation.burn_duration * draws.of("burn_error"), unknown
    if operation.throttle is not None:
        return unknown, operation.throttle * full_charge
    return unknown, draws.of("throttled_charge")


def _metals(case: Case, n_draw: int, seed: int) -> dict[str, FloatArray]:
    """Return the values of the metals of bore, ring, crown layers and baseline."""
    parts = {
        baseline_metal(),
        ring_metal(),
        case.piston.bore_material,
        *(layer.material for layer in case.piston.crown_layers),
    }
    values = {}
    for id in sorted(parts):
        for name in METAL_PROPERTIES:
            value = load_materials().get(id).value(name)
            if value is None and name in COATING_LACKS and load_materials().get(id).morphology == "ceramic":
                values[f"{id}.{name}"] = np.zeros(n_draw)
                continue
            if value is None:
                raise ScreeningError(
                    f"piston: {id} has no {name.replace('_', ' ')} in the table, so it cannot be a layer"
                )
            values[f"{id}.{name}"] = drawn_value(f"{id}.{name}", value, n_draw, seed)
    return values


def _film(draws: _Assumed) -> dict[str, FloatArray]:
    """Return which correlation of the gas film each draw takes, and the factor on it [1]."""
    index = np.floor(len(CORRELATIONS) * stratified("correlation", draws.n_draw, draws.seed)).astype(int)
    factors = np.stack([draws.of(f"{name}_multiplier") for name in CORRELATIONS])
    return {"correlation": index, "multiplier": factors[index, np.arange(draws.n_draw)]}
