"""Every page in a real browser: opened by its address and from the navigation, readable in both themes, narrow."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import urlsplit

import pytest
from selenium.webdriver import Chrome
from visitor import FIRST_ANSWER, PAGES, Visitor

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module", params=PAGES.values(), ids=list(PAGES))
def page(visitor: Visitor, request: pytest.FixtureRequest) -> Visitor:
    """A page opened by its address, for the tests that only look at it."""
    visitor.open(request.param)
    return visitor


def test_opening_the_app_shows_the_ranked_demo(visitor: Visitor) -> None:
    visitor.open()
    assert visitor.errors() == []
    assert "invented" in visitor.text()
    cells = visitor.ranking()
    assert "rank" in cells
    assert any("polyamide" in cell for cell in cells)
    told = [cell.removesuffix(", on the line") for cell in cells]
    assert any(cell.endswith(("fails", "gamble", "short run only", "lasts")) for cell in told)


def test_a_page_opens_by_its_address(page: Visitor) -> None:
    assert page.errors() == []
    assert page.title()
    assert page.browser.title.endswith(" - Polymer Piston Screening")  # tabs are told apart by what stands before


def test_text_stands_out_from_a_light_ground(page: Visitor) -> None:
    page.dress(dark=False)
    assert page.least_contrast() >= 4.5  # WCAG 2.1, success criterion 1.4.3


def test_text_stands_out_from_a_dark_ground(page: Visitor) -> None:
    page.dress(dark=True)
    assert page.least_contrast() >= 4.5


def test_a_narrow_screen_needs_no_sideways_scroll(page: Visitor) -> None:
    page.dress(width=390)
    document, window, main, seen = page.browser.execute_script(
        "const main = document.querySelector('[data-testid=stMain]');"
        "return [document.documentElement.scrollWidth, innerWidth, main.scrollWidth, main.clientWidth]"
    )
    assert window == 390
    assert document <= window
    assert main <= seen


def test_the_navigation_leads_to_every_page(visitor: Visitor) -> None:
    visitor.open("data")
    for name, path in PAGES.items():
        before = visitor.title()
        visitor.named("a", name).click()
        visitor.until(f"{name} is open", lambda path=path: urlsplit(visitor.browser.current_url).path == f"/{path}")
        visitor.until(f"{name} has its title", lambda before=before: visitor.title() != before)
        visitor.rest(FIRST_ANSWER)
        assert visitor.errors() == [], name


def test_the_readme_command_starts_the_app(chromium: Chrome, served: Callable[[list[str]], str]) -> None:
    visitor = Visitor(chromium, served(["-m", "streamlit", "run"]))
    visitor.open("data")
    assert visitor.errors() == []
