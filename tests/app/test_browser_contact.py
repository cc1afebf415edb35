"""The page on contacts in a real browser: a link, a cell of the matrix, Back, a narrow screen."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import parse_qs, urlsplit

import pytest
from selenium.webdriver import ActionChains, Chrome
from selenium.webdriver.common.by import By
from visitor import Visitor

pytestmark = pytest.mark.browser
LINK = "contact?material=nbr&fuel=ethanol%2070,%20cyclopentanone%2030"


@pytest.fixture(scope="module")
def looker(chromium: Chrome, served: Callable[[list[str]], str]) -> Visitor:
    """A visitor to the page itself; no ranking is asked for there."""
    return Visitor(chromium, served(["-m", "streamlit", "run"]))


def pair(visitor: Visitor) -> tuple[str, str]:
    query = parse_qs(urlsplit(visitor.browser.current_url).query)
    return query["material"][0], query["fuel"][0]


def test_a_cell_of_the_matrix_is_the_pair_of_the_page_and_back_leads_back(looker: Visitor) -> None:
    looker.open(LINK)
    assert "acrylonitrile butadiene rubber and ethanol 70, cyclopentanone 30" in looker.text()
    canvas = looker.browser.find_element(By.CSS_SELECTOR, '[data-testid="stDataFrame"] canvas')
    looker.browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", canvas)
    width, height = canvas.size["width"], canvas.size["height"]
    ActionChains(looker.browser).move_to_element_with_offset(
        canvas, 500 - width / 2, 160 - height / 2
    ).click().perform()
    looker.until("another pair stands in the address", lambda: pair(looker)[0] != "nbr")
    looker.rest()
    chosen = pair(looker)
    assert looker.value("Fuel or liquid") == chosen[1]
    looker.browser.back()
    looker.until("the former pair is back", lambda: pair(looker)[0] == "nbr")
    looker.rest()
    assert "acrylonitrile butadiene rubber and ethanol 70, cyclopentanone 30" in looker.text()


def test_what_to_fit_instead_is_seen_whole_on_a_narrow_screen(looker: Visitor) -> None:
    looker.open(LINK)
    for width in (1200, 390):
        looker.dress(width)
        cut = looker.browser.execute_script(
            "return [...document.querySelectorAll('td[data-label=\"fit instead\"]')].filter(e =>"
            " { const box = e.getBoundingClientRect(); return box.right > innerWidth || e.scrollWidth > e.clientWidth + 1 })"
            ".length"
        )
        assert cut == 0
    assert "Fit instead" in looker.text() or "fit instead" in looker.text()
    looker.dress()
