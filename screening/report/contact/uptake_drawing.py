"""The uptake against activity as a drawing, with the range that theory leaves and each exposure marked."""

from __future__ import annotations

from markupsafe import Markup

from screening.judgement.contact.curve import UptakeCurve
from screening.report.contact.contact_rows import LEAST_PERCENT, curve_rows, point_rows
from screening.report.parts.colours import MARK, RANGE, WARM
from screening.report.parts.svg import Axis, band, dot, drawing, lettering, level, line, stretched, upright

_TOP, _HIGH = 16, 260


def uptake_drawing(curve: UptakeCurve, description: str) -> Markup:
    """Return the drawing; `description` is for a reader who cannot see it."""
    frame, marks = curve_rows(curve), point_rows(curve)
    across_axis, up = (
        Axis(float(curve.activity[0]), 1.0, logarithmic=True),
        Axis(LEAST_PERCENT, 100.0, logarithmic=True),
    )

    def places(column: str) -> list[tuple[float, float]]:
        pairs = zip(frame["activity"], frame[column], strict=True)
        return [(across_axis.share(activity), _HIGH * (1 - up.share(percent))) for activity, percent in pairs]

    parts = []
    for percent in (0.01, 0.1, 1.0, 10.0, 100.0):
        y = _TOP + _HIGH * (1 - up.share(percent))
        parts += [level(y), lettering(0.0, y - 3, f"{percent:g} %", "start")]
    for activity in (0.001, 0.01, 0.1, 1.0):
        parts.append(lettering(across_axis.share(activity), _TOP + _HIGH + 16, f"{activity:g}"))
    parts.append(lettering(0.5, _TOP + _HIGH + 34, "activity of the liquid (1 is the liquid itself)"))
    drawn = [band(places("low"), places("high"), RANGE), line(places("median"), MARK)]
    parts.append(stretched(_TOP, _HIGH, drawn))
    for row in marks.to_dict("records"):
        share, side = across_axis.share(row["activity"]), "end" if row["activity"] > 0.03 else "start"
        low, median, high = (_TOP + _HIGH * (1 - up.share(row[name])) for name in ("low", "median", "high"))
        parts.append(upright(share, low, high, f'stroke="{WARM}" stroke-width="2"'))
        parts.append(dot(share, median, WARM, 5))
        parts.append(lettering(share, median + (18 if median < _TOP + 30 else -9), row["exposure"], side))
    return drawing("uptake", "Uptake against activity", description, _TOP + _HIGH + 42, parts)
