"""Someone with a browser, for the tests of the app in a real one.

Selects by accessible name and by the app's own run state, so that a change of layout does not break a test.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
from contrast import contrast, luminance
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

PAGES = {
    "Shortlist": "",
    "One material": "material",
    "Fuel": "fuel",
    "Fuel on polymers": "contact",
    "Proof and book": "proof",
    "Gun and log": "gun",
    "Data": "data",
}
DEMO_FUEL = "ethanol 70, cyclopentanone 30"
FIRST_ANSWER = 300.0
"""Seconds for the first ranking: on a new machine the kernels are compiled."""


class Visitor:
    """A person at a browser: opens pages, waits until the app is at rest, reads what is seen."""

    def __init__(self, browser: Chrome, address: str):
        self.browser, self.address = browser, address

    def until(self, what: str, true: Callable[[], object], seconds: float = 30.0) -> None:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            try:
                if true():
                    return
            except (StaleElementReferenceException, LookupError):
                pass
            time.sleep(0.1)
        pytest.fail(f"after {seconds:g} s still not so: {what}\n{self.text()[:3000]}")

    def is_at_rest(self) -> bool:
        """Whether the last run is over, all of it drawn, and nothing of an earlier run is left."""
        found: bool = self.browser.execute_script(
            "const app = document.querySelector('[data-testid=stApp]');"
            "return !!app && app.dataset.testScriptState === 'notRunning' && !!document.querySelector('h1')"
            " && !document.querySelector('[data-stale=true]');"
        )
        return found

    def rest(self, seconds: float = 60.0) -> None:
        calm = 0

        def stays() -> bool:
            nonlocal calm
            calm = calm + 1 if self.is_at_rest() else 0
            return calm >= 3  # a rerun begins a moment after the one that asked for it

        self.until("the app is at rest", stays, seconds)

    def open(self, path: str = "") -> None:
        """Enter by the address, on a wide light screen."""
        self.browser.get("about:blank")
        self.dress()
        self.browser.get(f"{self.address}/{path}")
        self.rest(FIRST_ANSWER)

    def dress(self, width: int = 1200, dark: bool = False) -> None:
        """Give the open page another width and colour scheme."""
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})
        screen = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
        self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", screen)
        if self.browser.current_url != "about:blank":
            self.until("the colours are changed", lambda: (luminance(self.ground()) < 0.1) == dark)
            self.until("the width is taken", lambda: self.browser.execute_script("return innerWidth") == width)
            time.sleep(0.3)  # the columns move

    def ground(self) -> str:
        """The colour behind the page."""
        app = self.browser.find_element(By.CSS_SELECTOR, "[data-testid=stApp]")
        return app.value_of_css_property("background-color")

    def least_contrast(self) -> float:
        """The contrast of the faintest heading, label or paragraph that stands on the page's own ground."""
        texts = self.browser.execute_script(
            "const texts = document.querySelectorAll('[data-testid=stMain] :is(h1, h2, h3, p, li, label)');"
            "const apart = 'button, a, [data-testid=stAlert], [data-testid=stCaptionContainer]';"
            "return [...texts].filter(e => e.offsetParent && !e.closest(apart)).map(e => getComputedStyle(e).color)"
        )
        return min(contrast(colour, self.ground()) for colour in {*texts})

    def text(self) -> str:
        found: str = self.browser.execute_script("return document.body.innerText")
        return found

    def title(self) -> str:
        return self.browser.find_element(By.TAG_NAME, "h1").text

    def errors(self) -> list[str]:
        boxes = '[data-testid="stException"], [data-testid="stAlertContentError"]'
        return [box.text for box in self.browser.find_elements(By.CSS_SELECTOR, boxes)]

    def named(self, selector: str, name: str) -> WebElement:
        """The seen element of that accessible name; fields and uploads are drawn a moment after the run is over."""
        end = time.monotonic() + 10.0
        while True:
            try:
                return self._named_now(selector, name)
            except (LookupError, StaleElementReferenceException):
                if time.monotonic() > end:
                    raise
                time.sleep(0.1)

    def _named_now(self, selector: str, name: str) -> WebElement:
        likely = self.browser.execute_script(
            "return [...document.querySelectorAll(arguments[0])].filter(e =>"
            " `${e.ariaLabel} ${e.textContent}`.includes(arguments[1]) && e.getClientRects().length)",
            selector,
            name,
        )
        names = [element.accessible_name for element in likely]
        if name not in names:
            raise LookupError(f"no {selector} is named {name!r}, only {names}")
        return likely[names.index(name)]

    def type_over(self, name: str, text: str) -> None:
        """Put another text into a field and press Enter."""
        field = self.named("input", name)
        field.send_keys(Keys.CONTROL, "a")
        field.send_keys(text, Keys.ENTER)

    def value(self, name: str) -> str | None:
        """What stands in a field."""
        return self.named("input", name).get_attribute("value")

    def ranking(self) -> list[str]:
        """The cells of the ranked table, row after row."""
        found: list[str] = self.browser.execute_script(
            "return [...document.querySelectorAll('table')].map(t => [...t.querySelectorAll('th, td')]"
            ".map(c => c.textContent.trim())).find(c => c.includes('verdict') && c.includes('rank')) || []"
        )
        return found
