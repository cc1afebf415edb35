"""The colours of charts, tables and verdicts."""

from __future__ import annotations

RANGE, MARK, WARM, COOL = "#5b92cc", "#2f6fb8", "#c8641e", "#3f7f93"
"""Colours of the charts; they hold 3:1 on light and dark grounds."""
