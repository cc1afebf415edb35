"""The app in a real browser: each page, by address, by link, by keyboard, narrow and dark; files in and out.

Selected by accessible name and by the app's own run state, so that a change of layout does not break them.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver import ActionChains, Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

from screening.judgement.case_file import load_case

pytestmark = pytest.mark.browser
PAGES = {
    "Shortlist": "",
    "One material": "material",
    "Fuel": "fuel",
    "Fuel on polymers": "contact",
    "Gun and log": "gun",
    "Data": "data",
}
DEMO_FUEL = "ethanol 70, cyclopentanone 30"
FIRST_ANSWER = 300.0
"""Seconds for the first ranking: on a new machine the kernels are compiled."""
# a page entered by its address makes the frame look for its server beneath that page first
PROBES = re.compile(r"/_stcore/(host-config|health) - .*\b404\b")


def luminance(colour: str) -> float:
    """Relative luminance of a CSS colour (WCAG 2.1)."""
    parts = [float(part) / 255 for part in re.findall(r"[\d.]+", colour)[:3]]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """Contrast of two CSS colours (WCAG 2.1)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


class Visitor:
    """Someone with a browser: opens pages, waits until the app is at rest, reads what is seen."""

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


@pytest.fixture(scope="module")
def visitor(chromium: Chrome, address: str) -> Visitor:
    """A visitor to the app, whose first ranking is there."""
    found = Visitor(chromium, address)
    found.open()
    return found


@pytest.fixture(scope="module", params=PAGES.values(), ids=list(PAGES))
def page(visitor: Visitor, request: pytest.FixtureRequest) -> Visitor:
    """A page opened by its address, for the tests that only look at it."""
    visitor.open(request.param)
    return visitor


@pytest.fixture(autouse=True)
def _no_console_errors(request: pytest.FixtureRequest) -> Iterator[None]:
    """What the browser's console holds against the app fails the test."""
    yield
    if "chromium" in request.fixturenames:
        entries = request.getfixturevalue("chromium").get_log("browser")
        severe = [entry["message"] for entry in entries if entry["level"] == "SEVERE"]
        assert [message for message in severe if not PROBES.search(message)] == []


def test_opening_the_app_shows_the_ranked_demo(visitor: Visitor) -> None:
    visitor.open()
    assert visitor.errors() == []
    assert "invented" in visitor.text()
    cells = visitor.ranking()
    assert "rank" in cells
    assert any("polyamide" in cell for cell in cells)
    assert any(cell.endswith(("fails", "short run only", "lasts")) for cell in cells)


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


def test_another_fuel_changes_the_answer(visitor: Visitor) -> None:
    visitor.open("fuel")
    assert "9.57" in visitor.text()
    visitor.type_over("Fuel", "methanol")
    visitor.until("methanol's air need is shown", lambda: "6.4" in visitor.text() and "9.57" not in visitor.text())
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


def upload(visitor: Visitor, path: Path) -> None:
    boxes = (By.CSS_SELECTOR, 'input[type="file"]')
    visitor.until("a file can be given", lambda: visitor.browser.find_elements(*boxes))  # it is drawn a moment later
    visitor.browser.find_elements(*boxes)[-1].send_keys(str(path))


def test_a_wrong_case_file_shows_its_faults_and_keeps_the_case(visitor: Visitor, tmp_path: Path) -> None:
    wrong = {"format": "polymer-piston-case", "version": 1, "engine": {"displacement_cc": -3}, "fuel": "ethanol",
             "head": {"reading_C": 60}, "colour": "red"}  # fmt: skip
    (tmp_path / "wrong.json").write_text(json.dumps(wrong), "utf-8")
    visitor.open()
    upload(visitor, tmp_path / "wrong.json")
    visitor.until("the faults are told", lambda: visitor.errors())
    told = "\n".join(visitor.errors())
    assert "displacement_cc" in told
    assert "colour" in told
    assert visitor.value("Fuel") == DEMO_FUEL


def test_a_right_case_file_becomes_the_case(visitor: Visitor, tmp_path: Path) -> None:
    case = {"format": "polymer-piston-case", "version": 1, "engine": {"displacement_cc": 50}, "fuel": "ethanol",
            "head": {"reading_C": 60}}  # fmt: skip
    (tmp_path / "right.json").write_text(json.dumps(case), "utf-8")
    visitor.open()
    upload(visitor, tmp_path / "right.json")
    visitor.until("the case is taken", lambda: visitor.value("Fuel") == "ethanol")
    visitor.rest(FIRST_ANSWER)
    assert visitor.errors() == []


def test_the_case_file_that_goes_out_can_be_loaded(visitor: Visitor, tmp_path: Path) -> None:
    visitor.browser.execute_cdp_cmd("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(tmp_path)})
    visitor.open()
    visitor.named("button", "Case file").click()
    visitor.until("the case file has come", lambda: list(tmp_path.glob("*.json")))
    assert load_case(next(tmp_path.glob("*.json"))).to_dict() == load_case("cyclopentanone_blend").to_dict()


def test_the_readme_command_starts_the_app(chromium: Chrome, served: Callable[[list[str]], str]) -> None:
    visitor = Visitor(chromium, served(["-m", "streamlit", "run"]))
    visitor.open("data")
    assert visitor.errors() == []


def test_contrast_of_known_colours() -> None:
    assert contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21.0)
    assert contrast("rgb(119, 119, 119)", "rgb(255, 255, 255)") == pytest.approx(4.48, abs=0.01)
