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

from screening.errors import ScreeningError
from screening.judgement.case.case import Case
from screening.judgement.draws.head_draws import draw_head, head_values
from screening.judgement.draws.sampling import drawn_assumption, drawn_value, stratified
from screening.records.materials.materials import load_materials
from screening.records.tables.assumptions import load_assumptions

FloatArray = np.ndarray
CORRELATIONS = ("woschni", "hohenberg", "annand")
BASELINE = "aluminium"
"""Id of the metal whose piston is computed beside the polymers."""
RING = "cast_iron"
"""Id of the metal that the piston rings are made of (common practice, no source)."""
METAL_PROPERTIES = ("density", "thermal_conductivity", "heat_capacity", "thermal_expansion", "tensile_strength")
RICHEST = 1.8
"""Equivalence ratio at which the tables of burned gas and the case's range end [1]; the error of a stated one stops here."""
COATING_LACKS = ("thermal_expansion", "tensile_strength")
"""A thin coating is taken to carry no pressure and to follow what it lies on, where the table says nothing."""

CYCLE_ROWS = (
    "wiebe_efficiency", "exhaust_opening", "blowdown_angle", "overlap_angle", "intake_closing", "intake_heating",
    "exhaust_pressure_ratio",
)  # fmt: skip
"""Rows of `assumptions.csv` that go to the cycle's inputs by the same name."""
# drawn as they stand in the table, whatever the case says
_ALWAYS = (
    "ambient_pressure", "head_wall_excess", "liner_below_head", "plate_edge_factor", "pressure_variation",
    "ring_land_side_cooling", "ring_land_strength_share", "ring_belt_conductance", "ring_belt_height_to_bore",
    "cap_contact_resistance", "oil_film_conductance", "seizure_interference", "running_clearance_to_bore",
    "metal_clearance_to_bore", "bore_warm_up_time", "wet_start_time", "char_retained", "char_conductivity",
    "crown_emissivity", "pyrolysis_share_limit", "hot_spot_ignition", "full_charge",
    "combustion_start", "combustion_duration", "wiebe_exponent", "bearing_factor", "print_size_error", "start_rate_gain",
    "start_lasts", "coldest_charge", "metal_land_clearance_to_bore", "crevice_density_ratio", "ring_above_bore",
    "brittle_below_transition", "poisson_ratio", *CYCLE_ROWS,
)  # fmt: skip


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


def draw_conditions(case: Case, n_draw: int, seed: int = 0) -> Conditions:
    """Return `n_draw` draws of everything that does not depend on the piston's polymer.

    Raises
    ------
    ScreeningError
        When the head's reading or log cannot be made sense of.
    """
    assumptions = load_assumptions()
    used: set[str] = set()

    def assumed(name: str) -> FloatArray:
        used.add(name)
        return drawn_assumption(assumptions[name], n_draw, seed)

    def fixed(value: float) -> FloatArray:
        return np.full(n_draw, value)

    values: dict[str, FloatArray] = {name: assumed(name) for name in _ALWAYS}
    values |= _geometry(case, assumed, fixed)
    operation = case.operation
    for name in ("ambient", "crankcase", "crankcase_film"):
        key = {"ambient": "ambient_C", "crankcase": "crankcase_C", "crankcase_film": "crankcase_film_W_m2K"}[name]
        given = case.is_given("operation", key)
        values[name] = fixed(getattr(operation, name)) if given else assumed(name)
    if case.is_given("operation", "equivalence_ratio"):
        ratio = operation.equivalence_ratio * assumed("equivalence_ratio_error")
        values["equivalence_ratio"] = np.minimum(ratio, RICHEST)
    else:
        values["equivalence_ratio"] = assumed("equivalence_ratio")
    values["burned_volume_flow"], values["volumetric_efficiency"] = _charge(case, assumed, values["full_charge"])
    head = draw_head(case, values["ambient"], n_draw, seed)
    values |= head_values(head, values)
    values |= _film(assumed, n_draw, seed)
    values |= _metals(case, n_draw, seed)
    if case.head.log_text is not None:
        used.discard("bore_warm_up_time")  # the log's own stands in
    return Conditions(MappingProxyType(values), frozenset(used), head.redrawn)


def _geometry(case: Case, assumed, fixed) -> dict[str, FloatArray]:  # type: ignore[no-untyped-def]
    engine, piston = case.engine, case.piston
    if case.is_given("engine", "bore_mm"):
        bore, stroke = fixed(engine.bore), fixed(engine.stroke)
    else:
        swept = np.pi / 4 * engine.bore**2 * engine.stroke
        ratio = assumed("bore_to_stroke")
        bore = np.cbrt(4 * swept * ratio / np.pi)
        stroke = bore / ratio
    values = {
        "bore": bore,
        "stroke": stroke,
        "rod_length": fixed(engine.rod_length)
        if case.is_given("engine", "rod_length_mm")
        else stroke * assumed("rod_to_stroke"),
    }
    for name, key in (("compression_ratio", "compression_ratio"), ("speed", "speed_rpm")):
        values[name] = fixed(getattr(engine, name)) if case.is_given("engine", key) else assumed(name)
    for name, key in (
        ("skirt_wall", "skirt_wall_mm"),
        ("ring_groove_depth", "ring_groove_depth_mm"),
        ("pin_diameter", "pin_diameter_mm"),
        ("pin_boss_length", "pin_boss_length_mm"),
        ("crown_thickness", "crown_thickness_mm"),
    ):
        given = case.is_given("piston", key)
        values[name] = fixed(getattr(piston, name)) if given else bore * assumed(f"{name}_to_bore")
    if case.is_given("piston", "crown_thickness_mm"):
        values["crown_thickness"] = values["crown_thickness"] * assumed("crown_thickness_tolerance")
    values["solid_share"] = (
        fixed(piston.solid_share) if case.is_given("piston", "solid_share") else np.minimum(assumed("solid_share"), 1)
    )
    return values


def _charge(case: Case, assumed, full_charge: FloatArray) -> tuple[FloatArray, FloatArray]:  # type: ignore[no-untyped-def]
    """Return the fuel's volume flow [m3/s] and the volumetric efficiency [1]; the one not known is NaN."""
    operation = case.operation
    unknown = np.full_like(full_charge, np.nan)
    if operation.burned_volume is not None and operation.burn_duration is not None:
        return operation.burned_volume / operation.burn_duration * assumed("burn_error"), unknown
    if operation.throttle is not None:
        return unknown, operation.throttle * full_charge
    return unknown, assumed("throttled_charge")


def _metals(case: Case, n_draw: int, seed: int) -> dict[str, FloatArray]:
    """Return the values of the metals of bore, ring, crown layers and baseline."""
    used = {BASELINE, RING, case.piston.bore_material, *(layer.material for layer in case.piston.crown_layers)}
    values = {}
    for id in sorted(used):
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


def _film(assumed, n_draw: int, seed: int) -> dict[str, FloatArray]:  # type: ignore[no-untyped-def]
    index = np.floor(len(CORRELATIONS) * stratified("correlation", n_draw, seed)).astype(int)
    factors = np.stack([assumed(f"{name}_multiplier") for name in CORRELATIONS])
    return {"correlation": index, "multiplier": factors[index, np.arange(n_draw)]}
