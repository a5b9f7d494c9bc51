"""A browser window held like a phone, with the few gestures the page's tests need."""

from __future__ import annotations

import json
from typing import Any

from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement


class Phone:
    """A page open in Chromium, 360 px wide unless told otherwise."""

    def __init__(self, driver: webdriver.Chrome) -> None:
        self.driver = driver
        self.hold(360, 780)
        self.driver.get("about:blank")
        self.complaints()
        self.requests()

    def hold(self, width: int, height: int, *, dark: bool = False) -> None:
        """Set the size of the screen and the colours the user likes."""
        screen = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", screen)
        liking = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [liking]})

    def open(self, url: str, part: str = "") -> None:
        """Open a page afresh, with nothing stored."""
        self.driver.get(url)
        self.run("localStorage.clear(); sessionStorage.clear()")
        self.driver.get("about:blank")
        self.driver.get(f"{url}#{part}" if part else url)

    def show(self, part: str) -> None:
        """Go to a part of the page through its bar."""
        self.find(f'nav a[href="#{part}"]').click()

    def run(self, script: str, *arguments: Any) -> Any:
        """Run script inside the page and return what it returns."""
        return self.driver.execute_script(script, *arguments)

    def find(self, selector: str) -> WebElement:
        """Return the first element that fits."""
        return self.driver.find_element(By.CSS_SELECTOR, selector)

    def tap(self, selector: str) -> None:
        """Click an element as a finger would, after bringing it into view."""
        self.find(selector).click()

    def text(self, selector: str) -> str:
        """Return the text a user sees in an element."""
        return self.find(selector).text

    def keep_score(self, key: str) -> None:
        """Open the score keeper of a match from the rounds."""
        self.show("rounds")
        self.tap(f'#rounds button[data-k="{key}"]')

    def complaints(self) -> list[str]:
        """Return what the console said since last asked."""
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def requests(self) -> list[str]:
        """Return the addresses asked for over the network since last asked."""
        messages = (
            json.loads(entry["message"])["message"] for entry in self.driver.get_log("performance")
        )
        return [
            message["params"]["request"]["url"]
            for message in messages
            if message["method"] == "Network.requestWillBeSent"
        ]
