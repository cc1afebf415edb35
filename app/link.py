"""A link that carries a case: the document compressed, in letters a query may hold."""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Mapping
from typing import Any

from screening.errors import CaseError, Fault

PARAMETER = "case"
LONGEST = 1800
"""Characters a link's case may have; many programs cut longer links (common practice)."""
_MOST_BYTES = 200_000


def encoded(document: Mapping[str, Any]) -> str | None:
    """Return the case document as text for a query, or None when it is too long for a link."""
    text = json.dumps(document, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    packed = base64.urlsafe_b64encode(zlib.compress(text.encode(), 9)).decode().rstrip("=")
    return packed if len(packed) <= LONGEST else None


def decoded(packed: str) -> dict[str, Any]:
    """Return the document in a link; CaseError says what is wrong with it."""
    try:
        raw = base64.urlsafe_b64decode(packed + "=" * (-len(packed) % 4))
        unpacker = zlib.decompressobj()
        text = unpacker.decompress(raw, _MOST_BYTES)
        if unpacker.unconsumed_tail:
            raise ValueError("it unpacks to more than a case can hold")
        document = json.loads(text)
    except (ValueError, zlib.error, UnicodeDecodeError, RecursionError) as error:
        raise CaseError([Fault("link", f"it was cut or changed on its way ({error}); ask for the case file")]) from None
    if not isinstance(document, dict):
        raise CaseError([Fault("link", "holds no case; ask for the case file")])
    return document
