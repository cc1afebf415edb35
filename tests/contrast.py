"""How well a colour can be told from another (WCAG 2.1), for whichever test looks at colours."""

from __future__ import annotations

import re


def luminance(colour: str) -> float:
    """Return the relative luminance of an sRGB colour, `#rrggbb` or `rgb(r, g, b)` (definition of relative luminance)."""
    if colour.startswith("#"):
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    else:
        parts = [float(part) / 255 for part in re.findall(r"[\d.]+", colour)[:3]]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)
