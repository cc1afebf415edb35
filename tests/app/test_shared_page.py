"""The shared page as a browser shows it: at any width without sideways scroll, dark or light, and whole on paper."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver import Chrome

from screening import load_case, report_html, screen

LONG = "x" * 80
_INSIDE = "return [document.documentElement.scrollWidth, window.innerWidth]"
# what is cut out of sight for the ear alone is wider than the page, and may be
_OUTSIDE = """
return [...document.querySelectorAll('main *, header *')]
  .filter(e => !e.closest('thead') && e.getBoundingClientRect().right > innerWidth + 1)
  .map(e => e.tagName + ': ' + e.textContent.slice(0, 60))
"""
Show = Callable[..., Any]


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    own = {"id": "mine", "name": LONG, "based_on": "abs", "values": {"density": 1050}}
    document = load_case("cyclopentanone_blend").to_dict() | {"own_materials": [own], "title": LONG, "notes": LONG * 3}
    path = tmp_path_factory.mktemp("page") / "page.html"
    path.write_text(report_html(screen(load_case(document), 16)), "utf-8")
    return path


@pytest.fixture
def show(chromium: Chrome, file: Path) -> Iterator[Show]:
    def shown(width: int, media: str = "screen", theme: str = "light", opened: bool = False) -> None:
        size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
        chromium.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        features = [{"name": "prefers-color-scheme", "value": theme}]
        chromium.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": media, "features": features})
        chromium.get(file.as_uri())
        if opened:
            chromium.execute_script("document.querySelectorAll('details').forEach(e => e.open = true)")

    chromium.get_log("browser")
    yield shown
    chromium.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    chromium.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": []})
    assert chromium.get_log("browser") == []


@pytest.mark.parametrize("width", [320, 390, 768, 1119, 1121, 1200, 1600])
def test_no_width_scrolls_sideways(chromium: Chrome, show: Show, width: int) -> None:
    show(width, opened=True)
    wide, inside = chromium.execute_script(_INSIDE)
    assert wide <= inside == width
    outside = chromium.execute_script(_OUTSIDE)
    # on the narrowest screen a drawing cuts its longest names; the tables have them whole
    assert [found for found in outside if width > 320 or not found.startswith("text:")] == []


def test_rows_stack_on_a_narrow_screen_and_stand_in_columns_on_a_wide_one(chromium: Chrome, show: Show) -> None:
    label = "return getComputedStyle(document.querySelector('.stacked td'), '::before').content"
    show(390)
    own = chromium.execute_script("return document.querySelector('.stacked td').dataset.label")
    assert chromium.execute_script(label) in (f'"{own}"', "attr(data-label)")
    assert (
        chromium.execute_script("return getComputedStyle(document.querySelector('.stacked tbody tr')).display")
        == "grid"
    )
    show(1200)
    assert chromium.execute_script(label) == "none"
    assert (
        chromium.execute_script("return getComputedStyle(document.querySelector('.stacked tbody tr')).display")
        == "table-row"
    )


def test_paper_is_light_whole_and_within_its_width(chromium: Chrome, show: Show) -> None:
    """An A4 sheet less its margins of 14 mm is 688 CSS pixels wide."""
    show(688, media="print", theme="dark")
    wide, inside = chromium.execute_script(_INSIDE)
    assert wide <= inside
    ground = chromium.execute_script("return getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"
    closed = "return [...document.querySelectorAll('.fold')].filter(e => e.offsetHeight === 0).length"
    assert chromium.execute_script(closed) == 0
    show(688)
    assert chromium.execute_script(closed) > 30


def test_dark_page_follows_the_reader(chromium: Chrome, show: Show) -> None:
    show(1200, theme="dark")
    assert chromium.execute_script("return getComputedStyle(document.body).backgroundColor") == "rgb(20, 23, 27)"
