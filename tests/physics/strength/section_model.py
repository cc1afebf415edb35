"""A section of a piston as a finite-element reference: crown, grooved ring belt and skirt, axisymmetric, by scikit-fem.

Elastic for the tension at the crown's centre; rigid-plastic (Mises, an upper bound by its velocity field) for the pressure
that it can carry. Lengths in mm; the skirt's lower end is held axially only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad1,
    ElementQuad2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
    condense,
    solve,
)
from skfem.helpers import grad

POISSON = 0.37
_SKIRT = 30.0


@dataclass(frozen=True)
class Section:
    """Crown of thickness `t` and radius `r`; belt from `r` to `outer`, `height` high; wall of `wall` at the outside."""

    t: float
    r: float = 22.2
    outer: float = 27.6
    height: float = 10.0
    wall: float = 3.4
    grooves: tuple[tuple[float, float], ...] = ((3.5, 1.5), (6.5, 1.5))
    groove_depth: float = 2.4
    cell: float = 0.4

    def mesh(self, clamped: bool = False) -> MeshQuad:
        """Quadrilaterals on a grid of lines through every edge; what is not piston is left out."""
        edges_r = [0, self.r, self.outer - self.groove_depth, self.outer - self.wall, self.outer]
        edges_z = [0, self.t, self.height, _SKIRT, *(z for a, b in self.grooves for z in (a, a + b))]
        lines_r = np.unique(np.r_[np.arange(0, self.outer, self.cell), edges_r].round(6))
        fine = max(self.height, self.t) + 4
        lines_z = np.unique(np.r_[np.arange(0, fine, self.cell), np.arange(fine, _SKIRT, 1.0), edges_z].round(6))
        mesh = MeshQuad.init_tensor(lines_r, lines_z)
        r, z = mesh.p[:, mesh.t].mean(axis=1)
        keep = (z < self.t) | ((r > self.r) & (z < self.height)) | (r > self.outer - self.wall)
        for top, wide in self.grooves:
            keep &= ~((r > self.outer - self.groove_depth) & (z > top) & (z < top + wide))
        if clamped:
            keep = (z < self.t) & (r < self.r)
        return mesh.restrict(np.flatnonzero(keep))


def _strains(u: Any, w: Any) -> tuple[Any, Any, Any, Any]:
    g = grad(u)
    return g[0, 0], g[1, 1], u[0] / w.x[0], (g[0, 1] + g[1, 0]) / 2


@BilinearForm
def _stiffness(u: Any, v: Any, w: Any) -> Any:
    er, ez, et, shear = _strains(u, w)
    vr, vz, vt, other = _strains(v, w)
    volume = w["bulk"] * (er + ez + et) * (vr + vz + vt)
    return (volume + 2 * w["mu"] * (er * vr + ez * vz + et * vt + 2 * shear * other)) * w.x[0]


@LinearForm
def _pressure(v: Any, w: Any) -> Any:
    return v[1] * w.x[0]


def _held(section: Section, basis: Basis, clamped: bool) -> np.ndarray:
    axis = basis.get_dofs(lambda x: np.isclose(x[0], 0)).all(["u^1"])
    if clamped:
        return np.r_[axis, basis.get_dofs(lambda x: np.isclose(x[0], section.r)).all()]
    return np.r_[axis, basis.get_dofs(lambda x: np.isclose(x[1], _SKIRT)).all(["u^2"])]


def centre_tension(section: Section, clamped: bool = False) -> float:
    """Tension at the centre of the underside over p (R/t)^2 [1], the whole face under p."""
    mesh = section.mesh(clamped)
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=4)
    top = mesh.facets_satisfying(lambda x: np.isclose(x[1], 0), boundaries_only=True)
    load = _pressure.assemble(FacetBasis(mesh, basis.elem, facets=top, intorder=4))
    lame, mu = POISSON / ((1 + POISSON) * (1 - 2 * POISSON)), 1 / (2 * (1 + POISSON))
    whole = np.ones_like(basis.dx)
    matrix = _stiffness.assemble(basis, bulk=lame * whole, mu=mu * whole)
    u = basis.interpolate(solve(*condense(matrix, load, D=np.unique(_held(section, basis, clamped)))))
    g, r = grad(u), basis.global_coordinates()[0]
    radial = lame * (g[0, 0] + g[1, 1] + u[0] / r) + 2 * mu * g[0, 0]
    at_nodes = Basis(mesh, ElementQuad1(), intorder=4).project(radial)
    place = np.argmin(mesh.p[0] ** 2 + (mesh.p[1] - section.t) ** 2)
    return float(at_nodes[place] / (section.r / section.t) ** 2)


def limit_factor(section: Section, clamped: bool = False, rounds: int = 80) -> float:
    """Limit pressure over M_p/R^2 [1], crown and belt of one yield strength, the crown's face under pressure.

    The velocity field of least dissipation, by weighted least squares again and again; the volume is kept by a penalty.
    """
    mesh = section.mesh(clamped)
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=3)
    top = mesh.facets_satisfying(lambda x: np.isclose(x[1], 0) & (x[0] <= section.r + 1e-9), boundaries_only=True)
    load = _pressure.assemble(FacetBasis(mesh, basis.elem, facets=top, intorder=4))
    held, r = np.unique(_held(section, basis, clamped)), basis.global_coordinates()[0]
    mu, least = np.ones_like(r), np.inf
    for number in range(rounds):
        u = solve(*condense(_stiffness.assemble(basis, bulk=100 * mu, mu=mu), load, D=held))
        v = basis.interpolate(u / (load @ u))
        g = grad(v)
        er, ez, et, shear = g[0, 0], g[1, 1], v[0] / r, (g[0, 1] + g[1, 0]) / 2
        mean = (er + ez + et) / 3
        rate = np.sqrt(2 / 3 * ((er - mean) ** 2 + (ez - mean) ** 2 + (et - mean) ** 2 + 2 * shear**2))
        if number > 5:
            least = min(least, float(np.sum(rate * r * basis.dx)))
        softer = 1 / (3 * np.maximum(rate, 1e-4 * rate.max()))
        mu = np.sqrt(mu / mu.mean() * softer / softer.mean())
    return least * 4 * section.r**2 / section.t**2
