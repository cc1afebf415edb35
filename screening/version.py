"""The version of the program: what the page and every document say they were made with."""

from __future__ import annotations

VERSION = "0.9.0"
"""Raised by hand with each change that moves an answer or a format."""
