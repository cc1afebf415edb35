"""Draws of one polymer: what the models need of it, from the table or from what the case states.

Material draws are independent of the common ones and are seeded by the material's id, so a material keeps its draws
whatever stands beside it in the table.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.case.case import CONDITIONED, Case
from screening.judgement.draws.sampling import drawn_assumption, drawn_value
from screening.judgement.draws.strength_draws import (
    printing_loss,
    share_when_conditioned,
    when_conditioned,
    with_measured_points,
)
from screening.physics.strength.default_strength import (
    AmorphousShape,
    CrystallineShape,
    amorphous_strength,
    semicrystalline_strength,
)
from screening.physics.strength.printed import printed_strength_factor
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import si_unit, to_si
from screening.records.materials.materials import Material, Value, load_materials
from screening.records.tables.assumptions import load_assumptions
from screening.records.tables.package import read_table

NEEDED = ("density", "thermal_conductivity", "heat_capacity", "glass_transition", "tensile_strength",
          "thermal_expansion", "decomposition_onset")  # fmt: skip
"""Without one of these nothing can be said of a run."""
_WISHED = (
    "melting_point", "heat_of_fusion", "thermal_expansion_hot", "tensile_modulus", "elongation_at_break",
    "deflection_temperature_045", "deflection_temperature_180", "char_yield", "gasification_heat", "layer_adhesion",
    "activation_energy", "air_need_of_gas",
)  # fmt: skip
TAKEN = (*NEEDED, *_WISHED)
"""All properties that a run takes from the table."""


@dataclass(frozen=True)
class Polymer:
    """One material's draws (n_draw,) in SI by property name; a property without a value is absent.

    `strength` is the curve of the printed part in the plane of the crown; `cold_strength` its value at 23 degC;
    `softening` is where it melts or goes through its glass transition [K], `heat_capacity_shape` the factor on how its
    heat capacity rises [1]; `brittle` (n_draw,) says whether it breaks before it yields; `assumed` are
    the draws of the assumptions that are drawn for each polymer by itself.
    """

    material: Material
    values: Mapping[str, FloatArray]
    strength: StrengthCurve
    cold_strength: FloatArray
    softening: FloatArray
    heat_capacity_shape: FloatArray
    brittle: NDArray[np.bool_]
    assumed: Mapping[str, FloatArray]

    def __getitem__(self, name: str) -> FloatArray:
        return self.values[name]

    @property
    def char_yield(self) -> FloatArray:
        """Share of the polymer's mass left as char, (n_draw,) [1]; none where no value says there is any."""
        char = self.get("char_yield")
        return np.zeros(self.cold_strength.size) if char is None else np.clip(char, 0, 0.95)

    def taken(self, part: slice | NDArray[np.intp]) -> Polymer:
        """Return one part of the draws."""
        return replace(
            self,
            values={name: value[part] for name, value in self.values.items()},
            strength=self.strength.taken(part),
            cold_strength=self.cold_strength[part],
            softening=self.softening[part],
            heat_capacity_shape=self.heat_capacity_shape[part],
            brittle=self.brittle[part],
            assumed={name: value[part] for name, value in self.assumed.items()},
        )

    def get(self, name: str) -> FloatArray | None:
        """Return the draws of a property, or None where there is no value."""
        return self.values.get(name)


def case_material(case: Case, id: str) -> Material:
    """Return a material of the table, or one that the case adds with its base's values in the gaps."""
    stated = next((m for m in case.own_materials if m.id == id), None)
    if stated is None:
        return load_materials().get(id)
    base = load_materials().get(stated.based_on)
    units = property_units()
    values = dict(base.values)
    for name, triple in stated.values:
        low, typical, high = (to_si(number, units[name]) for number in triple)
        stated_value = Value(
            low=low,
            typical=typical,
            high=high,
            unit=si_unit(units[name]),
            temperature=np.nan,
            condition="as stated in the case",
            method="",
            source="the case",
            how="own value",
            note="",
            bars="not said",
        )
        values[name] = (stated_value,)
    return replace(base, id=stated.id, name=stated.name, base=base.base or base.id, values=values)


@lru_cache(maxsize=1)
def property_units() -> Mapping[str, str]:
    """Return the unit in which the table writes each property."""
    raw = read_table("properties").drop_duplicates("property")
    return MappingProxyType(dict(zip(raw["property"], raw["unit"], strict=True)))


def missing_values(material: Material) -> tuple[str, ...]:
    """Return the needed properties for which the material has no value."""
    missing = [name for name in NEEDED if material.value(name) is None]
    if material.morphology == "semicrystalline" and material.value("melting_point") is None:
        missing.append("melting_point")
    return tuple(missing)


def draw_polymer(case: Case, material: Material, solid_share: FloatArray, seed: int) -> Polymer:
    """Return the draws of a material that misses nothing (see `missing_values`).

    Parameters
    ----------
    case : Case
        For the direction in which the piston is printed.
    material : Material
        Of the table, or one that the case adds.
    solid_share : array (n_draw,)
        Share of the crown's section that is plastic rather than void [1].
    seed : int
        With the material's id it sets the draws.

    Returns
    -------
    Polymer
        Each property (n_draw,) in SI.
    """
    n_draw = solid_share.size
    values: dict[str, FloatArray] = {}
    for name in TAKEN:
        value = material.value(name)
        if value is not None:
            values[name] = drawn_value(f"{material.id}.{name}", value, n_draw, seed)
    assumed = _assumed(material.id, n_draw, seed)
    for name in ("gasification_heat", "activation_energy", "air_need_of_gas"):
        values.setdefault(name, assumed[name])
    across = 1.0 if case.piston.print_direction == "crown upright" else 0.0
    adhesion = np.clip(values.get("layer_adhesion", np.ones(n_draw)), 0, 1)
    printed = printing_loss(material.values["tensile_strength"][0], assumed)
    factor = printed * printed_strength_factor(adhesion, across, np.minimum(solid_share, 1.0))
    cold = values["tensile_strength"] * factor
    curve = with_measured_points(material, _strength_curve(material, values, cold, assumed), n_draw, seed)
    wet = share_when_conditioned(material, n_draw, seed) if case.piston.polyamide_state == CONDITIONED else None
    curve = when_conditioned(curve, wet, assumed)
    elongation = values.get("elongation_at_break", np.full(n_draw, np.inf))
    return Polymer(
        material=material,
        values=values,
        strength=curve,
        cold_strength=cold if wet is None else wet * cold,
        softening=values.get("melting_point", values["glass_transition"])
        if material.morphology == "semicrystalline"
        else values["glass_transition"],
        heat_capacity_shape=assumed["heat_capacity_shape_error"],
        brittle=elongation < assumed["brittle_elongation"],
        assumed=assumed,
    )


def _assumed(id: str, n_draw: int, seed: int) -> Mapping[str, FloatArray]:
    """Return the assumptions that the table says are drawn for each polymer by itself."""
    rows = [row for row in load_assumptions().values() if row.drawn == "each polymer"]
    return {row.name: drawn_assumption(replace(row, name=f"{id}.{row.name}"), n_draw, seed) for row in rows}


def _strength_curve(
    material: Material, values: Mapping[str, FloatArray], cold: FloatArray, assumed: Mapping[str, FloatArray]
) -> StrengthCurve:
    glass = values["glass_transition"]
    if material.morphology == "amorphous":
        shape = AmorphousShape(assumed["retained_at_transition"], assumed["strength_gone_above_transition"])
        return amorphous_strength(cold, glass, shape)
    crystalline = CrystallineShape(
        at_glass=assumed["crystalline_strength_at_glass"],
        above_glass=assumed["crystalline_strength_above_glass"],
        below_melting=assumed["crystalline_strength_below_melting"],
        near_melting=assumed["crystalline_strength_near_melting"],
        glassy_span=assumed["crystalline_glassy_span"],
        decay=assumed["below_zero_transition_decay"],
        factor=assumed["strength_shape_error"],
    )
    melting = values["melting_point"]
    # both transitions are drawn by themselves: a draw in which they cross keeps them 20 K apart
    return semicrystalline_strength(cold, np.minimum(glass, melting - 20), melting, crystalline)
