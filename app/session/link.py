"""A link that carries a case: the document compressed, in letters a query may hold.

A log of the user's own stays behind: the link names it by its digest, and whoever opens the link is asked for it. A
case too long for any address is named by a digest too, and has to be opened from its file.
"""

from __future__ import annotations

import base64
import hashlib
import json
import zlib
from collections.abc import Mapping
from typing import Any

from screening.errors import CaseError, Fault
from screening.judgement.case.case import canonical_text

PARAMETER = "case"
LONGEST = 1800
"""Characters a link's case may have to be passed on; many programs cut longer links (common practice)."""
LONGEST_IN_ADDRESS = 12_000
"""Characters the browser's own address may carry; a server takes far more in one request."""
TOO_LONG = "file."
"""Starts the query of a case that no address can hold; its digest follows."""
_MOST_BYTES = 200_000
Document = Mapping[str, Any]


def encoded(document: Document, longest: int = LONGEST) -> str | None:
    """Return the case document as text for a query, or None when it is too long for a link."""
    packed = base64.urlsafe_b64encode(zlib.compress(canonical_text(document).encode(), 9)).decode().rstrip("=")
    return packed if len(packed) <= longest else None


def for_address(document: Document) -> str:
    """Return the query that stands for a document in the browser's address: the case itself, or its digest."""
    packed = encoded(document, LONGEST_IN_ADDRESS)
    return packed or TOO_LONG + hashlib.sha256(canonical_text(document).encode()).hexdigest()[:24]


def decoded(packed: str) -> dict[str, Any]:
    """Return the document in a link; CaseError says what is wrong with it."""
    if packed.startswith(TOO_LONG):
        raise CaseError([Fault("link", "it stands for a case too long for a link; open its case file")])
    try:
        raw = base64.b64decode(packed + "=" * (-len(packed) % 4), altchars=b"-_", validate=True)
        unpacker = zlib.decompressobj()
        text = unpacker.decompress(raw, _MOST_BYTES)
        if unpacker.unconsumed_tail:
            raise ValueError("it unpacks to more than a case can hold")
        if not unpacker.eof:
            raise ValueError("its end is missing")
        document = json.loads(text)
    except (ValueError, zlib.error, UnicodeDecodeError, RecursionError):
        raise CaseError(
            [Fault("link", "it was cut or changed on its way; ask for it again, or for the case file")]
        ) from None
    if not isinstance(document, dict):
        raise CaseError([Fault("link", "holds no case; ask for the case file")])
    return document


def log_digest(text: str) -> str:
    """SHA-256 of a log's text, whatever ends its lines."""
    return hashlib.sha256("\n".join(text.split("\r\n")).strip().encode()).hexdigest()


def own_log(document: Document) -> str | None:
    """Return the text of the log that the document itself holds, if it holds one."""
    head = document.get("head")
    log = head.get("log") if isinstance(head, Mapping) else None
    return log if isinstance(log, str) else None


def missing_log(document: Document) -> str | None:
    """Return the digest of the log that a document names but does not hold."""
    head = document.get("head")
    log = head.get("log") if isinstance(head, Mapping) else None
    digest = log.get("digest") if isinstance(log, Mapping) else None
    return digest if isinstance(digest, str) else None


def without_own_log(document: Document) -> dict[str, Any]:
    """Return the document with its own log named by its digest."""
    text = own_log(document)
    return dict(document) if text is None else with_log(document, {"digest": log_digest(text)})


def with_log(document: Document, log: str | Mapping[str, str]) -> dict[str, Any]:
    """Return the document with another log, or another name for it."""
    return {**document, "head": {**document["head"], "log": log}}
