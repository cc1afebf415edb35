"""What is wrong with an edited table of `materials_data/`: row, column, what stands there and what would be right."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from frictionless import Checklist, Package

from screening.errors import Fault, nearest_names

_PASSED_OVER = ["row-count", "hash-count", "byte-count", "unique-error"]
"""Rows may be added and values mended; what repeats an earlier row is said once, by its key."""
_MISSHAPEN = ("missing-cell", "extra-cell", "blank-row")
_FEW = 8


def table_faults(described: Mapping[str, Any], folder: Path) -> list[Fault]:
    """Return everything wrong with one table, in the order of its rows.

    Parameters
    ----------
    described : mapping
        What the package description says of the table.
    folder : Path
        Where the package lies.

    Returns
    -------
    list of Fault
        Empty when the table fits its description and has no fewer rows than it should.
    """
    try:
        text = (folder / f"{described['name']}.csv").read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        return [Fault("", f"cannot be read as UTF-8 text ({error})")]
    rows = list(csv.reader(io.StringIO(text, newline="")))
    amiss = _heading_fault(rows, described) or _cut_short(rows, text, described)
    if amiss is not None:
        return [amiss]
    faults = [*_cell_faults(described, folder), *_not_finite(rows, described)]
    return [fault for _, fault in sorted(faults, key=lambda pair: pair[0])]


def _heading_fault(rows: Sequence[Sequence[str]], described: Mapping[str, Any]) -> Fault | None:
    names = [field["name"] for field in described["schema"]["fields"]]
    heading = list(rows[0]) if rows else []
    if heading == names:
        return None
    missing = [name for name in names if name not in heading]
    extra = [name for name in heading if name not in names]
    trouble = f"column {missing[0]!r} is missing" if missing else "the columns are not those described"
    if extra:
        trouble += f", column {extra[0]!r} is not described"
    return Fault("row 1", f"{trouble}; the columns should be: {', '.join(names)}")


def _cut_short(rows: Sequence[Sequence[str]], text: str, described: Mapping[str, Any]) -> Fault | None:
    count, needed, last = len(rows) - 1, described["rows"], f"row {len(rows)}"
    if count < needed:
        return Fault(
            last,
            f"the table ends here with {count} rows, should have {needed} or more: it was cut short, or a row was taken "
            "out, and then its number of rows in datapackage.json must be lowered",
        )
    if not text.endswith("\n"):
        return Fault(last, "the table ends within this row, should end with a line end: it was cut short")
    return None


def _cell_faults(described: Mapping[str, Any], folder: Path) -> Iterator[tuple[int, Fault]]:
    fields = {field["name"]: field for field in described["schema"]["fields"]}
    resource = Package(str(folder / "datapackage.json")).get_resource(described["name"])
    report = resource.validate(Checklist(skip_errors=_PASSED_OVER))
    errors = [error.to_dict() for task in report.tasks for error in task.errors]
    misshapen: dict[int, int] = {}
    for error in errors:
        if error["type"] in _MISSHAPEN:
            misshapen[error["rowNumber"]] = len(error["cells"])
    for row, cells in misshapen.items():  # what else is wrong in such a row follows from its shape
        right = f"{cells} cells, should be {len(fields)} (a text that holds a comma needs quotation marks)"
        yield row, Fault(f"row {row}", right)
    for error in errors:
        row = error.get("rowNumber", 0)
        if row not in misshapen:
            yield row, _worded(row, error, fields, described, folder)


def _worded(
    row: int, error: Mapping[str, Any], fields: Mapping[str, Any], described: Mapping[str, Any], folder: Path
) -> Fault:
    """Return the validator's finding in the words of a table's editor."""
    if error["type"] == "primary-key":
        key = described["schema"]["primaryKey"]
        cells = dict(zip(fields, error["cells"], strict=True))
        key_cells = ", ".join(f"{name} {cells[name]}" for name in key)
        return Fault(f"row {row}", f"repeats an earlier row ({key_cells}); each may stand once")
    if error["type"] == "foreign-key":
        column, other, id = error["fieldNames"][0], error["referenceName"], error["referenceFieldNames"][0]
        got = error["fieldCells"][0]
        ids = Package(str(folder / "datapackage.json")).get_resource(other or described["name"])
        near = ", ".join(nearest_names(got, [str(line[id]) for line in ids.read_rows()])) or "none"
        right = f"should be a {id} of {other or described['name']}.csv (nearest: {near})"
        return Fault(f"row {row}, column {column}", f"is {got!r}, {right}")
    if error["type"] in ("constraint-error", "type-error"):
        field, got = fields[error["fieldName"]], error["cell"]
        return Fault(f"row {row}, column {field['name']}", _right(field, got))
    return Fault(f"row {row}" if row else "", str(error["message"]))


def _right(field: Mapping[str, Any], got: str) -> str:
    """Return what stands in a cell and what would be right there."""
    rules = field.get("constraints", {})
    if not got:
        return "is empty, should be filled"
    if field["type"] == "boolean":
        return f"is {got!r}, should be true or false"
    if "enum" in rules:
        near = nearest_names(got, rules["enum"]) or tuple(rules["enum"][:_FEW])
        return f"is {got!r}, should be one of those described, such as: {', '.join(near)}"
    if "pattern" in rules:
        return f"is {got!r}, should match {rules['pattern']}"
    try:
        number = float(got)
    except ValueError:
        return f"is {got!r}, should be a number (decimal point, no unit)"
    low, high = rules.get("minimum", -math.inf), rules.get("maximum", math.inf)
    return f"is {number:g}, should be between {low:g} and {high:g}"


def _not_finite(rows: Sequence[Sequence[str]], described: Mapping[str, Any]) -> Iterator[tuple[int, Fault]]:
    """Yield the cells of number columns that hold a word such as inf or nan, which the validator takes for numbers."""
    for place, field in enumerate(described["schema"]["fields"]):
        if field["type"] == "number":
            for row, cells in enumerate(rows[1:], start=2):
                if place < len(cells) and cells[place].strip().lstrip("+-").casefold() in ("inf", "infinity", "nan"):
                    where = f"row {row}, column {field['name']}"
                    yield row, Fault(where, f"is {cells[place]}, should be a finite number")
