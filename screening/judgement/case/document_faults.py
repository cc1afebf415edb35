"""What a document may not hold whatever its schema says: numbers that are none, broken text, endless nesting."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from screening.errors import Fault

DEEPEST = 12
"""Levels of sections and lists within one another; a case needs 6."""
_LARGEST = 1e300


def document_faults(value: object, where: str = "", depth: int = 0) -> Iterator[Fault]:
    """Yield everything in `value` that no JSON file of finite numbers and valid text can hold."""
    if depth > DEEPEST:
        yield Fault(where[:60], f"sections or lists stand more than {DEEPEST} deep in one another")
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if isinstance(key, str) and _is_text(key):
                yield from document_faults(inner, f"{where}.{key}" if where else key, depth + 1)
            else:
                yield Fault(where, f"got the key {key!r}; keys must be text")
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from document_faults(inner, f"{where}[{i}]", depth + 1)
    elif isinstance(value, str):
        if not _is_text(value):
            yield Fault(where, "holds half a character (a lone surrogate); must be text that UTF-8 can hold")
    elif isinstance(value, int | float):
        if not math.isfinite(value) if isinstance(value, float) else abs(value) > _LARGEST:
            yield Fault(where, f"got {'a huge number' if isinstance(value, int) else value}; must be a finite number")
    elif value is not None:
        yield Fault(where, f"got a {type(value).__name__}; must be text, a number, true or false, a list or a section")


def _is_text(value: str) -> bool:
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True
