"""Words and colours of the app; colours keep 3:1 contrast on white and on near-black and differ without hue too."""

from __future__ import annotations

VERDICT_COLOURS = {"lasts": "#1f8f6b", "short run only": "#a8730f", "fails": "#d0524b", "unknown": "#7b8494"}
