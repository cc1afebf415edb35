"""The crown as layers: which lie on the gas side of the polymer, how thick, what each is made of."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.cylinder.gas_side import COLD_CROWN, GasSide
from screening.judgement.draws.conditions import Conditions
from screening.judgement.draws.polymer import Polymer
from screening.physics.crown.conduction import Decomposition, Film, Layer
from screening.physics.crown.disc import drained_at_rim
from screening.physics.crown.heat_capacity import with_fusion, with_heat_capacity_curve
from screening.physics.crown.onset import onset_at_rate
from screening.physics.strength.strength_curve import StrengthCurve
from screening.quantities import ROOM_TEMPERATURE
from screening.records.materials.materials import Material, load_materials

ON_SKIRT = "metal crown on polymer skirt"
"""The build whose crown and rings are metal alone; the polymer carries it by the end of its skirt's wall, and the pin."""
ONSET_SHIFT = (40.0, 90.0)
"""Least and most that the onset is shifted by the face's heating rate [K] (the project's choice)."""
_SEAT_THICKNESS = 1e-4
"""How much of the seat's polymer is in the stack [m]: thin, so that it is as warm as the metal and takes no part."""
_LEAST_HEAT_CAPACITY = 0.3
"""Share of the cold heat capacity [1] below which no draw's curve falls (the project's own choice)."""
_LEAST_LATENT = 0.2
"""Share of the published heat of gasification [1] that is left at least once the warming is taken off (the project's own
choice)."""


@dataclass(frozen=True)
class CrownStack:
    """Layers from the gas side with a strength curve each, the films on both faces, and what the top layer gives off.

    Temperatures are means over the crown's face. `centre_excess` (n_draw,) [1] is how much further from the bore's
    temperature the centre of a crown is that its metal drains to the rings at its rim: (centre - mean)/(mean - bore);
    0 for a crown that conducts nothing sideways. `on_skirt`: a metal crown by itself, whose rim stands on the end of a
    polymer skirt; of the polymer only that seat is in the stack. `bending_of_metal` (n_draw,) [N m] is the sum of E t^3/12 of
    the metal layers, which slide on the polymer as the crown bends; 0 without any.
    """

    layers: tuple[Layer, ...]
    curves: tuple[StrengthCurve, ...]
    film: Film
    back: Film
    decomposition: Decomposition | None
    groove_in_metal: bool
    centre_excess: FloatArray
    on_skirt: bool = False
    bending_of_metal: FloatArray | float = 0.0

    def cell_layer(self, depth: FloatArray) -> FloatArray:
        """Return the number of the layer in which each stretch between two nodes of `depth` (n_depth[, n_draw]) lies, (n_depth - 1,)."""
        nodes = depth if depth.ndim == 1 else depth[:, 0]
        ends = np.cumsum([np.ravel(np.asarray(layer.thickness, dtype=float))[0] for layer in self.layers])
        middle = (nodes[:-1] + nodes[1:]) / 2
        return np.minimum(np.searchsorted(ends, middle, side="left"), len(self.layers) - 1)


def ring_in_metal(case: Case) -> bool:
    """Return whether the top ring sits in metal, so that the crown land is not printed."""
    return case.piston.build in ("metal cap", ON_SKIRT)


def crown_stack(case: Case, draws: Conditions, gas: GasSide, polymer: Polymer) -> CrownStack:
    """Return the crown of one polymer in the case's build, for every draw."""
    layers: list[Layer] = []
    curves: list[StrengthCurve] = []
    excess = np.zeros(draws.n_draw)
    carries_ring = ring_in_metal(case)
    drained = False
    bending = np.zeros(draws.n_draw)
    for row in case.piston.crown_layers:
        metal = load_materials().get(row.material)
        # the groove is in the outermost metal, not in a coating on it
        with_ring = carries_ring and not drained and metal.morphology != "ceramic"
        layer, curve, excess_here = _metal_layer(metal, row.thickness, draws, gas if with_ring else None)
        layers.append(layer)
        curves.append(curve)
        excess = excess + excess_here
        drained |= with_ring
        bending = bending + draws[f"{metal.id}.tensile_modulus"] * row.thickness**3 / 12
    on_skirt = case.piston.build == ON_SKIRT
    of_polymer = _polymer_layer(
        draws, polymer, np.full(draws.n_draw, _SEAT_THICKNESS) if on_skirt else draws["crown_thickness"]
    )
    layers.append(of_polymer)
    curves.append(polymer.strength)
    return CrownStack(
        tuple(layers),
        tuple(curves),
        gas_film(draws, gas),
        _back_film(draws),
        None if case.piston.crown_layers else _decomposition(draws, polymer, of_polymer),
        groove_in_metal=carries_ring,
        centre_excess=excess,
        on_skirt=on_skirt,
        bending_of_metal=bending,
    )


def metal_piston_stack(case: Case, draws: Conditions, gas: GasSide, metal: Material) -> CrownStack:
    """Return the crown of the metal piston that serves as the baseline: one layer with its rings in it."""
    layer, curve, excess = _metal_layer(metal, draws["crown_thickness"], draws, gas)
    return CrownStack((layer,), (curve,), gas_film(draws, gas), _back_film(draws), None, True, excess)


def gas_film(draws: Conditions, gas: GasSide) -> Film:
    """Return the gas film on the crown, with the gas's answer to a hot crown and the crown's radiation to the head."""
    return Film(
        coefficient=gas.film_coefficient,
        temperature=gas.gas_temperature,
        feedback=gas.gas_feedback,
        coefficient_feedback=gas.film_feedback,
        feedback_at=COLD_CROWN,
        radiation_emissivity=draws["crown_emissivity"],
        radiation_temperature=draws["head_wall"],
    )


def _back_film(draws: Conditions) -> Film:
    """Return the oil mist's film on the crown's underside."""
    return Film(coefficient=draws["crankcase_film"], temperature=draws["crankcase"])


def _polymer_layer(draws: Conditions, polymer: Polymer, thickness: FloatArray) -> Layer:
    melts = polymer.material.morphology == "semicrystalline"
    cold = polymer["heat_capacity"]
    layer = Layer(
        thickness=thickness,
        conductivity=polymer["thermal_conductivity"] * draws["solid_share"],
        density=polymer["density"] * draws["solid_share"],
        heat_capacity=cold,
    )
    layer = with_heat_capacity_curve(layer, polymer["melting_point" if melts else "glass_transition"])
    rise = np.asarray(layer.heat_capacity_values) - cold
    layer = replace(
        layer, heat_capacity_values=np.maximum(cold + rise * polymer.heat_capacity_shape, _LEAST_HEAT_CAPACITY * cold)
    )
    fusion = polymer.get("heat_of_fusion") if melts else None
    return layer if fusion is None else with_fusion(layer, polymer["melting_point"], fusion)


def _decomposition(draws: Conditions, polymer: Polymer, layer: Layer) -> Decomposition:
    onset = face_onset(draws, polymer)
    return Decomposition(
        onset=onset,
        gasification_heat=_latent_heat(polymer, layer, onset),
        char_yield=polymer.char_yield,
        char_retained=draws["char_retained"],
        char_conductivity=draws["char_conductivity"],
        vapour_heat_capacity=draws["crown_vapour_heat_capacity"],
    )


def face_onset(draws: Conditions, polymer: Polymer) -> FloatArray:
    """Return the temperature at which a crown's face decomposes, (n_draw,) [K].

    It is the thermobalance's onset carried to the rate at which the face warms. Published activation energies of one polymer
    differ twofold, as low ones mix steps: the shift is held to what follows from energies between.
    """
    slow = polymer["decomposition_onset"]
    fast = onset_at_rate(slow, polymer["activation_energy"], draws["face_heating_rate"], draws["onset_measured_rate"])
    return slow + np.clip(fast - slow, *ONSET_SHIFT)


def _latent_heat(polymer: Polymer, layer: Layer, onset: FloatArray) -> FloatArray:
    """Return the heat that gasifying takes at the onset, (n_draw,) [J/kg].

    Published heats of gasification count from the cold solid: the warming to the onset is taken off, since the crown's
    heat content pays for it; at least a fifth is left, as no polymer falls apart for nothing.
    """
    knots = np.asarray(layer.heat_capacity_temperature)
    values = np.asarray(layer.heat_capacity_values)
    span = np.diff(knots, axis=0)
    slope = np.diff(values, axis=0) / np.where(span > 0, span, np.inf)
    inside = np.clip(knots, ROOM_TEMPERATURE, onset)
    middle = (inside[:-1] + inside[1:]) / 2
    sensible = np.sum(np.diff(inside, axis=0) * (values[:-1] + slope * (middle - knots[:-1])), axis=0)
    whole = polymer["gasification_heat"]
    return np.maximum(whole - sensible, _LEAST_LATENT * whole)


def _metal_layer(
    metal: Material, thickness: float | FloatArray, draws: Conditions, gas: GasSide | None
) -> tuple[Layer, StrengthCurve, FloatArray]:
    """Return a layer, its strength, and the excess of its centre (see `CrownStack`).

    `gas` is given for the layer that carries the rings.
    """
    conductivity = draws[f"{metal.id}.thermal_conductivity"]
    ring, excess = np.zeros(draws.n_draw), np.zeros(draws.n_draw)
    if gas is not None:
        # the belt's conductance, referred to the crown's face: pi D H / (pi D^2 / 4)
        belt = draws["ring_belt_conductance"] * 4 * draws["ring_belt_height_to_bore"]
        ring, excess = drained_at_rim(
            belt, gas.film_coefficient + draws["crankcase_film"], draws["bore"] / 2, thickness, conductivity
        )
    layer = Layer(
        thickness=np.broadcast_to(thickness, (draws.n_draw,)),
        conductivity=conductivity,
        density=draws[f"{metal.id}.density"],
        heat_capacity=draws[f"{metal.id}.heat_capacity"],
        contact_resistance=draws["cap_contact_resistance"],
        ring_conductance=ring,
        ring_temperature=draws["liner"],
    )
    return layer, _metal_strength(metal, draws[f"{metal.id}.tensile_strength"]), excess


_NEVER_MELTS = 3000.0
"""Where a layer has no melting point its strength ends here [K]: hotter than any burned gas."""


def _metal_strength(metal: Material, cold: FloatArray) -> StrengthCurve:
    points = metal.curve("tensile_strength")
    melting = metal.value("melting_point")
    end = melting.low if melting is not None else _NEVER_MELTS
    knots = [ROOM_TEMPERATURE, *(p.temperature for p in points if ROOM_TEMPERATURE < p.temperature < end), end]
    first = points[0].typical if points else 1.0
    shares = [1.0, *(p.typical / first for p in points if ROOM_TEMPERATURE < p.temperature < end), 0.0]
    return StrengthCurve(np.array(knots), np.array(shares)[:, None] * cold)
