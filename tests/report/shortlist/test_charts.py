"""Colours of the charts and verdicts can be told from a light and from a dark ground."""

from __future__ import annotations

import pytest
from contrast import contrast

from screening.report.shortlist import charts
from screening.report.shortlist.shortlist_table import INKS

GROUNDS = {"light": "#ffffff", "dark": "#0e1117"}
COLOURS = {"range": charts.RANGE, "mark": charts.MARK, "warm": charts.WARM, "cool": charts.COOL, "grey": charts.GREY,
           **{f"moment {n}": colour for n, colour in enumerate(charts.LATER)}}  # fmt: skip


def test_contrast_of_black_and_white_is_21() -> None:
    """WCAG 2.1, definition of contrast ratio: 21 at most; #777777 on white is known to miss 4.5 by a hair."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21, rel=1e-6)
    assert contrast("rgb(0, 0, 0)", "rgba(255, 255, 255, 1)") == pytest.approx(21, rel=1e-6)
    assert contrast("rgb(119, 119, 119)", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("name", COLOURS)
def test_colour_keeps_three_to_one(name: str, ground: str) -> None:
    """WCAG 2.1, 1.4.11: 3:1 for what must be seen in a graphic."""
    assert contrast(COLOURS[name], GROUNDS[ground]) >= 3


@pytest.mark.parametrize("verdict", INKS)
def test_verdicts_can_be_read_on_both_grounds(verdict: str) -> None:
    """WCAG 2.1, 1.4.3: 4.5:1 for text."""
    _, on_light, on_dark = INKS[verdict]
    assert contrast(on_light, GROUNDS["light"]) >= 4.5
    for ground in (GROUNDS["dark"], "#14171b"):  # the app's and the page's
        assert contrast(on_dark, ground) >= 4.5
