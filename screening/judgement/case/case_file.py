"""Reading, checking and writing the case file: everything wrong with it is said at once."""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from screening.errors import CaseError, Fault, nearest_names
from screening.judgement.case.case import Case
from screening.judgement.case.document_faults import document_faults
from screening.judgement.case.faults import schema_faults
from screening.judgement.case.sections import checked_case

FORMAT = "polymer-piston-case"
_RIGHT = 'a case file is one JSON object that starts {"format": "polymer-piston-case", "version": 1, ...}'
VERSION = 1
DEMO_FOLDER = Path(__file__).parents[2] / "demo_cases"
LARGEST_FILE = 5_000_000
"""Bytes; the longest log a case may hold takes 200,000."""
_SCHEMA_FILE = Path(__file__).parents[2] / "case_schema.json"


@lru_cache(maxsize=1)
def case_schema() -> dict[str, Any]:
    """Return the JSON Schema of the case file; treat it as read-only."""
    schema: dict[str, Any] = json.loads(_SCHEMA_FILE.read_text("utf-8"))
    return schema


def demo_cases() -> dict[str, Path]:
    """Return the bundled demo cases, all invented: id to file."""
    return {path.stem: path for path in sorted(DEMO_FOLDER.glob("*.json"))}


def load_case(source: str | os.PathLike[str] | Mapping[str, Any]) -> Case:
    """Return the checked case in a file, a bundled demo case (by id) or a document already read.

    Raises
    ------
    CaseError
        Lists every fault at once, each with its key and what would be right.

    Parameters
    ----------
    source : str, path or mapping
        A file's path, a demo case's id, or the document itself; its keys carry their units.

    Returns
    -------
    Case
        In SI, with the defaults filled in.

    Examples
    --------
    >>> case = load_case("cyclopentanone_blend")
    >>> round(1e3 * case.engine.bore), case.engine.speed
    (56, 50.0)
    """
    document = dict(source) if isinstance(source, Mapping) else _read_document(source)
    faults = list(document_faults(document))
    if faults:
        raise CaseError(faults)
    document = _upgraded(document)
    faults = schema_faults(document, case_schema())
    if faults:
        raise CaseError(faults)
    return checked_case(document)


def save_case(case: Case, path: str | os.PathLike[str]) -> None:
    """Write the case's document to `path`, whole or not at all.

    Parameters
    ----------
    case : Case
    path : str or path

    Returns
    -------
    None

    Raises
    ------
    OSError
        Where the file cannot be written.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     save_case(load_case("petrol_baseline"), f"{folder}/case.json")
    ...     load_case(f"{folder}/case.json") == load_case("petrol_baseline")
    True
    """
    write_whole(path, json.dumps(case.to_dict(), indent=2, ensure_ascii=False) + "\n")


def write_whole(path: str | os.PathLike[str], text: str) -> None:
    """Write `text` to `path` by way of a neighbour file, so that a failure leaves nothing half-written.

    A path that is there and no file (a pipe, a device) is written to as it is. Raises OSError.
    """
    target = Path(path)
    if target.exists() and not target.is_file():
        with target.open("w", encoding="utf-8", newline="") as stream:
            stream.write(text)
        return
    part = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        with part.open("x", encoding="utf-8", newline="") as stream:
            stream.write(text)
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _read_document(source: str | os.PathLike[str]) -> dict[str, Any]:
    name = os.fspath(source)
    demo = demo_cases().get(name)
    shown = name if len(name) <= 200 else name[:197] + "..."
    path = demo if demo is not None and not Path(name).exists() else Path(name)
    known = f"give a case file or a demo case ({', '.join(demo_cases())})"
    try:
        if not name.strip():
            raise CaseError([Fault("", f"no file is named; {known}")])
        if path.is_dir():
            raise CaseError([Fault(shown, f"is a folder; {known}")])
        with path.open(encoding="utf-8-sig") as stream:
            text = stream.read(LARGEST_FILE + 1)
        if len(text) > LARGEST_FILE:
            message = f"is longer than {LARGEST_FILE / 1e6:g} million letters: it is no case file; {_RIGHT}"
            raise CaseError([Fault(shown, message)])
    except CaseError:
        raise
    except FileNotFoundError:
        near = nearest_names(name, demo_cases())
        hint = f"did you mean {' or '.join(near)}? Else " if near else ""
        raise CaseError([Fault(shown, f"no such file; {hint}{known}")]) from None
    except OSError as error:
        raise CaseError([Fault(shown, f"cannot be read: {error.strerror}; {known}")]) from None
    except UnicodeDecodeError as error:
        message = f"not UTF-8 text: byte {error.object[error.start]:#04x} at {error.start}; {_RIGHT}"
        raise CaseError([Fault(shown, message)]) from None
    except ValueError as error:  # a path with a zero byte
        raise CaseError([Fault(repr(shown), f"no file has such a name: {error}")]) from None
    return parse_document(text, shown)


def parse_document(text: str, where: str) -> dict[str, Any]:
    """Return the JSON object in `text`; `where` names it in the message if it is none."""
    if not text.strip():
        raise CaseError([Fault(where, f"is empty; {_RIGHT}")])
    try:
        document = json.loads(text, parse_constant=_refuse_constant, object_pairs_hook=_refuse_twice)
    except json.JSONDecodeError as error:
        message = f"not JSON: {error.msg} at line {error.lineno}, column {error.colno}; {_RIGHT}"
        raise CaseError([Fault(where, message)]) from None
    except RecursionError:
        raise CaseError([Fault(where, "not a case: sections or lists stand too deep in one another")]) from None
    except ValueError as error:
        raise CaseError([Fault(where, f"not a case: {error}")]) from None
    if not isinstance(document, dict):
        raise CaseError([Fault(where, f"got {_kind(document)}; {_RIGHT}")])
    return document


def _kind(value: object) -> str:
    kinds = {list: "a list", str: "a text", bool: "true or false", int: "a number", float: "a number"}
    return kinds.get(type(value), "nothing (null)")


def _refuse_constant(name: str) -> float:
    raise ValueError(f"{name} is not a number a case can hold")


def _refuse_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    section = dict(pairs)
    if len(section) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(f"the key {twice!r} stands twice in one section")
    return section


def _upgraded(document: dict[str, Any]) -> dict[str, Any]:
    """Bring a document of an older version to the present one (there is none older yet)."""
    version = document.get("version")
    if isinstance(version, int) and version > VERSION:
        raise CaseError([Fault("version", f"got {version}; this program reads up to {VERSION}: get a newer one")])
    return document
