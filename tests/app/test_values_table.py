"""The table of values: what stands in it is text, bars lie on their scale, and sources lead where they say."""

from __future__ import annotations

import re

import pytest

from app.shown.values_table import is_logarithmic, values_html
from screening.records.materials.materials import Value
from screening.report.materials.material_rows import ShownValue


def row(numbers: tuple[float, float, float], condition: str = "dry", how: str = "looked up") -> ShownValue:
    value = Value(*numbers, "K", float("nan"), condition, "ISO 75", "printing_practice", how, "", "main")
    written = tuple(f"{number:g}" for number in numbers)
    return ShownValue("glass_transition", numbers, (written[0], written[1], written[2]), "°C", "", value)


def bar(html: str) -> list[float]:
    """Left end, width and tick of the first bar, in per cent of its scale."""
    return [float(x) for x in re.findall(r"(?:left|width):([\d.]+)%", html.split("</style>")[1])[:3]]


def test_bar_on_a_linear_scale() -> None:
    html = values_html([("x", row((20, 30, 60)), (0, 100))], "property", "caption")
    assert bar(html) == [20, 40, 30]
    assert 'aria-label="30 (20 to 60) °C"' in html


def test_bar_on_a_scale_of_decades() -> None:
    assert bar(values_html([("x", row((1, 10, 1000)), (1, 10_000))], "property", "caption")) == [0, 75, 25]


@pytest.mark.parametrize(
    ("scale", "is_log"), [((1, 101), True), ((1, 99), False), ((0, 1000), False), ((-5, 900), False)]
)
def test_which_scales_are_of_decades(scale: tuple[float, float], is_log: bool) -> None:
    assert is_logarithmic(scale) is is_log


def test_text_of_the_table_is_never_markup() -> None:
    html = values_html([("<b>x</b>", row((1, 2, 3), condition="<script>"), None)], "property", "a < b", ["<i>gap"])
    assert "<script>" not in html
    assert "<b>x" not in html
    assert "<i>gap" not in html
    assert "a &lt; b" in html


def test_memory_and_gaps_are_told() -> None:
    html = values_html(
        [("x", row((1, 2, 3), how="handbook, from memory"), None)], "property", "caption", ["melting point"]
    )
    assert "◇ from memory" in html
    assert '<th scope="row" role="rowheader">melting point</th>' in html
    assert html.split("melting point</th>")[1].split("</td>")[0].endswith(">unknown")
