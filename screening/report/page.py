"""The page to share: one HTML file with the answer, its reasons and the case, which needs nothing from elsewhere."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterable, Sequence
from html import escape

from screening.judgement.ranking import FAILS, LASTS, SHORT, UNKNOWN
from screening.judgement.screening import Screening
from screening.judgement.story import Story
from screening.judgement.wording import duration
from screening.records.package import data_digest
from screening.report.shortlist_cells import SYMBOLS, shown_cells, verdict_of
from screening.report.time_bars import time_bars_svg

_CLASS = {LASTS: "lasts", SHORT: "short", FAILS: "fails", UNKNOWN: "unknown"}
_TOLD = 8

_STYLE = """
:root{color-scheme:light dark;--ink:#1b1f24;--paper:#fff;--line:#c9ced6;--soft:#f2f4f7;--lasts:#0b6e4f;--short:#7a5200;
--fails:#a3231f;--bar:#8fb3d9;--mark:#14395f}
@media(prefers-color-scheme:dark){:root{--ink:#e6e9ee;--paper:#14171b;--line:#3a414b;--soft:#1d2127;--lasts:#5fd3a6;
--short:#f0c060;--fails:#ff9a92;--bar:#3d6a99;--mark:#cfe3f8}}
body{font:16px/1.5 system-ui,sans-serif;color:var(--ink);background:var(--paper);max-width:60rem;margin:0 auto;
padding:1rem}
h1{font-size:1.5rem}
h2{font-size:1.2rem;margin-top:2rem}.headline{font-size:1.1rem;border-left:4px solid;padding-left:1rem}
.scroll{overflow-x:auto}table{border-collapse:collapse;font-size:.9rem;width:100%}
th,td{border-bottom:1px solid var(--line);padding:.35rem .5rem;text-align:left;vertical-align:top}
th{background:var(--soft)}.lasts{color:var(--lasts)}.short{color:var(--short)}.fails{color:var(--fails)}
svg{width:100%;height:auto;font:12px system-ui,sans-serif}svg text{fill:var(--ink)}svg .grid{stroke:var(--line)}
svg .range{fill:var(--bar)}svg .median{fill:var(--mark)}svg line.wanted{stroke:var(--ink);stroke-dasharray:4 3}
details{margin:.6rem 0}summary{cursor:pointer;font-weight:600}.small{font-size:.85rem}
@media print{details{display:block}body{max-width:none}}
"""


def screening_page(result: Screening) -> str:
    """Return the page as HTML; all text of the case is escaped."""
    title = escape(result.case.title or "Polymer piston screening")
    stories = list(result.stories.values())
    return "\n".join(
        [
            '<!doctype html><html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width,initial-scale=1">',
            f"<title>{title}</title><style>{_STYLE}</style></head><body>",
            f"<h1>{title}</h1>",
            f"<p>{escape(result.case.notes)}</p>" if result.case.notes else "",
            f'<p class="headline">{escape(result.headline)}</p><p><strong>{escape(result.stop_rule)}</strong></p>',
            _listed("Inputs to look at again", [warning.message for warning in result.warnings]),
            "<h2>Shortlist</h2>",
            _table(stories, result.horizon),
            f"<p>The metal piston, for comparison: {escape(' '.join(result.baseline.reasons))}</p>",
            "<h2>How long each lasts</h2>",
            "<p>Each bar runs from the time to plan for (19 of 20 draws last longer) to the 95th percentile; the mark is the "
            "median. Bars that end at the right edge go beyond the horizon.</p>",
            time_bars_svg(stories, result.case.operation.target_run, result.horizon),
            "<h2>Reasons</h2>",
            *(_reasons(story) for story in stories[:_TOLD]),
            _listed("Cautions", result.cautions),
            _how_made(result),
            "</body></html>",
        ]
    )


def _table(stories: Sequence[Story], horizon: float) -> str:
    head = ("rank", "material", "verdict", "chance", "plan for", "median", "ends by", "in the tank", "wet start",
            "running", "sump", "printable", "print at")  # fmt: skip
    rows = "".join(_row(story, horizon) for story in stories)
    heads = "".join(f'<th scope="col">{name}</th>' for name in head)
    return f'<div class="scroll"><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'


def _row(story: Story, horizon: float) -> str:
    verdict = verdict_of(story)
    cells = [
        str(story.rank),
        f"{story.material.name} ({story.material.id})",
        f"{SYMBOLS[verdict]} {verdict}",
        *shown_cells(story, horizon).values(),
    ]
    marked = [
        f'<td class="{_CLASS[verdict]}">{escape(cell)}</td>' if i == 2 else f"<td>{escape(cell)}</td>"
        for i, cell in enumerate(cells)
    ]
    return f"<tr>{''.join(marked)}</tr>"


def _reasons(story: Story) -> str:
    items = "".join(f"<li>{escape(reason)}</li>" for reason in story.reasons)
    return f"<details open><summary>{story.rank}. {escape(story.material.name)}</summary><ul>{items}</ul></details>"


def _listed(title: str, texts: Iterable[str]) -> str:
    items = "".join(f"<li>{escape(text)}</li>" for text in texts)
    return f"<h2>{title}</h2><ul>{items}</ul>" if items else ""


def _how_made(result: Screening) -> str:
    document = json.dumps(result.case.to_dict(), indent=2, ensure_ascii=False)
    packed = base64.b64encode(document.encode()).decode()
    return (
        "<h2>How this was made</h2>"
        f'<p class="small">{result.draws} draws, seed {result.seed}; horizon {duration(result.horizon)}; digest of the '
        f"open tables {data_digest()[:16]}, of the case {result.case.digest[:16]}. The same case, draws, seed and tables "
        "give the same page.</p>"
        f'<p><a download="case.json" href="data:application/json;base64,{packed}">Download the case file</a> to check it '
        "and to go on from it.</p>"
    )
