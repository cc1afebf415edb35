"""How strongly a liquid evaporates: published vapour-pressure equations, and how they go on beyond."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class VapourCurve:
    """One published vapour-pressure equation with the range over which it was fitted.

    Equations (T [K], p [Pa], natural logarithm):

    - "wagner 2.5, 5": ln(p/Pc) = (A x + B x^1.5 + C x^2.5 + D x^5)/(1 - x), x = 1 - T/Tc; A B C D Tc Pc
    - "wagner 3, 6": the same with x^3 and x^6
    - "dippr 101": ln p = C1 + C2/T + C3 ln T + C4 T^C5
    - "antoine": ln p = A - B/(T + C)

    Notes
    -----
    Outside [low, high] the curve goes on as a straight line in ln p against 1/T with the slope it has at
    that end (Clausius-Clapeyron with a constant heat of vaporisation). Above the critical temperature no
    liquid exists: the line is then only a measure of how far a vapour is from condensing.
    """

    equation: str
    coefficients: tuple[float, ...]
    low: float
    high: float

    def _log(self, temperature: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return ln(p / Pa) by the equation itself."""
        if self.equation.startswith("wagner"):
            a, b, c, d, critical, pressure = self.coefficients
            third, fourth = (2.5, 5.0) if self.equation == "wagner 2.5, 5" else (3.0, 6.0)
            x = np.maximum(1.0 - temperature / critical, 0.0)
            power = a * x + b * x**1.5 + c * x**third + d * x**fourth
            return np.log(pressure) + power * critical / temperature
        if self.equation == "dippr 101":
            c1, c2, c3, c4, c5 = self.coefficients
            return c1 + c2 / temperature + c3 * np.log(temperature) + c4 * temperature**c5
        a, b, c = self.coefficients
        return a - b / (temperature + c)

    def pressure(self, temperature: ArrayLike) -> NDArray[np.float64]:
        """Return the saturation pressure [Pa] at `temperature` [K]; broadcasts, NaN in gives NaN out."""
        kelvin = np.asarray(temperature, dtype=float)
        inside = np.clip(kelvin, self.low, self.high)
        step = 0.01 * (self.high - self.low)
        ends = np.array([self.low, self.high])
        near = np.array([self.low + step, self.high - step])
        slope = (self._log(near) - self._log(ends)) / (1.0 / near - 1.0 / ends)
        end_slope = np.where(kelvin < self.low, slope[0], slope[1])
        return np.exp(self._log(inside) + end_slope * (1.0 / kelvin - 1.0 / inside))

    def boiling_point(self, pressure: float = 101325.0) -> float:
        """Return the temperature [K] at which the saturation pressure is `pressure` [Pa]."""
        from scipy.optimize import brentq

        def excess(inverse: float) -> float:
            return float(np.log(self.pressure(1.0 / inverse) / pressure))

        return 1.0 / brentq(excess, 1 / 1500.0, 1 / 80.0, xtol=1e-12)
