"""What is wrong with a case document, said for a person: where, what stands there, what would be right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from screening.errors import Fault, nearest_names

TWO_STROKE = "only four-stroke engines are modelled: a two-stroke breathes and heats its piston differently"


def schema_faults(document: object, schema: Mapping[str, Any]) -> list[Fault]:
    """Return every fault of `document` against the JSON Schema `schema`, sorted by where they are."""
    errors = Draft202012Validator(schema).iter_errors(document)
    faults = [fault for error in errors for fault in _explained(error)]
    return sorted(dict.fromkeys(faults), key=lambda fault: fault.where)


def _explained(error: ValidationError) -> Iterator[Fault]:
    where = _where(error)
    kind, allowed, got = error.validator, error.validator_value, error.instance
    if kind == "oneOf":
        yield from _of_the_fitting_form(error)
    elif kind == "additionalProperties":
        known = list(error.schema.get("properties", {}))
        for key in sorted(set(got) - set(known)):
            near = nearest_names(key, known)
            hint = f"did you mean {' or '.join(near)}?" if near else f"known keys: {', '.join(known)}"
            yield Fault(_join(where, key), f"unknown key; {hint}")
    elif kind == "required":
        missing = [key for key in allowed if key not in got]
        # jsonschema reports one missing key at a time, each with the whole list; duplicates fall out later
        for key in missing:
            meaning = error.schema.get("properties", {}).get(key, {}).get("description", "")
            yield Fault(_join(where, key), f"missing; must be given: {meaning}".rstrip(": "))
    elif kind == "enum" and where == "engine.strokes":
        yield Fault(where, f"got {got!r}: {TWO_STROKE}")
    elif kind in ("minimum", "maximum"):
        yield Fault(where, f"got {got:g}; allowed {error.schema.get('minimum'):g} to {_highest(error.schema)}")
    elif kind == "enum":
        yield Fault(where, f"got {got!r}; allowed: {', '.join(map(str, allowed))}")
    elif kind == "const":
        yield Fault(where, f"got {got!r}; must be {allowed!r}")
    elif kind == "type":
        yield Fault(where, f"got {_shown(got)}; must be {_type_words(allowed, error.schema)}")
    elif kind == "pattern":
        yield Fault(where, f"got {_shown(got)}; must be {error.schema.get('description', 'of the form ' + allowed)}")
    elif kind in ("maxLength", "minLength", "maxItems", "minItems"):
        side = "at most" if kind.startswith("max") else "at least"
        what = "characters" if kind.endswith("Length") else "entries"
        yield Fault(where, f"has {len(got)} {what}; {side} {allowed} allowed")
    else:
        yield Fault(where, error.message)


def _of_the_fitting_form(error: ValidationError) -> Iterator[Fault]:
    """Of several allowed forms, explain the one the value has the type of; else list the forms."""
    by_form: dict[Any, list[ValidationError]] = {}
    for inner in error.context or ():
        by_form.setdefault(inner.schema_path[0], []).append(inner)
    fitting = [
        errors for errors in by_form.values() if not any(e.validator == "type" and not e.relative_path for e in errors)
    ]
    if fitting:
        for inner in min(fitting, key=len):
            yield from _explained(inner)
    else:
        meaning = error.schema.get("description", "of another type")
        yield Fault(_where(error), f"got {_shown(error.instance)}; must be {meaning}")


def _highest(schema: Mapping[str, Any]) -> str:
    unit = schema.get("description", "").rpartition("[")[2].rstrip("]")
    return f"{schema['maximum']:g}" + (f" {unit}" if unit and unit != "1" else "")


def _type_words(allowed: str, schema: Mapping[str, Any]) -> str:
    words = {
        "number": "a number",
        "integer": "a whole number",
        "string": "text",
        "object": "a section {...}",
        "array": "a list [...]",
        "boolean": "true or false",
    }
    meaning = schema.get("description", "")
    return words.get(allowed, allowed) + (f" ({meaning})" if meaning else "")


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _where(error: ValidationError) -> str:
    where = ""
    for part in error.absolute_path:
        where = f"{where}[{part}]" if isinstance(part, int) else _join(where, part)
    return where


def _join(where: str, key: str | int) -> str:
    return f"{where}.{key}" if where else str(key)
