"""How does a polymer's heat capacity rise with temperature, and what does melting add?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

ROOM_TEMPERATURE = 298.15
MELTING_SPAN = 30.0
"""Melting is spread over this much below the melting point [K]."""
LIQUID_FACTOR = 1.22
"""Heat capacity of the liquid over that of the solid at 298 K, a fit over the polymers of the handbook [1]."""


def solid_ratio(temperature: ArrayLike) -> Floats:
    """Return c(T)/c(298 K) of a solid or glassy polymer, 0.106 + 0.003 T (van Krevelen, eq. 5.2; from memory)."""
    return 0.106 + 0.003 * np.asarray(temperature, dtype=float)


def liquid_ratio(temperature: ArrayLike) -> Floats:
    """Return c(T)/c(298 K of the solid) of a molten or rubbery polymer, 1.22 (0.64 + 0.0012 T) (as above, eq. 5.3)."""
    return LIQUID_FACTOR * (0.64 + 0.0012 * np.asarray(temperature, dtype=float))


def polymer_heat_capacity(
    at_room: ArrayLike,
    transition: ArrayLike,
    shape_factor: ArrayLike = 1.0,
    melting_point: ArrayLike | None = None,
    heat_of_fusion: ArrayLike | None = None,
    hottest: float = 1300.0,
) -> tuple[Floats, Floats]:
    """Return knots and values of a polymer's heat capacity against temperature.

    Holds from about 250 K to decomposition, where no measured curve is known: the solid's straight rise up to the
    transition (the glass transition of an amorphous, the melting point of a semicrystalline polymer), a step of 10 K,
    the liquid's rise beyond. The heat of fusion is spread evenly over MELTING_SPAN below the melting point.

    Parameters
    ----------
    at_room : c at 298 K [J/(kg K)], a number or `(n_draw,)`
    transition : [K], likewise
    shape_factor : true over generic rise above the value at 298 K [1], likewise
    melting_point : [K], where there is one to melt at
    heat_of_fusion : of the material as it is, crystallinity included [J/kg]
    hottest : last knot [K]

    Returns
    -------
    (temperature [K], heat capacity [J/(kg K)]), each `(n_knot, n_draw)`

    References
    ----------
    van Krevelen, D. W., te Nijenhuis, K. (2009), Properties of Polymers, 4th ed., ch. 5, from memory: the slopes are
    3.0e-3 and 1.2e-3 per kelvin of the value at 298 K; the factor 1.22 is a fit.
    """
    base, change, factor = np.broadcast_arrays(
        *(np.atleast_1d(np.asarray(v, dtype=float)) for v in (at_room, transition, shape_factor))
    )

    def solid(kelvin: Floats) -> Floats:
        return base * (1 + (solid_ratio(kelvin) - 1) * factor)

    def liquid(kelvin: Floats) -> Floats:
        return base * (1 + (liquid_ratio(kelvin) - 1) * factor)

    cold, hot = np.full_like(base, 200.0), np.full_like(base, hottest)
    if melting_point is None or heat_of_fusion is None:
        knots = [cold, change - 5, change + 5, hot]
        return np.stack(knots), np.stack([solid(cold), solid(change - 5), liquid(change + 5), liquid(hot)])
    melt = np.broadcast_to(np.asarray(melting_point, dtype=float), base.shape)
    extra = np.asarray(heat_of_fusion, dtype=float) / MELTING_SPAN
    start = melt - MELTING_SPAN
    knots = [cold, start, start, melt, melt, hot]
    values = [solid(cold), solid(start), solid(start) + extra, liquid(melt) + extra, liquid(melt), liquid(hot)]
    return np.stack(knots), np.stack(values)
