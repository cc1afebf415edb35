"""Drawings on page and app: in the unit chosen, told in words, safe for what a person typed, and apart without hue."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from markupsafe import Markup

from screening import load_case, screen
from screening.judgement.choice.screening import Screening
from screening.judgement.choice.story import Story
from screening.judgement.head.run_log import RunLog, read_log
from screening.report.head.log_drawing import log_rows, log_svg
from screening.report.parts.plot import Plot
from screening.report.parts.svg import Axis
from screening.report.shortlist.crown_drawings import depth_svg, pressure_svg, warm_up_svg
from screening.report.shortlist.time_bars import SHORTEST, time_bars_svg
from screening.sentences import Units

HOSTILE = "<script>alert(1)</script>"
FAHRENHEIT = Units("°F")
LOG = "time_s,temperature_C\n" + "\n".join(f"{30 * i},{90 - 70 * 0.8**i:.1f}" for i in range(31))


@pytest.fixture(scope="module")
def result() -> Screening:
    return screen(load_case("cyclopentanone_blend"), 20, materials=["abs", "peek"])


@pytest.fixture(scope="module")
def story(result: Screening) -> Story:
    return result.material("abs")


@pytest.fixture(scope="module")
def log() -> RunLog:
    return read_log(LOG)


@pytest.fixture(scope="module")
def drawings(result: Screening, story: Story, log: RunLog) -> list[Markup]:
    bars = time_bars_svg(list(result.stories.values()), 300.0, 3600.0)
    return [bars, warm_up_svg(story), depth_svg(story), pressure_svg(story), log_svg(log)]


def test_each_is_one_picture_with_title_and_description(drawings: list[Markup]) -> None:
    ids = [id for drawing in drawings for id in re.findall(r' id="([^"]+)"', drawing)]
    assert len(set(ids)) == len(ids) == 2 * len(drawings), "a page holds them all"
    for drawing in drawings:
        assert drawing.startswith('<svg class="chart" width="100%"')
        assert 'role="img"' in drawing
        assert "\n" not in drawing, "a line break would end it where it goes the way of Markdown"
        assert "nan" not in drawing


def test_letters_have_the_colour_of_the_text_around_them(drawings: list[Markup]) -> None:
    for drawing in drawings:
        for text in re.findall(r"<text [^>]*>", drawing):
            assert 'fill="currentColor"' in text


def test_the_unit_is_the_reader_s(story: Story, log: RunLog) -> None:
    for drawing in (warm_up_svg(story, FAHRENHEIT), depth_svg(story, FAHRENHEIT), log_svg(log, FAHRENHEIT)):
        assert "°F" in drawing
        assert "°C" not in drawing
    assert "settles at 90" in log_svg(log), "the log was made to settle there"
    assert "settles at 194" in log_svg(log, FAHRENHEIT), "90 °C is 194 °F"


def test_a_name_is_escaped(result: Screening, story: Story) -> None:
    hostile = replace(story, material=replace(story.material, name=HOSTILE))
    bars = time_bars_svg([hostile], 300.0, result.horizon)
    for drawing in (bars, warm_up_svg(hostile), depth_svg(hostile), pressure_svg(hostile)):
        assert "<script>" not in drawing
        assert "&lt;script&gt;" in drawing


def test_lines_differ_in_dash_and_label_not_in_hue_alone(story: Story) -> None:
    lines = re.findall(r"<polyline [^>]*>", warm_up_svg(story))
    assert len({re.search(r"stroke-dasharray=\S+|$", line)[0] for line in lines}) == len(lines) == 2  # type: ignore[index]
    assert ">gas-side face<" in warm_up_svg(story)
    assert ">underside<" in warm_up_svg(story)
    assert ">can carry<" in pressure_svg(story)
    assert ">must carry<" in pressure_svg(story)


def test_a_reading_far_from_the_curve_is_a_cross(log: RunLog) -> None:
    """Two readings are put 40 K off a curve without scatter."""
    reading = log.reading.copy()
    reading[[7, 19]] += 40.0
    far = replace(log, reading=reading)
    assert log_svg(far).count("<path ") == 2
    assert log_svg(far).count("<circle ") == log.time.size - 2
    kinds = [row[""] for row in log_rows(far, 100)]
    assert [place for place, kind in enumerate(kinds) if kind != "reading"] == [7, 19]
    assert len(log_rows(far, 5)) == 5


def test_what_is_not_computed_has_no_drawing(story: Story) -> None:
    for draw in (warm_up_svg, depth_svg, pressure_svg):
        with pytest.raises(ValueError, match="abs: nothing was computed of it"):
            draw(replace(story, history=None))


def test_places_on_axes() -> None:
    """Equal ratios are equal steps on a logarithmic axis; what is outside lies at its end, what is not a number nowhere."""
    axis = Axis(1.0, 100.0, logarithmic=True)
    assert [axis.share(value) for value in (1.0, 10.0, 100.0)] == pytest.approx([0.0, 0.5, 1.0])
    assert (axis.share(0.01), axis.share(1e9)) == (0.0, 1.0)
    plot = Plot(axis, Axis(0.0, 50.0), high=200.0)
    assert plot.points([1.0, 10.0, 100.0], [0.0, np.nan, 50.0]) == [(0.0, 200.0), (1.0, 0.0)]


def test_bars_begin_at_the_left_end_of_the_axis(story: Story) -> None:
    assert story.standing is not None
    at_once = replace(story, standing=replace(story.standing, plan_for=SHORTEST / 10, median=60.0, late=np.inf))
    bar = re.search(r'<rect x="([\d.]+)%" y="\d+" width="([\d.]+)%"', time_bars_svg([at_once], 300.0, 3600.0))
    assert bar is not None
    assert (float(bar[1]), float(bar[2])) == (0.0, 100.0)
