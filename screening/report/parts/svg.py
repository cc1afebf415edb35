"""Drawings as text that keep their letters at any width: places across are shares of the width, heights are pixels.

A drawing takes the width of its place. Lines and bands lie in an inner frame that is stretched; letters are not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

FRAME = 1000
"""Width of the inner frame in its own units."""
GRID = 'stroke="currentColor" stroke-opacity="0.25"'
_TIMES = ((1, "1 s"), (10, "10 s"), (60, "1 min"), (600, "10 min"), (3600, "1 h"), (36000, "10 h"))


@dataclass(frozen=True)
class Axis:
    """One axis from `low` to `high`; what lies outside is drawn at the end."""

    low: float
    high: float
    logarithmic: bool = False

    def share(self, value: float) -> float:
        """Place of a value along an axis, 0 at the low end and 1 at the high one.

        >>> Axis(1.0, 100.0, logarithmic=True).share(10.0)
        0.5
        """
        inside = min(max(value, self.low), self.high)
        if self.logarithmic:
            return math.log(inside / self.low) / math.log(self.high / self.low)
        return (inside - self.low) / (self.high - self.low)

    def times(self) -> list[tuple[float, str]]:
        """Return the ticks of an axis of times [s]."""
        return [(at, label) for at, label in _TIMES if self.low <= at <= self.high]

    def steps(self, most: int = 6) -> list[float]:
        """Return round values within the axis, at most `most` of them."""
        rough = (self.high - self.low) / most
        power = 10 ** math.floor(math.log10(rough))
        step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough)
        first = math.ceil(self.low / step)
        return [step * i for i in range(first, math.floor(self.high / step) + 1)]


def drawing(id: str, title: str, description: str, height: float, parts: Iterable[str]) -> Markup:
    """Return a drawing with the title and the description that a reader who cannot see it is given.

    Letters have the colour of the text around it, so that they can be read on light and dark grounds.

    Parameters
    ----------
    id : str
        Name of the drawing, of which a page holds one only.
    title, description : str
        Plain text; escaped here.
    height : float
        Height [px]; the width is that of its place.
    parts : iterable of str
        What is drawn, as the functions of this file give it.

    Returns
    -------
    Markup
        One line without a break.
    """
    return Markup(
        f'<svg class="chart" width="100%" height="{height:.0f}" role="img" aria-labelledby="{id}-title {id}-text">'
        f'<title id="{id}-title">{escape(title)}</title><desc id="{id}-text">{escape(description)}</desc>'
        f"{''.join(parts)}</svg>"
    )


def stretched(top: float, height: float, parts: Iterable[str]) -> str:
    """Return the inner frame: FRAME wide, stretched to the width of the drawing."""
    return (
        f'<svg x="0" y="{top:.0f}" width="100%" height="{height:.0f}" viewBox="0 0 {FRAME} {height:.0f}" '
        f'preserveAspectRatio="none">{"".join(parts)}</svg>'
    )


def across(share: float) -> str:
    """Return a place across as SVG writes it."""
    return f"{100 * share:.2f}%"


def lettering(share: float, y: float, text: str, anchor: str = "middle", extra: str = "") -> str:
    """Return a text at a share of the width and a height [px]; a middled one whose end would lie outside is turned inwards.

    >>> lettering(0.5, 20, "1 < 2")
    '<text x="50.00%" y="20" text-anchor="middle" fill="currentColor">1 &lt; 2</text>'
    """
    if anchor == "middle":
        anchor = "start" if share < 0.04 else "end" if share > 0.96 else "middle"
    return (
        f'<text x="{across(share)}" y="{y:.0f}" text-anchor="{anchor}" fill="currentColor"{extra}>{escape(text)}</text>'
    )


def upright(share: float, top: float, bottom: float, stroke: str = GRID) -> str:
    """Return an upright line."""
    return f'<line x1="{across(share)}" x2="{across(share)}" y1="{top:.0f}" y2="{bottom:.0f}" {stroke}/>'


def level(y: float, stroke: str = GRID) -> str:
    """Return a level line across the whole drawing."""
    return f'<line x1="0" x2="100%" y1="{y:.1f}" y2="{y:.1f}" {stroke}/>'


def line(points: Sequence[tuple[float, float]], stroke: str, dash: str = "") -> str:
    """Return a line through points (share across, y) of the inner frame."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<polyline points="{_places(points)}" fill="none" stroke="{stroke}" stroke-width="2"{dashes} '
        'vector-effect="non-scaling-stroke"/>'
    )


def band(lower: Sequence[tuple[float, float]], upper: Sequence[tuple[float, float]], fill: str) -> str:
    """Return the area between two lines of the inner frame."""
    return f'<polygon points="{_places([*lower, *reversed(upper)])}" fill="{fill}" fill-opacity="0.25"/>'


def _places(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{FRAME * share:.1f},{y:.1f}" for share, y in points)


def dot(share: float, y: float, fill: str, radius: float = 3.0) -> str:
    """Return a round mark."""
    return f'<circle cx="{across(share)}" cy="{y:.1f}" r="{radius:g}" fill="{fill}"/>'


def cross(share: float, y: float, stroke: str) -> str:
    """Return a mark of two strokes."""
    strokes = f'<path d="M-5,-5L5,5M-5,5L5,-5" stroke="{stroke}" stroke-width="2.5"/>'
    return f'<svg x="{across(share)}" y="{y:.1f}" overflow="visible">{strokes}</svg>'


def beam(top: float, bottom: float, fill: str, opacity: float = 0.4) -> str:
    """Return a level band across the whole drawing, never thinner than can be seen."""
    height = max(bottom - top, 2.0)
    return f'<rect x="0" y="{top:.1f}" width="100%" height="{height:.1f}" fill="{fill}" fill-opacity="{opacity:g}"/>'
