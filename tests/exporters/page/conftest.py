"""A real Chromium for the page's tests, and pages for it to open."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from page_driver import Phone
from selenium import webdriver

from scheduler.domain.plan import Plan
from scheduler.exporters.page import page_of

_FLAGS = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
)


def _programs() -> tuple[str, str]:
    names = ("chromium", "chromium-browser", "google-chrome")
    browser = next(filter(None, map(shutil.which, names)), None)
    chromedriver = shutil.which("chromedriver")
    if browser is None or chromedriver is None:
        message = "Chromium or its driver (chromedriver) is not installed"
        if os.environ.get("CI"):
            pytest.fail(message)
        pytest.skip(message)
    return browser, chromedriver


@pytest.fixture(scope="session")
def chromium(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    """Start one Chromium for all tests of the page."""
    browser, chromedriver = _programs()
    options = webdriver.ChromeOptions()
    options.binary_location = browser
    for flag in (*_FLAGS, f"--user-data-dir={tmp_path_factory.mktemp('chromium')}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options, webdriver.ChromeService(chromedriver))
    yield driver
    driver.quit()


@pytest.fixture
def phone(chromium: webdriver.Chrome) -> Iterator[Phone]:
    """Hold the browser as a phone 360 px wide; fail the test if its console complained."""
    phone = Phone(chromium)
    yield phone
    complaints = phone.complaints()
    assert not complaints, complaints


@pytest.fixture
def opened(phone: Phone, tmp_path: Path) -> Callable[..., Phone]:
    """Open a plan's page from a file, with nothing stored from before."""

    def open_page(plan: Plan, part: str = "", make: Callable[[Plan], bytes] = page_of) -> Phone:
        path = tmp_path / "page.html"
        path.write_bytes(make(plan))
        phone.open(path.as_uri(), part)
        return phone

    return open_page
