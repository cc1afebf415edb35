"""The crown as a plate: how far it spans, how thick the belt is that holds its edge, and what that is worth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from screening.arrays import FloatArray
from screening.judgement.draws.conditions import Conditions
from screening.judgement.piston.stack import CrownStack
from screening.physics.strength.crown_edge import (
    belt_moment,
    bending_limit,
    centre_stress_factor,
    edge_factor_at_load,
)
from screening.physics.strength.plate import Plate
from screening.quantities import ROOM_TEMPERATURE


@dataclass(frozen=True)
class CrownPlate:
    """Sizes of the crown and what holds it, (n_draw,).

    `radius` [m] within the ring belt, shortened where webs tie it to the pin bosses; `belt_moment` [N] that belt and wall
    hold; `edge_error` [1] on the limit load; `centre_factor` [1] of the elastic tension at the underside's centre, its own
    error in it.
    """

    radius: FloatArray
    belt_moment: FloatArray
    edge_error: FloatArray
    centre_factor: FloatArray

    def taken(self, part: slice | NDArray[np.intp]) -> CrownPlate:
        """Return the plate of some draws."""
        return CrownPlate(self.radius[part], self.belt_moment[part], self.edge_error[part], self.centre_factor[part])

    def at_load(self, pressure: FloatArray) -> Plate:
        """Return the plate with the edge factor that it has when it just carries a pressure (n_draw,) [Pa]."""
        return Plate(self.radius, edge_factor_at_load(pressure, self.belt_moment, self.radius, self.edge_error))

    def limit(self, moment: FloatArray) -> FloatArray:
        """Return the pressure that a plastic moment (..., n_draw) [N] carries in bending [Pa]."""
        return np.asarray(self.edge_error * bending_limit(moment, self.belt_moment, self.radius))

    def edge_factor(self, moment: FloatArray) -> FloatArray:
        """Return the limit-load factor p R^2/M_p of a crown of a plastic moment (n_draw,) [N], its error in it [1]."""
        return np.asarray(self.limit(moment) * self.radius**2 / moment)


def crown_plate(draws: Conditions, stack: CrownStack) -> CrownPlate:
    """Return the crown as a plate within its ring belt, which is of what carries the ring and stays cold."""
    carriers = (stack.curves[:-1] or stack.curves) if stack.groove_in_metal else stack.curves[-1:]
    cold = np.full((1, draws.n_draw), ROOM_TEMPERATURE)
    strength = np.max([curve.at(cold)[0] for curve in carriers], axis=0)
    return plate_within_belt(draws, draws["crown_thickness"], strength)


def plate_within_belt(draws: Conditions, thickness: FloatArray, belt_strength: FloatArray) -> CrownPlate:
    """Return a crown of a `thickness` (n_draw,) [m] as a plate within a ring belt of a strength (n_draw,) [Pa].

    R = B/2 - (wall + groove depth + clearance behind the ring) (Kolchin and Demidov 1984, from memory), times the share that
    webs leave of it. The belt's thickness counts with half its grooves' depth.
    """
    wall, groove = draws["skirt_wall"], draws["ring_depth"]
    within = draws["bore"] / 2 - (wall + groove + draws["ring_back_clearance"])
    belt, height = draws["bore"] / 2 - within - groove / 2, draws["ring_belt_height_to_bore"] * draws["bore"]
    return CrownPlate(
        radius=within * draws["webs_span_share"],
        belt_moment=belt_moment(belt, height, wall, within, belt_strength),
        edge_error=draws["edge_factor_error"],
        centre_factor=centre_stress_factor(thickness, within, belt, height, wall, draws["poisson_ratio"])
        * draws["centre_stress_error"],
    )
