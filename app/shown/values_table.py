"""Values with their ranges as bars, where they hold, and where each comes from: a real table, small cards when narrow."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from screening.records.tables.sources import Source, load_sources
from screening.report.materials.material_rows import ShownValue
from screening.report.parts.svg import Axis
from screening.report.parts.table import Cell, Column, Group, Table

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
    columns = [
        Column(first, names_row=True), Column("value", "figures"), Column("range"), Column("holds for", "held"),
        Column("source"),
    ]  # fmt: skip
    cells: list[Sequence[Cell]] = [_cells(name, value, scale) for name, value, scale in rows]
    cells += [(gap, "unknown", "", "", "") for gap in gaps]
    return f"{STYLE}{Table(caption, columns, [Group(cells)], 'values').html()}"


def _cells(name: str, value: ShownValue, scale: Scale | None) -> tuple[Cell, ...]:
    row = value.row
    held = ", ".join(filter(None, (row.condition, row.method)))
    held += f", at {value.at}" if value.at and held else value.at and f"at {value.at}"
    source = _cited(load_sources()[row.source]) + _small(HOW.get(row.how, row.how))
    return name, value.range, _bar(value, scale), Markup("{}").format(held) + _small(row.note), source


def _small(text: str) -> Markup:
    return Markup("<small>{}</small>").format(text) if text else Markup("")


def _cited(source: Source) -> Markup:
    """Return author and year, or the title where there is no author, leading to the address where there is one."""
    if not source.address.startswith(("https://", "http://")):
        return Markup("{}").format(source.short)
    return Markup('<a href="{}" target="_blank" rel="noopener">{}</a>').format(source.address, source.short)


def _bar(value: ShownValue, scale: Scale | None) -> Markup:
    """Return the range as a bar and the typical value as a tick on the scale; nothing where there is no scale."""
    if scale is None or scale[0] == scale[1]:
        return Markup("")
    axis = Axis(*scale, logarithmic=is_logarithmic(scale))
    low, typical, high = (100 * axis.share(number) for number in value.numbers)
    return Markup(
        '<span class="scale" role="img" aria-label="{}"><i style="left:{:.1f}%;width:{:.1f}%"></i>'
        '<b style="left:{:.1f}%"></b></span>'
    ).format(value.range, low, high - low, typical)


def is_logarithmic(scale: Scale) -> bool:
    """Return whether a scale spans so much that equal steps on it are equal ratios."""
    return scale[0] > 0 and scale[1] / scale[0] > _DECADES
