"""The app as a person has it: a server of its own and a headless Chromium, shared by all tests of a run."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from visitor import Visitor

ROOT = Path(__file__).parents[2]
FEW_DRAWS = 10
# the very start that the README gives, in a process where a ranking takes few draws
FEW = f"""
import sys
sys.path.insert(0, {str(ROOT)!r})
from app.session import compute
compute.FIRST_DRAWS = compute.FULL_DRAWS = {FEW_DRAWS}
from streamlit.web import cli
sys.argv = ["streamlit", "run", *sys.argv[1:]]
cli.main()
"""
# a page entered by its address makes the frame look for its server beneath that page first
_PROBES = re.compile(r"/_stcore/(host-config|health) - .*\b404\b")
_NAMES = {"Chromium": ("chromium", "chromium-browser", "google-chrome"), "its driver": ("chromedriver",)}


def _found_programs() -> tuple[str, str]:
    """Return Chromium and its driver; without them skip, but on the machine that checks everything fail."""
    found = {what: next(filter(None, map(shutil.which, names)), None) for what, names in _NAMES.items()}
    missing = [f"{what} ({' or '.join(_NAMES[what])})" for what, path in found.items() if path is None]
    if missing:
        reason = f"not on the path: {', '.join(missing)}; on Debian: apt-get install chromium chromium-driver"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    chromium, driver = found.values()
    assert chromium is not None
    assert driver is not None
    return chromium, driver


def _free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        port: int = taken.getsockname()[1]
        return port


def _wait_for_answer(server: subprocess.Popen[str], address: str, log: Path, seconds: float) -> None:
    end = time.monotonic() + seconds
    while time.monotonic() < end and server.poll() is None:
        try:
            with urllib.request.urlopen(f"{address}/_stcore/health", timeout=2) as answer:
                if answer.status == 200:
                    return
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.2)
    pytest.fail(f"the app did not answer in {seconds:g} s:\n{log.read_text('utf-8')[-2000:]}")


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[list[str]], str]]:
    """Start servers by what follows `python`; each is waited for, gives its address and is ended at last."""
    started: list[subprocess.Popen[str]] = []
    folder = tmp_path_factory.mktemp("servers")

    def start(command: list[str]) -> str:
        port, log = _free_port(), folder / f"{len(started)}.log"
        options = [str(ROOT / "app" / "main.py"), "--server.headless=true", f"--server.port={port}"]
        options += ["--server.fileWatcherType=none"]
        with log.open("w", encoding="utf-8") as lines:
            server = subprocess.Popen(
                [sys.executable, *command, *options], cwd=ROOT, stdout=lines, stderr=subprocess.STDOUT, text=True
            )
        started.append(server)
        _wait_for_answer(server, f"http://127.0.0.1:{port}", log, 60)
        return f"http://127.0.0.1:{port}"

    yield start
    for server in started:
        server.terminate()
    for server in started:
        server.wait(20)


@pytest.fixture(scope="session")
def chromium(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    """A headless Chromium that fetches nothing of its own and keeps its profile in a scratch folder."""
    program, driver = _found_programs()
    options = webdriver.ChromeOptions()
    options.binary_location = program
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    quiet = ("background-networking", "component-update", "sync", "default-apps", "extensions", "gpu", "dev-shm-usage")
    for argument in (
        "--headless=new", "--no-sandbox", "--no-first-run", "--force-device-scale-factor=1", "--lang=en",
        f"--user-data-dir={tmp_path_factory.mktemp('profile')}", *(f"--disable-{part}" for part in quiet),
    ):  # fmt: skip
        options.add_argument(argument)
    browser = webdriver.Chrome(options=options, service=Service(driver))
    browser.set_page_load_timeout(60)
    yield browser
    browser.quit()


@pytest.fixture(scope="session")
def address(chromium: webdriver.Chrome, served: Callable[[list[str]], str]) -> str:
    """The address of the app, computing with few draws."""
    return served(["-c", FEW])


@pytest.fixture(scope="session")
def visitor(chromium: webdriver.Chrome, address: str) -> Visitor:
    """A visitor to the app, whose first ranking is there."""
    found = Visitor(chromium, address)
    found.open()
    return found


@pytest.fixture(autouse=True)
def _no_console_errors(request: pytest.FixtureRequest) -> Iterator[None]:
    """What the browser's console holds against the app fails the test."""
    yield
    if "chromium" in request.fixturenames:
        entries = request.getfixturevalue("chromium").get_log("browser")
        severe = [entry["message"] for entry in entries if entry["level"] == "SEVERE"]
        assert [message for message in severe if not _PROBES.search(message)] == []
