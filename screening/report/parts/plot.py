"""A plot of lines: two axes with grid and scales, and what is drawn between them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from screening.report.parts.svg import Axis, drawing, lettering, level, stretched, upright

BOLD = ' font-weight="600"'
_TOP, _FOOT = 8, 40
Points = list[tuple[float, float]]
Marks = Sequence[tuple[float, str]]


@dataclass(frozen=True)
class Plot:
    """A plot whose values lie on the axes `across` and `up`; `high` is its height without scales [px]."""

    across: Axis
    up: Axis
    high: float = 230.0

    @property
    def top(self) -> float:
        """Upper edge of the plot in its drawing [px]."""
        return _TOP

    @property
    def bottom(self) -> float:
        """Lower edge of the plot in its drawing [px]."""
        return _TOP + self.high

    def height_of(self, value: float) -> float:
        """Height of a value in the drawing, from its top [px]."""
        return _TOP + self.high * (1 - self.up.share(value))

    def points(self, at: Iterable[float], values: Iterable[float]) -> Points:
        """Return points of the inner frame, share across and height [px]; what is not a number has none."""
        return [
            (self.across.share(x), self.height_of(value) - _TOP)
            for x, value in zip(at, values, strict=True)
            if math.isfinite(value)
        ]

    def drawn(
        self,
        id: str,
        title: str,
        description: str,
        *,
        lines: Iterable[str],
        over: Iterable[str],
        beneath: Iterable[str] = (),
        scale: Marks,
        times: Marks,
        axis_title: str,
    ) -> Markup:
        """Return the drawing: grid, what lies `beneath`, `lines` of the inner frame, both scales, letters and marks `over`.

        `scale` and `times` are the ticks up and across, each with its label.
        """
        grid = [level(self.height_of(value)) for value, _ in scale]
        grid += [upright(self.across.share(at), _TOP, self.bottom) for at, _ in times]
        labels = [
            lettering(1, self.height_of(value) - 3, label, "end")
            for value, label in scale
            if self.up.low < value < self.up.high
        ]
        labels += [lettering(self.across.share(at), self.bottom + 15, label) for at, label in times]
        labels.append(lettering(0.5, self.bottom + 32, axis_title))
        parts = [*grid, *beneath, stretched(_TOP, self.high, lines), *labels, *over]
        return drawing(id, title, description, self.bottom + _FOOT, parts)
