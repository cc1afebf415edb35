"""Values with their ranges as bars, where they hold, and where each comes from: a real table, small cards when narrow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from screening.records.tables.sources import Source, load_sources
from screening.report.materials.material_rows import ShownValue

Scale = tuple[float, float]
_DECADES = 100.0
"""Ratio of a scale's ends from which it is logarithmic."""
HOW = {"looked up": "● looked up", "handbook, from memory": "◇ from memory", "common practice": "○ common practice"}

STYLE = """<style>
.values{width:100%;border-collapse:collapse;font-size:.9rem;line-height:1.35}
.values caption{text-align:left;padding:.2rem 0 .5rem;opacity:.85}
.values th,.values td{padding:.4rem .5rem;text-align:left;vertical-align:top;border:0;
border-bottom:1px solid color-mix(in srgb,currentColor 22%,transparent)}
.values thead th{border-bottom:2px solid color-mix(in srgb,currentColor 45%,transparent)}
.values tbody th{font-weight:600}
.values a{color:inherit}
.values small{display:block;opacity:.85}
.values .figures{white-space:nowrap}.values .held{min-width:15rem}
.values .scale{position:relative;display:block;width:7rem;height:1rem;margin:.15rem 0;
background:linear-gradient(currentColor,currentColor) center/100% 1px no-repeat;opacity:.95}
.values .scale i{position:absolute;top:.25rem;height:.5rem;background:#5b92cc;min-width:2px}
.values .scale b{position:absolute;top:0;height:1rem;width:2px;margin-left:-1px;background:currentColor}
@media(max-width:800px){.values thead{position:absolute;clip-path:inset(50%)}
.values tr,.values th,.values td{display:block;border:0;padding:.1rem 0}
.values .figures{white-space:normal}.values .held{min-width:0}.values .scale{width:100%}
.values tr{border-bottom:1px solid color-mix(in srgb,currentColor 22%,transparent);padding:.5rem 0}}
</style>"""


def values_html(
    rows: Sequence[tuple[str, ShownValue, Scale | None]], first: str, caption: str, gaps: Sequence[str] = ()
) -> str:
    """Return a table of values: name, figures, bar on its scale (None: none), condition, source; then rows that are gaps."""
    heads = "".join(f'<th scope="col">{escape(name)}</th>' for name in (first, "value", "range", "holds for", "source"))
    body = "".join(_row(name, value, scale) for name, value, scale in rows)
    body += "".join(f'<tr><th scope="row">{escape(gap)}</th><td colspan="4">unknown</td></tr>' for gap in gaps)
    return (
        f'{STYLE}<table class="values"><caption>{escape(caption)}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
    )


def _row(name: str, value: ShownValue, scale: Scale | None) -> str:
    row = value.row
    held = ", ".join(filter(None, (row.condition, row.method)))
    held += f", at {value.at}" if value.at and held else value.at and f"at {value.at}"
    note = f"<small>{escape(row.note)}</small>" if row.note else ""
    return (
        f'<tr><th scope="row">{escape(name)}</th><td class="figures">{escape(value.range)}</td>'
        f'<td>{_bar(value, scale)}</td><td class="held">{escape(held)}{note}</td>'
        f"<td>{_cited(load_sources()[row.source])}<small>{escape(HOW.get(row.how, row.how))}</small></td></tr>"
    )


def _cited(source: Source) -> str:
    """Return author and year, or the title where there is no author, leading to the address where there is one."""
    words = escape(source.short)
    if not source.address.startswith(("https://", "http://")):
        return words
    return f'<a href="{escape(source.address, quote=True)}" target="_blank" rel="noopener">{words}</a>'


def _bar(value: ShownValue, scale: Scale | None) -> str:
    """Return the range as a bar and the typical value as a tick on the scale; nothing where there is no scale."""
    if scale is None or scale[0] == scale[1]:
        return ""
    low, typical, high = (100 * _share(number, scale) for number in value.numbers)
    return (
        f'<span class="scale" role="img" aria-label="{escape(value.range, quote=True)}">'
        f'<i style="left:{low:.1f}%;width:{high - low:.1f}%"></i><b style="left:{typical:.1f}%"></b></span>'
    )


def _share(number: float, scale: Scale) -> float:
    low, high = scale
    if is_logarithmic(scale):
        number, low, high = math.log(max(number, low)), math.log(low), math.log(high)
    return min(max((number - low) / (high - low), 0.0), 1.0)


def is_logarithmic(scale: Scale) -> bool:
    """Return whether a scale spans so much that equal steps on it are equal ratios."""
    return scale[0] > 0 and scale[1] / scale[0] > _DECADES
