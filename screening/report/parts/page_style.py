"""How the shared pages and their drawings look, on a screen and on paper."""

from __future__ import annotations

from functools import lru_cache

from markupsafe import Markup

from screening.report.parts.templates import style_sheet


@lru_cache(maxsize=1)
def page_style() -> Markup:
    """Return the style sheet, which is part of the page."""
    return style_sheet("parts/page.css") + drawing_style()


@lru_cache(maxsize=1)
def drawing_style() -> Markup:
    """Return the style sheet of drawings, the same on the page and in the app."""
    return style_sheet("parts/drawing.css")
