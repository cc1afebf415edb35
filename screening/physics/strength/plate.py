"""How much pressure can the hot crown carry, and when does it no longer carry the engine's?

The crown is a circular plate held by the ring belt. Its yield stress varies through the depth with the
temperature; the plate collapses when its plastic moment, or the shear of its rim, no longer suffices.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from screening.arrays import FloatArray
from screening.errors import OutOfRange
from screening.physics.curves.first_crossing import between
from screening.physics.strength.crown_section import CrownSection, contiguous
from screening.physics.strength.plate_kernel import Factors, bracket_collapse, limit_history, section_history

TRESCA_SHEAR = 0.5
"""Shear over tensile yield stress [1] by Tresca; by Mises it is 3^-1/2."""


@dataclass(frozen=True)
class Plate:
    """How the crown is held.

    Parameters
    ----------
    radius : [m] R, of the unsupported plate, a number or (n_draw,), above 0
    edge_factor : [1] k: 11.26 clamped (Tresca), 12.5 clamped (Mises), 6.0 simply supported, a number or (n_draw,)
    shear_ratio : [1] s = tau/sigma: 0.5 (Tresca) or 3^-1/2 (Mises)

    Raises
    ------
    OutOfRange : a radius or edge factor of 0 or less
    """

    radius: ArrayLike
    edge_factor: ArrayLike
    shear_ratio: float = TRESCA_SHEAR

    def __post_init__(self) -> None:
        if np.any(np.asarray(self.radius) <= 0) or np.any(np.asarray(self.edge_factor) <= 0):
            raise OutOfRange("radius and edge_factor must be above 0")

    def factors(self) -> tuple[FloatArray, FloatArray]:
        """Return k/R^2 [1/m2] and 2 s/R [1/m], which turn plastic moment and force into pressure."""
        span = np.asarray(self.radius, dtype=float)
        return np.asarray(self.edge_factor, dtype=float) / span**2, np.asarray(2.0 * self.shear_ratio / span)


def plastic_moment(section: CrownSection) -> tuple[FloatArray, FloatArray]:
    """Return the plastic moment and the full force of a section, both per width.

    Holds for a rigid-plastic section of equal strength in tension and compression that carries no net force.

        N = int sigma dz;  int_0^z0 sigma dz = N/2;  M_p = int sigma |z - z0| dz

    Parameters
    ----------
    section : CrownSection

    Returns
    -------
    (M_p [N], N [N/m]), each (n_time, n_draw), or (n_time,) when nothing has draws

    Notes
    -----
    Exact for temperatures straight between nodes. Tresca or Mises: every depth then yields at the same
    point of its own hexagon or ellipse, so the factors for a uniform plate hold with this M_p.

    Example
    -------
    By hand sigma t^2/4 and sigma t:

    >>> from screening.physics.strength.strength_curve import StrengthCurve
    >>> cold = StrengthCurve([296.15, 400.0], [40e6, 40e6])
    >>> moment, force = plastic_moment(CrownSection([0.0, 0.004], [[300.0, 300.0]], cold))
    >>> round(float(moment[0]), 6), round(float(force[0]), 3)
    (160.0, 160000.0)
    """
    draws = section.draws()
    moment, force = section_history(section.for_draws(draws[0] if draws else 1))
    return (moment, force) if draws else (moment[:, 0], force[:, 0])


def limit_pressure(section: CrownSection, plate: Plate) -> FloatArray:
    """Return the pressure at which the crown collapses, at each moment.

    Holds for small deflection (no membrane help) and a plate that is free to draw in at its edge; so it is on
    the safe side. Bending and shear are taken apart, which is on the unsafe side near t = 0.36 R.

        p = min(k M_p/R^2, 2 s N/R)

    Parameters
    ----------
    section : CrownSection
    plate : Plate

    Returns
    -------
    [Pa] (n_time, n_draw), or (n_time,) when nothing has draws

    References
    ----------
    Hopkins, H. G., Prager, W. (1953), The load carrying capacities of circular plates, J. Mech. Phys.
    Solids 2, 1-13 (6.00 and 11.26); from memory, and solved again in the tests. 12.5: Hopkins, H. G., Wang,
    A. J. (1954), J. Mech. Phys. Solids 3, 117; from memory, solved again likewise.

    Example
    -------
    By hand 11.26 x 160 N/(20 mm)^2:

    >>> from screening.physics.strength.strength_curve import StrengthCurve
    >>> cold = StrengthCurve([296.15, 400.0], [40e6, 40e6])
    >>> limit = limit_pressure(CrownSection([0.0, 0.004], [[300.0, 300.0]], cold), Plate(0.02, 11.26))
    >>> round(float(limit[0]) / 1e6, 3)
    4.504
    """
    bending, shear = plate.factors()
    draws = section.draws(bending, shear)
    count = draws[0] if draws else 1
    limit: FloatArray = limit_history(section.for_draws(count), _factors(plate, count))
    return limit if draws else limit[:, 0]


def crown_collapse_time(
    times: ArrayLike,
    section: CrownSection,
    plate: Plate,
    load: ArrayLike,
    known_until: ArrayLike = np.inf,
    carried_until: ArrayLike = -np.inf,
) -> FloatArray:
    """Return the time at which the crown collapses, without working out the whole history.

    Holds while the limit pressure does not rise in time (a crown that warms up): the time levels are
    bisected, so about log2(n_time) of them are looked at. Same answer as where `limit_pressure` falls to the
    load.

    Parameters
    ----------
    times : [s] (n_time,)
    section : CrownSection
    plate : Plate
    load : [Pa] (n_draw,)
    known_until : [s] (n_draw,), later times are not looked at
    carried_until : [s] (n_draw,), up to then the load is taken to be carried: earlier times are not looked at

    Returns
    -------
    [s] (n_draw,) or (); 0 at the start, inf not by `known_until`, NaN where a needed value is NaN

    Raises
    ------
    OutOfRange : times that do not rise, or not as many as there are temperatures

    Example
    -------
    4.5 MPa collapse it once its 40 MPa have fallen by 0.1 %; straight between 0 and 10 s:

    >>> from screening.physics.strength.strength_curve import StrengthCurve
    >>> falling = StrengthCurve([300.0, 400.0], [40e6, 0.0])
    >>> section = CrownSection([0.0, 0.004], [[300.0, 300.0], [350.0, 350.0]], falling)
    >>> round(float(crown_collapse_time([0.0, 10.0], section, Plate(0.02, 11.26), 4.5e6)), 4)
    0.0178
    """
    moments, pressure = np.asarray(times, dtype=float), np.asarray(load, dtype=float)
    draws = section.draws(*plate.factors(), pressure)
    n_time, n_draw = np.shape(section.temperature)[0], draws[0] if draws else 1
    if moments.shape != (n_time,) or np.any(np.diff(moments) <= 0):
        raise OutOfRange(f"times {moments.shape}: must be ({n_time},) like the temperature, and rise")
    carried, levels = (
        contiguous(np.searchsorted(moments, until, side="right").astype(float), (n_draw,))
        for until in (carried_until, known_until)
    )
    level, before, after = bracket_collapse(
        section.for_draws(n_draw), _factors(plate, n_draw), contiguous(pressure, (n_draw,)), carried, levels
    )
    inside = (level > 0) & (level < levels)
    index = np.where(inside, level, 1).astype(int)
    drop = np.where(inside, before - after, 1.0)
    share = np.where(inside, (before - pressure) / np.where(drop > 0, drop, 1.0), 0.0)
    crossing = between(moments[index - 1], moments[index], share)
    result = np.where(inside, crossing, np.where(level == 0, 0.0, np.where(level < 0, np.nan, np.inf)))
    return result if draws else result[0]


def _factors(plate: Plate, n_draw: int) -> Factors:
    bending, shear = plate.factors()
    return Factors(contiguous(bending, (n_draw,)), contiguous(shear, (n_draw,)))
