"""What the page says the answer rests on: the case, the engine as computed, ranges, sources, how to repeat it."""

from __future__ import annotations

import base64
import json
from collections import Counter
from typing import Any

import numpy as np

from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.draws.polymer import property_units
from screening.quantities import to_si
from screening.records.tables.package import data_digest, read_rows
from screening.records.tables.sources import load_sources
from screening.report.fuel.fuel_rows import compared
from screening.report.parts.figures import digits, in_unit, unit_sign
from screening.report.parts.table import Table, row_table, table
from screening.report.shortlist.case_rows import case_rows
from screening.report.shortlist.document import values_taken
from screening.sentences import Units
from screening.version import VERSION
from screening.words import duration

_MEMORY = "handbook, from memory"
_SOURCED = 3
"""So many leading materials have their values listed."""
_GAS = (
    ("fuel_flow", "fuel burned", "g/min", 6e4),
    ("fuel_power", "heat in the fuel", "kW", 1e-3),
    ("volumetric_efficiency", "share of a full charge breathed", "%", 100.0),
    ("peak_pressure", "peak pressure, running, mean of its cycles", "bar", 1e-5),
    ("peak_pressure_bound", "highest that the charge could give, burned at once without loss", "bar", 1e-5),
    ("governed_start_peak_pressure", "peak pressure at the start, throttle open, mean of its cycles", "bar", 1e-5),
    ("held_start_peak_pressure", "the same, throttle held nearly shut", "bar", 1e-5),
    ("choked_start_peak_pressure", "the same, on the choke", "bar", 1e-5),
    ("film_coefficient", "film coefficient on the crown, mean", "W/(m² K)", 1.0),
    ("wall_share", "share of the fuel's heat that goes to the walls", "%", 100.0),
)
_PERCENTILES = (0.05, 0.5, 0.95)


def basis_values(result: Screening, units: Units) -> dict[str, Any]:
    """Values for `page_basis.html`."""
    stories = [story for story in result.stories.values() if story.standing is not None][:_SOURCED]
    cited = {a.source for a in result.assumptions}
    cited |= {value.source for story in stories for value in values_taken(story.material).values()}
    text = json.dumps(result.case.to_dict(), indent=2, ensure_ascii=False) + "\n"
    return {
        "inputs": table(
            "Inputs, and the range each is counted with (5th to 95th percentile)",
            ("input", "given", "counted with"),
            case_rows(result.case, result.conditions, units),
        ),
        "fuels": row_table(
            "The fuel beside the reference fuel", compared(result.case.fuel, result.case.reference_fuel)
        ),
        "engine": _engine(result, units),
        "how": Counter(a.how for a in result.assumptions),
        "assumptions": _assumptions(result, units),
        "values_used": [_values(story, units) for story in stories],
        "citations": [source.citation for id, source in sorted(load_sources().items()) if id in cited],
        "made": _made(result),
        "packed_case": base64.b64encode(text.encode()).decode(),
    }


def _engine(result: Screening, units: Units) -> Table:
    rows = []
    for name, label, unit, factor in _GAS:
        if name not in result.gas:
            continue
        values = factor * np.nanquantile(result.gas[name], _PERCENTILES)
        rows.append((label, *(f"{value:.3g} {unit}" for value in values)))
    hot = np.nanquantile(result.gas["gas_temperature"], _PERCENTILES)
    felt = (f"{units.degrees(float(kelvin)):.0f} {units.temperature}" for kelvin in hot)
    rows.append(("gas temperature that the crown feels", *felt))
    return table("The engine as computed", ("", "5th percentile", "median", "95th percentile"), rows)


def _assumptions(result: Screening, units: Units) -> Table:
    """Return the assumptions in the units of the trade."""
    used = {assumption.name for assumption in result.assumptions}
    rows = [
        (
            row["meaning"] + (f" ({row['note']})" if row["note"] else ""),
            *(digits(_as_tabled(row[end], row["unit"], units)) for end in ("low", "typical", "high")),
            unit_sign(row["unit"], units),
            f"{_short(row['source'])}: {row['how']}",
        )
        for _, row in read_rows("assumptions")
        if row["name"] in used
    ]
    titles = ("assumption", "low", "typical", "high", "unit", "source")
    return table("5th percentile, typical and 95th percentile", titles, rows)


def _as_tabled(number: float, unit: str, units: Units) -> float:
    """Return a number of the table as it stands there; a temperature in the unit chosen."""
    return units.degrees(to_si(number, unit)) if unit == "degC" else number


def _values(story: Story, units: Units) -> dict[str, Any]:
    """Return the values that a run takes of a material, with how many of them are from memory."""
    si, values = property_units(), values_taken(story.material)
    rows = [
        (
            name.replace("_", " "),
            *(digits(in_unit(number, si[name], units)) for number in (value.low, value.typical, value.high)),
            unit_sign(si[name], units),
            f"{_short(value.source)}: {value.how}",
        )
        for name, value in values.items()
    ]
    memory = sum(value.how == _MEMORY for value in values.values())
    titles = ("property", "low", "typical", "high", "unit", "source")
    return {
        "title": f"Values of {story.material.name}: {memory} of {len(rows)} from memory",
        "table": table("What a run takes of it", titles, rows),
    }


def _made(result: Screening) -> list[str]:
    """Case, version, draws and seed with which the page can be computed again."""
    return [
        f"{result.draws} draws, seed {result.seed}; each run followed for {duration(result.horizon)}.",
        f"Version {VERSION} of the program.",
        f"Digest of the case: {result.case.digest}.",
        f"Digest of the open tables: {data_digest()}.",
        "The same version, case, draws, seed and tables give the same page: python -m screening rank case.json "
        f"--draws {result.draws} --seed {result.seed} --html page.html",
    ]


def _short(id: str) -> str:
    """Return a source by author and year; one that the case names itself as it is named."""
    return load_sources()[id].short if id in load_sources() else id
