"""Colours of the drawings and verdicts can be told from a light and from a dark ground."""

from __future__ import annotations

import pytest
from contrast import contrast

from screening.report.parts import colours
from screening.report.parts.colours import VERDICT_INKS

GROUNDS = {"light": "#ffffff", "dark": "#0e1117"}
COLOURS = {name: getattr(colours, name) for name in ("RANGE", "MARK", "WARM", "COOL", "GREY")}


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


@pytest.mark.parametrize(
    ("letters", "ground"), [("#1b1f24", "#ffffff"), ("#e6e9ee", "#14171b"), ("#fafafa", "#0e1117")]
)
@pytest.mark.parametrize("name", COLOURS)
def test_letters_over_a_band_can_be_read(name: str, letters: str, ground: str) -> None:
    """WCAG 2.1, 1.4.3: 4.5:1 for text; the densest band lets six tenths of the ground through."""
    red, green, blue = (0.4 * int(COLOURS[name][i : i + 2], 16) + 0.6 * int(ground[i : i + 2], 16) for i in (1, 3, 5))
    assert contrast(letters, f"rgb({red:.0f}, {green:.0f}, {blue:.0f})") >= 4.5


@pytest.mark.parametrize("verdict", VERDICT_INKS)
def test_verdicts_can_be_read_on_both_grounds(verdict: str) -> None:
    """WCAG 2.1, 1.4.3: 4.5:1 for text."""
    ink = VERDICT_INKS[verdict]
    assert contrast(ink.on_light, GROUNDS["light"]) >= 4.5
    for ground in (GROUNDS["dark"], "#14171b"):  # the app's and the page's
        assert contrast(ink.on_dark, ground) >= 4.5
