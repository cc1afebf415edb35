"""Does what the inputs imply look like a running engine? If not, which input looks wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from screening.arrays import FloatArray
from screening.judgement.case.case import Case
from screening.judgement.case.compression_gauge import gauge_doubt
from screening.judgement.cylinder.calibration import Evidence
from screening.sentences import Temperature, TemperatureRange, Text, sentence


@dataclass(frozen=True)
class Implausible:
    """One implied figure that lies outside what such engines show, and the input to look at."""

    figure: str
    message: Text


# implied figure -> (low, high, what it is, what to check); ranges are common practice, no source, unless said
_EXPECTED = {
    "volumetric_efficiency": (0.12, 0.95, "share of its swept volume that the engine would breathe",
                              "operation.burned_mL and burn_duration_s, or engine.speed_rpm and displacement"),
    "wall_share": (0.08, 0.50, "share of the fuel's energy that goes to the walls",
                   "the burn: light loads show 20 to 40 %, full load 15 to 30 % (Heywood, ch. 12, from memory)"),
    "indicated_pressure": (0.5e5, 14e5, "indicated mean pressure", "the burn, the speed and the displacement"),
    "peak_pressure": (5e5, 80e5, "peak pressure", "the burn and the compression ratio"),
}  # fmt: skip


_HEAD, _USUAL_HEAD = TemperatureRange(313.15, 573.15), TemperatureRange(353.15, 523.15)
"""A head outside the first is doubted; heads of running air-cooled engines lie in the second (common practice, no source)."""


def implausibilities(
    case: Case, gas: Mapping[str, FloatArray], head_redrawn: float = 0.0, evidence: Evidence | None = None
) -> tuple[Implausible, ...]:
    """Return the figures that look wrong in the gas side of a case, judged by the median over the draws.

    `head_redrawn` is the share of the draws that contradicted the head's reading [1]; `evidence` what its log's heat did.
    """
    doubts = []
    for name, (low, high, meaning, check) in _EXPECTED.items():
        middle = float(np.median(gas[name]))
        if not low <= middle <= high:
            figure = f"{middle / 1e5:.1f} bar" if "pressure" in name else f"{100 * middle:.0f} %"
            bounds = (
                f"{low / 1e5:g} to {high / 1e5:g} bar"
                if "pressure" in name
                else f"{100 * low:.0f} to {100 * high:.0f} %"
            )
            doubts.append(Implausible(name, f"The {meaning} comes out at {figure}, outside {bounds}: check {check}."))
    head = float(np.median(gas["head_surface"]))
    if not _HEAD.low <= head <= _HEAD.high:
        message = sentence(
            "The head's true surface comes out at {head}; running air-cooled heads are at {usual}: check head.reading_C, the "
            "gun's emissivity and head.surface.",
            head=Temperature(head),
            usual=_USUAL_HEAD,
        )
        doubts.append(Implausible("head_surface", message))
    gauge = gauge_doubt(case.engine, case.is_given("engine", "compression_ratio"))
    if gauge:
        doubts.append(Implausible("compression_gauge", gauge))
    if head_redrawn > 0:
        share = f"{100 * head_redrawn:.0f}" if head_redrawn >= 0.01 else "under 1"
        doubts.append(
            Implausible(
                "head_redrawn",
                f"In {share} % of the draws no surface could give the head's reading (cold metal that bright would only "
                "mirror the air); they were drawn anew. Paint a matt black spot on the head and read that.",
            )
        )
    if evidence is not None and not evidence.applied:
        doubts.append(Implausible("log_heat", evidence.told))
    if case.probe is not None:
        doubts.append(
            Implausible("probe", "The probe's reading is kept in the case but does not narrow the film of hot gas yet.")
        )
    return tuple(doubts)
