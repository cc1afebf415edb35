"""The result as one JSON document: the case, the shortlist, every material's story, and what it all rests on.

Times are seconds. A time beyond the horizon is null, and `is_lower_bound` of the same object is then true: the time is
`horizon_s` or longer. Null with `is_lower_bound` false means unknown.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.choice.own_evidence import OwnEvidence
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.shortlist import shortlist_frame
from screening.judgement.choice.story import Story
from screening.judgement.choice.verdict import QUANTILES
from screening.judgement.cylinder.calibration import Evidence
from screening.judgement.draws.polymer import TAKEN
from screening.judgement.piston.fit_advice import FitAdvice
from screening.records.materials.materials import Material, Value
from screening.records.tables.package import data_digest, table_digests
from screening.records.tables.sources import load_sources
from screening.report.contact.contact_text import contact_document
from screening.sentences import worded
from screening.version import VERSION as PROGRAM_VERSION

FORMAT, VERSION = "polymer-piston-screening", 1
GAS_UNITS = {
    "film_coefficient": "W/(m2 K)",
    "gas_temperature": "K",
    "film_feedback": "W/(m2 K2)",
    "gas_feedback": "1",
    "peak_pressure": "Pa",
    "peak_pressure_bound": "Pa",
    "governed_start_peak_pressure": "Pa",
    "held_start_peak_pressure": "Pa",
    "choked_start_peak_pressure": "Pa",
    "start_load": "Pa",
    "fuel_flow": "kg/s",
    "fuel_power": "W",
    "wall_share": "1",
    "volumetric_efficiency": "1",
    "indicated_pressure": "Pa",
    "vapour_pressure_peak": "Pa",
    "head_surface": "K",
}
_QUANTILE_NAMES = tuple(f"p{round(100 * q):02d}" for q in QUANTILES)


def screening_document(screening: Screening) -> dict[str, Any]:
    """Return the result as plain values ready for JSON; the keys are listed in this module's functions."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "program_version": PROGRAM_VERSION,
        "draws": screening.draws,
        "seed": screening.seed,
        "horizon_s": screening.horizon,
        "data_digest": data_digest(),
        "table_digests": table_digests(),
        "case_digest": screening.case.digest,
        "case": screening.case.to_dict(),
        "headline": worded(screening.headline),
        "stop_rule": worded(screening.stop_rule),
        "warnings": [{"figure": w.figure, "message": worded(w.message)} for w in screening.warnings],
        "evidence": None if screening.evidence is None else _evidence_document(screening.evidence),
        "own_evidence": None if screening.own_evidence is None else _own_evidence_document(screening.own_evidence),
        "cautions": [worded(caution) for caution in screening.cautions],
        "shortlist": shortlist_rows(screening),
        "baseline": _row_of(screening.baseline),
        "materials": {story.material.id: story_document(story) for story in screening.stories.values()},
        "assumptions": [asdict(assumption) for assumption in screening.assumptions],
        "sources": sources_cited(screening),
        "gas": {name: {"unit": GAS_UNITS.get(name, ""), **_quantiles(v)} for name, v in screening.gas.items()},
    }


def _evidence_document(evidence: Evidence) -> dict[str, Any]:
    return {"effective": evidence.effective, "applied": evidence.applied, "told": worded(evidence.told)}


def _own_evidence_document(own: OwnEvidence) -> dict[str, Any]:
    moved = [
        {
            "what": m.what,
            "unit": m.unit,
            **{
                time: dict(zip(_QUANTILE_NAMES, map(_plain, ends), strict=True))
                for time, ends in (("before", m.before), ("now", m.after))
            },
        }
        for m in own.moved
    ]
    return {"effective": own.effective, "applied": own.applied, "told": worded(own.told), "moved": moved}


def report_json(screening: Screening) -> str:
    """Return the result as JSON text; the same case, draws and seed give the same text.

    Parameters
    ----------
    screening : Screening

    Returns
    -------
    str
        Times in seconds, all else in the unit that its key or `unit` names; see the top of this module.

    Examples
    --------
    >>> from screening import load_case, report_json, screen
    >>> result = screen(load_case("petrol_baseline"), draws=20, materials=["abs"])
    >>> json.loads(report_json(result))["shortlist"][0]["material"]
    'abs'
    """
    return json.dumps(screening_document(screening), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def shortlist_rows(screening: Screening) -> list[dict[str, Any]]:
    """Return the rows of the shortlist, best first, with its columns as keys."""
    return [_row_of(story) for story in screening.stories.values()]


def sources_cited(screening: Screening) -> dict[str, str]:
    """Return the citation of every source that a value or an assumption names, by its id."""
    cited = {assumption.source for assumption in screening.assumptions}
    for story in screening.stories.values():
        cited |= {value.source for value in values_taken(story.material).values()}
    return {id: source.citation for id, source in load_sources().items() if id in cited}


def values_taken(material: Material) -> dict[str, Value]:
    """Return the values that a run takes of a material, by property."""
    values = ((name, material.value(name)) for name in TAKEN)
    return {name: value for name, value in values if value is not None}


def story_document(story: Story) -> dict[str, Any]:
    """Return one material's story: times by mechanism, the crown's heat, contacts, printing, what moves the result."""
    diameter = story.print_diameter
    return {
        "name": story.material.name,
        "times": {name: _time_quantiles(values) for name, values in story.times.items()},
        "life": _time_quantiles(story.life) if story.times else None,
        "ends_by_shares": dict(story.standing.shares) if story.standing else {},
        "history": _history(story),
        "contacts": {name: contact_document(contact) for name, contact in story.contacts.items()},
        "printability": {
            "outcome": story.printability.outcome,
            "reasons": [worded(reason) for reason in story.printability.reasons],
        },
        "print_diameter_mm": None if diameter is None else [round(1e3 * size, 3) for size in diameter],
        "fit": None if story.fit is None else _fit(story.fit),
        "bursts_cold_at_bar": None if story.bursts_at is None else [round(p / 1e5, 1) for p in story.bursts_at],
        "influences": [
            {
                "name": i.name,
                "share_of_spread": round(i.share_of_spread, 4),
                "narrowing": round(i.narrowing, 4),
                "measure_by": i.measure_by,
                "known_by": i.known_by,
            }
            for i in story.influences
        ],
        "values": {name: _value(value) for name, value in values_taken(story.material).items()},
        "missing": list(story.missing),
        "reasons": [worded(reason) for reason in story.reasons],
    }


def _fit(fit: FitAdvice) -> dict[str, Any]:
    def rounded(values: Sequence[float] | None, factor: float = 1.0) -> list[float] | None:
        return None if values is None else [round(factor * value, 3) for value in values]

    return {
        "land_mm": rounded(fit.land, 1e3),
        "compression_ratio_left": rounded(fit.compression),
        "compression_ratio_lost": rounded(fit.compression_lost),
        "ring_end_gap_mm": rounded(fit.ring_gap, 1e3),
        "advice": [worded(text) for text in fit.sentences],
    }


def _row_of(story: Story) -> dict[str, Any]:
    row = shortlist_frame({story.material.id: story}).iloc[0].to_dict()
    times = [row["plan_for_s"], row["median_s"], row["late_s"]]
    plain = {name: _plain(value) for name, value in row.items()}
    return plain | {"is_lower_bound": any(math.isinf(time) for time in times)}


def _time_quantiles(values: FloatArray) -> dict[str, Any]:
    ends = np.quantile(values, QUANTILES, method="inverted_cdf")
    return {
        **{f"{name}_s": _plain(float(v)) for name, v in zip(_QUANTILE_NAMES, ends, strict=True)},
        "is_lower_bound": bool(np.isinf(ends).any()),
        "share_within_horizon": round(float(np.mean(np.isfinite(values))), 4),
    }


def _quantiles(values: FloatArray) -> dict[str, Any]:
    return {name: _plain(float(v)) for name, v in zip(_QUANTILE_NAMES, np.nanquantile(values, QUANTILES), strict=True)}


def _history(story: Story) -> dict[str, Any] | None:
    history = story.history
    if history is None:
        return None

    def spread(values: FloatArray, digits: int) -> dict[str, list[float | None]]:
        return {
            name: [_plain(round(float(v), digits)) for v in np.atleast_1d(row)]
            for name, row in zip(_QUANTILE_NAMES, values, strict=True)
        }

    return {
        "time_s": [round(float(t), 4) for t in history.times],
        "face_K": spread(history.surface, 1),
        "underside_K": spread(history.back, 1),
        "softening_K": spread(history.softening, 1),
        "softened_depth_m": spread(history.softened_depth, 6),
        "limit_pressure_Pa": spread(history.limit_pressure, 0),
        "load_Pa": spread(history.load, 0),
        "thickness_m": history.thickness,
    }


def _value(value: Value) -> dict[str, Any]:
    kept = ("low", "typical", "high", "unit", "condition", "source", "how")
    return {name: _plain(getattr(value, name)) for name in kept}


def _plain(value: Any) -> Any:
    """Return a value JSON can hold; NaN and infinite become None."""
    if isinstance(value, np.generic):
        value = value.item()
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Mapping):
        return {name: _plain(inner) for name, inner in value.items()}
    return value
