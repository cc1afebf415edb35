"""The result as one JSON document: what a script or another page reads.

Times are seconds. A time beyond the horizon is null, with `is_lower_bound` true and the horizon beside it; what is not
known is null with `is_lower_bound` false.
"""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np

from screening.judgement.ranking import Standing
from screening.judgement.screening import Screening
from screening.judgement.story import Story
from screening.records.package import data_digest
from screening.report.contact_text import contact_document

FORMAT, VERSION = "polymer-piston-screening", 1


def screening_json(result: Screening) -> str:
    """Return the whole result as JSON text; the same result gives the same text."""
    return json.dumps(screening_document(result), indent=1, ensure_ascii=False, allow_nan=False)


def screening_document(result: Screening) -> dict[str, Any]:
    """Return the whole result as plain dicts, lists, numbers and texts."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "case": result.case.to_dict(),
        "case_digest": result.case.digest,
        "data_digest": data_digest(),
        "draws": result.draws,
        "seed": result.seed,
        "horizon_s": result.horizon,
        "headline": result.headline,
        "stop_rule": result.stop_rule,
        "warnings": [{"figure": w.figure, "message": w.message} for w in result.warnings],
        "cautions": list(result.cautions),
        "gas": {name: _quantiles(values) for name, values in result.gas.items()},
        "baseline": _story(result.baseline, result.horizon),
        "materials": [_story(story, result.horizon) for story in result.stories.values()],
    }


def _story(story: Story, horizon: float) -> dict[str, Any]:
    return {
        "id": story.material.id,
        "name": story.material.name,
        "rank": story.rank or None,
        "verdict": story.standing.verdict if story.standing else "unknown",
        **_standing(story.standing, horizon),
        "mechanisms": {
            name: {
                "share_within_horizon": float(np.mean(np.isfinite(times))),
                "median": _time(float(np.quantile(times, 0.5, method="inverted_cdf")), horizon),
            }
            for name, times in story.times.items()
        },
        "contact": {name: contact_document(contact) for name, contact in story.contacts.items()},
        "printable": story.printability.outcome,
        "printable_reasons": list(story.printability.reasons),
        "print_diameter_mm": [1e3 * value for value in story.print_diameter] if story.print_diameter else None,
        "reasons": list(story.reasons),
        "measure_next": [
            {"input": i.name, "share_of_spread": i.share_of_spread, "narrows_range_by": i.narrowing, "with": i.measure_by}
            for i in story.influences[:8]
        ],
        "missing": list(story.missing),
    }


def _standing(standing: Standing | None, horizon: float) -> dict[str, Any]:
    if standing is None:
        return {"chance_of_lasting": None, "plan_for": None, "median": None, "late": None, "ends_by": None}
    return {
        "chance_of_lasting": standing.chance_of_lasting,
        "plan_for": _time(standing.plan_for, horizon),
        "median": _time(standing.median, horizon),
        "late": _time(standing.late, horizon),
        "ends_by": standing.ends_by,
        "ends_by_share": standing.ends_by_share,
        "shares": dict(standing.shares),
    }


def _time(seconds: float, horizon: float) -> dict[str, Any]:
    if math.isfinite(seconds):
        return {"seconds": seconds, "is_lower_bound": False}
    return {"seconds": None, "is_lower_bound": math.isinf(seconds), "beyond_s": horizon if math.isinf(seconds) else None}


def _quantiles(values: np.ndarray) -> list[float | None]:
    return [float(v) if math.isfinite(v) else None for v in np.quantile(values, (0.05, 0.5, 0.95))]
