"""The case in a real browser: changed, taken back, passed on by its address, and the page worked by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from selenium.webdriver import ActionChains
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from visitor import DEMO_FUEL, FIRST_ANSWER, PAGES, Visitor

pytestmark = pytest.mark.browser


def test_another_fuel_changes_the_answer(visitor: Visitor) -> None:
    visitor.open("fuel")
    assert "9.58" in visitor.text()
    visitor.type_over("Fuel", "methanol")
    visitor.until("methanol's air need is shown", lambda: "6.4" in visitor.text() and "9.58" not in visitor.text())
    visitor.named("a", "Shortlist").click()
    visitor.until("the ranking is asked for", lambda: visitor.title() != "The fuel")
    visitor.rest(FIRST_ANSWER)
    assert visitor.value("Fuel") == "methanol"
    assert visitor.ranking()


def test_back_restores_the_earlier_case(visitor: Visitor) -> None:
    visitor.open("fuel")
    for fuel in ("methanol", "ethanol"):
        before = visitor.browser.current_url
        visitor.type_over("Fuel", fuel)
        visitor.until(f"the address stands for {fuel}", lambda before=before: visitor.browser.current_url != before)
        visitor.rest()
    for fuel in ("methanol", DEMO_FUEL):
        visitor.browser.back()
        visitor.until(f"{fuel} is back", lambda fuel=fuel: visitor.value("Fuel") == fuel)
        visitor.rest()
    visitor.browser.forward()
    visitor.until("methanol is there again", lambda: visitor.value("Fuel") == "methanol")
    assert visitor.errors() == []


def test_a_new_tab_on_the_copied_address_shows_the_same_case(visitor: Visitor) -> None:
    visitor.open("fuel")
    bare = visitor.browser.current_url
    visitor.type_over("Fuel", "methanol")
    visitor.until("the address stands for the case", lambda: visitor.browser.current_url != bare)
    visitor.rest()
    copied, first = visitor.browser.current_url, visitor.browser.current_window_handle
    visitor.browser.switch_to.new_window("tab")
    try:
        visitor.browser.get(copied)
        visitor.rest()
        assert visitor.value("Fuel") == "methanol"
        assert visitor.errors() == []
    finally:
        visitor.browser.close()
        visitor.browser.switch_to.window(first)


def tabbed(visitor: Visitor, most: int = 60) -> Iterator[WebElement]:
    """Go through the page by the Tab key."""
    for _ in range(most):
        ActionChains(visitor.browser).send_keys(Keys.TAB).perform()
        yield visitor.browser.switch_to.active_element


def test_the_shortlist_is_worked_by_keyboard(visitor: Visitor) -> None:
    visitor.open()
    reached = set()
    for element in tabbed(visitor):
        reached.add(element.accessible_name)
        if element.accessible_name == "Fuel" and element.tag_name == "input":
            element.send_keys(Keys.CONTROL, "a")
            element.send_keys("ethanol", Keys.ENTER)
            break
    else:
        pytest.fail(f"Tab never reached the fuel; it reached {sorted(reached)}")
    assert set(PAGES) <= reached
    visitor.until("the fuel is taken", lambda: visitor.value("Fuel") == "ethanol")
    visitor.rest(FIRST_ANSWER)
    assert visitor.errors() == []


def test_a_link_of_the_navigation_is_followed_by_keyboard(visitor: Visitor) -> None:
    visitor.open("gun")
    link = next(e for e in tabbed(visitor) if e.accessible_name == "Data" and e.tag_name == "a")
    link.send_keys(Keys.ENTER)
    visitor.until("the data page is open", lambda: urlsplit(visitor.browser.current_url).path == "/data")
