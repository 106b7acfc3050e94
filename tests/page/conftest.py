"""A real browser, where one is installed: Chromium by its driver; tests that look at pixels skip without it."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "specs_examples").rglob("*.wetspec"))
SEVERE = ("SEVERE", "WARNING")


class Seen:
    """One browser with a page in it."""

    def __init__(self, driver: Any) -> None:
        self.driver = driver

    def open(self, path: Path, width: int = 800, height: int = 900) -> None:
        """Show a file at a width of the viewport in CSS pixels, and forget what was logged before."""
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        self.driver.get_log("browser")
        self.driver.get_log("performance")
        self.driver.get(path.resolve().as_uri())

    def ask(self, script: str, *given: Any) -> Any:
        """What a script returns."""
        return self.driver.execute_script(script, *given)

    def complaints(self) -> list[str]:
        """What the console said since the page was opened."""
        return [row["message"] for row in self.driver.get_log("browser") if row["level"] in SEVERE]

    def requests(self) -> list[str]:
        """What the page asked for since it was opened."""
        rows = [json.loads(row["message"])["message"] for row in self.driver.get_log("performance")]
        return [row["params"]["request"]["url"] for row in rows if row["method"] == "Network.requestWillBeSent"]

    def printed(self, wide: float, high: float) -> bytes:
        """The page as PDF on paper of a size in inches."""
        import base64

        paper = {"paperWidth": wide, "paperHeight": high, "preferCSSPageSize": False, "printBackground": True}
        return base64.b64decode(self.driver.execute_cdp_cmd("Page.printToPDF", paper)["data"])


@pytest.fixture(scope="session")
def browser() -> Iterator[Seen]:
    """Chromium without a window."""
    webdriver = pytest.importorskip("selenium.webdriver", reason="selenium is not installed: pip install selenium")
    program, driver = shutil.which("chromium"), shutil.which("chromedriver")
    if program is None or driver is None:
        pytest.skip("Chromium is not installed: apt-get install chromium chromium-driver")
    options = webdriver.ChromeOptions()
    options.binary_location = program
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    service = webdriver.ChromeService(executable_path=driver)
    found = webdriver.Chrome(options=options, service=service)
    yield Seen(found)
    found.quit()


@pytest.fixture
def shown(browser: Seen, tmp_path: Path) -> Callable[..., Seen]:
    """Writes a text into a file and shows it."""

    def show(text: str, name: str = "page.html", width: int = 800) -> Seen:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        browser.open(path, width)
        return browser

    return show
