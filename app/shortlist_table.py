"""The ranking as a real table: every column on a wide screen; on a narrow one the main columns, the rest unfolds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

from screening.judgement.printability import CANNOT
from screening.judgement.ranking import FAILS, LASTS, NOTHING, SHORT, UNKNOWN
from screening.judgement.screening import Screening
from screening.judgement.story import Story
from screening.judgement.wording import duration
from screening.report.shortlist_cells import SYMBOLS, shown_cells, verdict_of

_CLASS = {LASTS: "lasts", SHORT: "short", FAILS: "fails", UNKNOWN: "unknown"}
_ALWAYS = ("plan for",)
"""Columns that a narrow screen shows too, beside rank, material and verdict."""

INKS = {"lasts": ("#0b6e4f", "#5fd3a6"), "short": ("#7a5200", "#f0c060"), "fails": ("#a3231f", "#ff9a92")}
"""Colours of the verdicts' words on a light and on a dark ground; the words and symbols say the same."""

STYLE = (
    """<style>
.ranking{width:100%;border-collapse:collapse;font-size:.86rem;line-height:1.35}
.ranking caption{text-align:left;padding:.2rem 0 .5rem;opacity:.85}
.ranking th,.ranking td{padding:.4rem .45rem;text-align:left;vertical-align:top;border:0;
border-bottom:1px solid color-mix(in srgb,currentColor 22%,transparent)}
.ranking thead th{border-bottom:2px solid color-mix(in srgb,currentColor 45%,transparent);font-weight:600}
.ranking tbody th{font-weight:600}
.ranking .group th{padding-top:1.4rem;border-bottom:2px solid color-mix(in srgb,currentColor 45%,transparent)}
.ranking .verdict{font-weight:600;white-space:nowrap}
"""
    + "".join(
        f".ranking .{name}{{color:{light};color:light-dark({light},{dark})}}" for name, (light, dark) in INKS.items()
    )
    + """
.ranking details{display:none;font-weight:400;margin-top:.25rem}
.ranking summary{cursor:pointer;padding:.15rem 0}
.ranking dl{margin:.3rem 0;display:grid;grid-template-columns:auto 1fr;gap:.15rem .6rem}
.ranking dt{opacity:.85}.ranking dd{margin:0}
@media(max-width:1000px){.ranking .more{display:none}.ranking details{display:block}}
@media(max-width:640px){.ranking .verdict{white-space:normal}.ranking th,.ranking td{padding:.4rem .3rem}}
</style>"""
)


def shortlist_html(result: Screening) -> str:
    """Return the ranking as HTML in the order of the ranks; all text of the case is escaped."""
    stories = list(result.stories.values())
    columns = list(shown_cells(stories[0], result.horizon)) if stories else []
    heads = "".join(
        f'<th scope="col"{"" if name in ("rank", "material", "verdict", *_ALWAYS) else MORE}>{escape(_head(name))}</th>'
        for name in ("rank", "material", "verdict", *columns)
    )
    groups = "".join(
        f"<tbody>{_group_head(title, len(columns) + 3)}"
        + "".join(_row(story, _cells(story, result.horizon)) for story in found)
        + "</tbody>"
        for title, found in _grouped(stories)
        if found
    )
    return (
        f'{STYLE}<table class="ranking"><caption>{len(stories)} materials, best first: by verdict, then by the time to plan for.</caption>'
        f"<thead><tr>{heads}</tr></thead>{groups}</table>"
    )


MORE = ' class="more"'


def _cells(story: Story, horizon: float) -> dict[str, str]:
    """Return the cells with the horizon as a time, and with numbers that stay beside their unit."""
    within = NOTHING.replace("the horizon", duration(horizon))
    return {
        name: cell.replace(NOTHING, within).replace(" %", "\u00a0%").replace(" mm", "\u00a0mm")
        if name in ("chance", "ends by", "print at")
        else cell
        for name, cell in shown_cells(story, horizon).items()
    }


def _head(name: str) -> str:
    return {"fuel: soak": "in the tank", "fuel: cold start": "wet start", "fuel: running": "running hot",
            "fuel: sump": "in the sump"}.get(name, name)  # fmt: skip


def _grouped(stories: Sequence[Story]) -> list[tuple[str, list[Story]]]:
    """Return the stories in their order under what they have in common; the first group needs no title."""
    return [
        ("", [s for s in stories if s.standing and s.printability.outcome != CANNOT]),
        ("This printer cannot print these", [s for s in stories if s.standing and s.printability.outcome == CANNOT]),
        ("Too little is known of these", [s for s in stories if not s.standing]),
    ]


def _group_head(title: str, columns: int) -> str:
    return f'<tr class="group"><th scope="rowgroup" colspan="{columns}">{title}</th></tr>' if title else ""


def _row(story: Story, cells: Mapping[str, str]) -> str:
    verdict = verdict_of(story)
    more = {name: cell for name, cell in cells.items() if name not in _ALWAYS}
    listed = "".join(f"<dt>{escape(_head(name))}</dt><dd>{escape(cell)}</dd>" for name, cell in more.items())
    tail = "".join(f"<td{'' if name in _ALWAYS else MORE}>{escape(cell)}</td>" for name, cell in cells.items())
    return (
        f'<tr><td>{story.rank}</td><th scope="row">{escape(story.material.name)}'
        f"<details><summary>more</summary><dl>{listed}</dl></details></th>"
        f'<td class="verdict"><span class="{_CLASS[verdict]}">{SYMBOLS[verdict]} {escape(verdict)}</span></td>{tail}</tr>'
    )
