"""The page's sections on what the answer rests on: the case, the engine as computed, ranges, sources, how to repeat it."""

from __future__ import annotations

import base64
import json
from collections import Counter

import numpy as np

from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.draws.polymer import property_units
from screening.quantities import from_si
from screening.records.materials.materials import Value
from screening.records.tables.package import data_digest, read_rows
from screening.records.tables.sources import Source, load_sources
from screening.report.fuel.fuel_rows import compared
from screening.report.parts.html import folded, listed, paragraph, row_table, section, table
from screening.report.shortlist.case_rows import case_rows, digits, unit_sign
from screening.report.shortlist.document import values_taken
from screening.words import duration

MEMORY = "handbook, from memory"
_SOURCED = 3
_GAS = (
    ("fuel_flow", "fuel burned", "g/min", 6e4),
    ("fuel_power", "heat in the fuel", "kW", 1e-3),
    ("volumetric_efficiency", "share of a full charge breathed", "%", 100.0),
    ("peak_pressure", "peak pressure, running", "bar", 1e-5),
    ("full_charge_pressure", "peak pressure of a full charge, at the start", "bar", 1e-5),
    ("film_coefficient", "film coefficient on the crown, mean", "W/(m² K)", 1.0),
    ("wall_share", "share of the fuel's heat that goes to the walls", "%", 100.0),
)


def case_section(result: Screening) -> str:
    """Return the inputs, the fuels and the engine as computed."""
    rows = case_rows(result.case, result.conditions)
    return section(
        "case",
        "The case",
        table("Inputs, and the range each is counted with (5th to 95th percentile)", ("input", "given", "counted with"), rows),
        row_table("The fuel beside the reference fuel", compared(result.case.fuel, result.case.reference_fuel)),
        table("The engine as computed", ("", "5th percentile", "median", "95th percentile"), _gas(result)),
        paragraph(result.evidence.told) if result.evidence is not None else "",
    )  # fmt: skip


def _gas(result: Screening) -> list[tuple[str, ...]]:
    rows = []
    for name, label, unit, factor in _GAS:
        values = factor * np.nanquantile(result.gas[name], (0.05, 0.5, 0.95))
        rows.append((label, *(f"{value:.3g} {unit}" for value in values)))
    hot = np.nanquantile(result.gas["gas_temperature"], (0.05, 0.5, 0.95))
    rows.append(("gas temperature that the crown feels", *(f"{from_si(float(v), 'degC'):.0f} °C" for v in hot)))
    return rows


def basis_section(result: Screening) -> str:
    """Return the assumptions, the leading materials' values, and the sources of both."""
    stories = [story for story in result.stories.values() if story.standing is not None][:_SOURCED]
    cited = {a.source for a in result.assumptions}
    cited |= {value.source for story in stories for value in values_taken(story.material).values()}
    citations = [source.citation for id, source in sorted(load_sources().items()) if id in cited]
    how = Counter(a.how for a in result.assumptions)
    return section(
        "basis",
        "What it rests on",
        paragraph(
            f"Of the {len(result.assumptions)} assumptions that stand in for what was not measured, "
            f"{how['common practice']} are common practice or a judgement, {how[MEMORY]} are from a handbook, from memory, and "
            f"{how['looked up']} were looked up. What the case gives itself is not among them."
        ),
        folded("Assumptions, with their ranges", table("5th percentile, typical and 95th percentile",
               ("assumption", "low", "typical", "high", "unit", "source"), _assumptions(result))),
        *(_values(story) for story in stories),
        folded("Sources", listed(citations)),
    )  # fmt: skip


def _assumptions(result: Screening) -> list[tuple[str, ...]]:
    """Return the assumptions in the units of the trade, as the table has them."""
    used = {assumption.name for assumption in result.assumptions}
    titles = load_sources()
    return [
        (
            row["meaning"] + (f" ({row['note']})" if row["note"] else ""),
            *(digits(row[end]) for end in ("low", "typical", "high")),
            unit_sign(row["unit"]),
            f"{_short(titles[row['source']])}: {row['how']}",
        )
        for _, row in read_rows("assumptions")
        if row["name"] in used
    ]


def _values(story: Story) -> str:
    units, values = property_units(), values_taken(story.material)
    titles = load_sources()
    memory = sum(value.how == MEMORY for value in values.values())
    rows = [
        (
            name.replace("_", " "),
            *_ends(value, units[name]),
            f"{_short(titles[value.source]) if value.source in titles else value.source}: {value.how}",
        )
        for name, value in values.items()
    ]
    head = ("property", "low", "typical", "high", "unit", "source")
    title = f"Values of {story.material.name}: {memory} of {len(rows)} from memory"
    return folded(title, table("What a run takes of it", head, rows))


def _ends(value: Value, unit: str) -> tuple[str, ...]:
    ends = (digits(from_si(number, unit)) for number in (value.low, value.typical, value.high))
    return (*ends, unit_sign(unit))


def made_section(result: Screening) -> str:
    """Return what is needed to compute the page again, and the case file."""
    text = json.dumps(result.case.to_dict(), indent=2, ensure_ascii=False) + "\n"
    packed = base64.b64encode(text.encode()).decode()
    return section(
        "made",
        "How this was made",
        listed(
            [
                f"{result.draws} draws, seed {result.seed}; each run followed for {duration(result.horizon)}.",
                f"Digest of the case: {result.case.digest}.",
                f"Digest of the open tables: {data_digest()}.",
                "The same case, draws, seed and tables give the same page: python -m screening rank case.json "
                f"--draws {result.draws} --seed {result.seed} --html page.html",
            ]
        ),
        f'<p class="screen"><a download="case.json" href="data:application/json;base64,{packed}">Download the case '
        "file</a> to check it and to go on from it.</p>",
    )


def _short(source: Source) -> str:
    """Return author and year, or the title where there is no author."""
    return " ".join(filter(None, (source.author, source.year))) or source.title
