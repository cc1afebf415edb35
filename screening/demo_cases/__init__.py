"""Bundled demo cases and run logs; all are invented."""

from __future__ import annotations

from pathlib import Path


def bundled_logs() -> dict[str, Path]:
    """Return the bundled run logs: name to file."""
    return {path.stem: path for path in sorted(Path(__file__).parent.glob("*.csv"))}
