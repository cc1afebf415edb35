"""How the shared pages look, on a screen and on paper."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path


@lru_cache(maxsize=1)
def page_style() -> str:
    """Return the style sheet, which is part of the page."""
    return (Path(__file__).parent / "page.css").read_text("utf-8")
