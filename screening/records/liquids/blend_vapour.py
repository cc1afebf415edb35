"""Vapour pressure of a blend: each component's, times its share and its UNIFAC activity coefficient."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from screening.records.liquids.pure_liquids import Liquid
from screening.records.liquids.vapour_pressure import VapourCurve

_KNOTS = np.linspace(200.0, 640.0, 45)
_GROUP_RANGE = (255.0, 425.0)
"""The group parameters rest on vapour-liquid data of about this range [K]; held at its ends outside."""


@dataclass(frozen=True)
class BlendCurve:
    """A blend's bubble pressure at knots of temperature; log-linear in 1/T between and beyond them."""

    temperatures: tuple[float, ...]
    log_pressures: tuple[float, ...]

    def pressure(self, temperature: ArrayLike) -> NDArray[np.float64]:
        """Return the bubble pressure [Pa] at `temperature` [K]; broadcasts, NaN in gives NaN out."""
        kelvin = np.asarray(temperature, dtype=float)
        inverse = -1.0 / np.array(self.temperatures)
        logs = np.array(self.log_pressures)
        x = -1.0 / kelvin
        inside = np.interp(x, inverse, logs)
        low_slope = (logs[1] - logs[0]) / (inverse[1] - inverse[0])
        high_slope = (logs[-1] - logs[-2]) / (inverse[-1] - inverse[-2])
        beyond = np.minimum(x - inverse[0], 0.0) * low_slope + np.maximum(x - inverse[-1], 0.0) * high_slope
        return np.exp(inside + beyond)

    def boiling_point(self, pressure: float = 101325.0) -> float:
        """Return the temperature [K] at which the first bubble forms at `pressure` [Pa]."""
        inverse = -1.0 / np.array(self.temperatures)
        return float(-1.0 / np.interp(np.log(pressure), np.array(self.log_pressures), inverse))


@lru_cache(maxsize=64)
def bubble_curve(liquids: tuple[Liquid, ...], mole_fractions: tuple[float, ...]) -> tuple[BlendCurve | None, str]:
    """Return the bubble-pressure curve of a blend and its method; or None and the reason why there is none.

    p = sum of x_i gamma_i(T, x) p_i(T). Holds for liquids that mix; of a blend that splits into layers it is no more than the
    upper bound.

    Parameters
    ----------
    liquids : tuple of Liquid, (n_liquid,)
    mole_fractions : tuple of float, (n_liquid,)
        [1], with the sum 1.

    Returns
    -------
    tuple of (BlendCurve or None, str)
        The curve in [Pa] against [K].

    References
    ----------
    Fredenslund, Jones & Prausnitz (1975), AIChE Journal 21, 1086 (from memory); group parameters of the `thermo` package.
    """
    for liquid in liquids:
        if liquid.vapour is None:
            return None, f"no vapour pressure of {liquid.name} is published here"
    for liquid in liquids:
        if not liquid.groups:
            return None, f"no UNIFAC groups are known for {liquid.name}"
    fractions = np.array(mole_fractions)
    pure = np.array([curve.pressure(_KNOTS) for curve in (liquid.vapour for liquid in liquids) if curve])
    coefficients = activity_coefficients(liquids, mole_fractions, _KNOTS)
    total = (fractions * coefficients * pure.T).sum(axis=1)
    curve = BlendCurve(tuple(float(knot) for knot in _KNOTS), tuple(float(value) for value in np.log(total)))
    return curve, "components' own curves with UNIFAC activity coefficients"


def activity_coefficients(
    liquids: Sequence[Liquid], mole_fractions: Sequence[float], temperatures: ArrayLike
) -> NDArray[np.float64]:
    """Return the UNIFAC activity coefficients of a mixture of liquids, held at the ends of the fitted range.

    Parameters
    ----------
    liquids : sequence of Liquid, (n_liquid,)
        Each with its UNIFAC groups.
    mole_fractions : sequence of float, (n_liquid,)
        [1], with the sum 1.
    temperatures : array_like, (n_temperature,)
        [K]; outside 255 to 425 K the coefficients of that end stand.

    Returns
    -------
    array (n_temperature, n_liquid)
        [1]

    References
    ----------
    Fredenslund, Jones & Prausnitz (1975), AIChE Journal 21, 1086 (from memory); group parameters of the `thermo` package.
    """
    from thermo.unifac import UFSG, UNIFAC

    numbers = {group.group: number for number, group in UFSG.items()}
    groups = [{numbers[name]: count for name, count in liquid.groups} for liquid in liquids]
    held, place = np.unique(np.clip(np.asarray(temperatures, dtype=float), *_GROUP_RANGE), return_inverse=True)
    shares = list(mole_fractions)
    model = UNIFAC.from_subgroups(chemgroups=groups, T=float(held[0]), xs=shares, version=0)
    # the groups' interactions are laid out once: a model at another temperature is ten times cheaper than a new one
    return np.array([model.to_T_xs(float(kelvin), shares).gammas() for kelvin in held])[place]


Curve = VapourCurve | BlendCurve
