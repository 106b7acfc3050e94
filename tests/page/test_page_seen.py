"""Every example page in a real browser, on paper, before an accessibility checker and a validator of HTML.

axe-core and html-validate are node packages: ``npm install axe-core html-validate`` in the folder that SPECLINT_NPM names.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.forms.reports import finding, line, report
from tests.forms.test_page import HOSTILE, written
from tests.page.conftest import EXAMPLES, Seen
from tests.page.pages import page_of_file

NPM = Path(os.environ.get("SPECLINT_NPM", ""), "node_modules")
AXE = NPM / "axe-core/axe.min.js"
WIDTHS = (320, 768, 1280)
PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
ASK_AXE = """
const done = arguments[arguments.length - 1];
axe.run(document, {runOnly: {type: 'tag', values: arguments[0]}}).then(
  found => done(found.violations.map(one => [one.id, one.nodes.slice(0, 3).map(node => node.html.slice(0, 200))])));
"""
BEYOND = """
const wide = document.documentElement.clientWidth;
return [...document.querySelectorAll('body *')].filter(one => !one.closest('.skip, svg, thead'))
  .filter(one => one.getBoundingClientRect().right > wide + 1).map(one => one.outerHTML.slice(0, 120));
"""


def stands_alone(browser: Seen, file: Path) -> None:
    """A page fits each width, asks for nothing but itself, and neither console nor accessibility checker complains."""
    for width in WIDTHS:
        browser.open(file, width)
        assert browser.ask("return document.documentElement.scrollWidth") <= width
        assert browser.ask(BEYOND) == []
        assert browser.complaints() == []
        assert browser.requests() == [file.resolve().as_uri()]
    if AXE.is_file():
        # the policy of the page lets no script in, so the checker comes in by the driver
        browser.driver.execute_script(AXE.read_text(encoding="utf-8"))
        assert browser.driver.execute_async_script(ASK_AXE, RULES) == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_page_fits_asks_nothing_and_complains_of_nothing(path: Path, browser: Seen, tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    file.write_text(page_of_file(path), encoding="utf-8")
    stands_alone(browser, file)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["hall-shower-with-liquid-membrane", "flat-pan-and-nailed-curb"])
def test_a_page_is_printed(name: str, paper: str, browser: Seen, tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    file.write_text(page_of_file(next(one for one in EXAMPLES if one.stem == name)), encoding="utf-8")
    browser.open(file, 1280)
    pdf = browser.printed(*PAPERS[paper])
    assert pdf.startswith(b"%PDF-") and pdf.rstrip().endswith(b"%%EOF")
    assert 3 <= pdf.count(b"/Type /Page\n") + pdf.count(b"/Type /Page ") + pdf.count(b"/Type /Page/") <= 60


def test_every_control_is_reached_by_keys(browser: Seen, tmp_path: Path) -> None:
    keys = pytest.importorskip("selenium.webdriver.common.keys").Keys
    actions = pytest.importorskip("selenium.webdriver").ActionChains
    file = tmp_path / "page.html"
    file.write_text(
        page_of_file(next(one for one in EXAMPLES if one.stem == "spot-bonded-walls-on-gypsum")), encoding="utf-8"
    )
    browser.open(file, 1280)
    number = browser.ask("""
      window.reached = new Set();
      document.addEventListener('focusin', event => window.reached.add(event.target));
      return document.querySelectorAll('a[href], summary').length""")
    actions(browser.driver).send_keys(*[keys.TAB] * (number + 1)).perform()
    missed = browser.ask("""
      return [...document.querySelectorAll('a[href], summary')].filter(one => !window.reached.has(one)).map(one => one.outerHTML)""")
    assert number > 30 and missed == []
    browser.ask("document.querySelector('summary').focus()")
    actions(browser.driver).send_keys(keys.ENTER).perform()
    assert browser.ask("return document.querySelector('details').open") is True


def test_every_link_leads_somewhere(browser: Seen, tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    folder = EXAMPLES[0].parents[1] / "hard"
    file.write_text(page_of_file(folder), encoding="utf-8")
    browser.open(file, 1280)
    lost = browser.ask("""
      return [...document.querySelectorAll('a')].map(one => one.getAttribute('href'))
        .filter(href => !href.startsWith('#') || !document.getElementById(href.slice(1)))""")
    twice = browser.ask("""
      const ids = [...document.querySelectorAll('[id]')].map(one => one.id);
      return ids.filter((id, at) => ids.indexOf(id) !== at)""")
    assert (lost, twice) == ([], [])


def test_the_validator_finds_nothing(tmp_path: Path) -> None:
    program = NPM / ".bin/html-validate"
    if shutil.which("node") is None or not program.is_file():
        pytest.skip("html-validate is not installed: npm install html-validate, and set SPECLINT_NPM to that folder")
    (tmp_path / ".htmlvalidate.json").write_text('{"root": true, "extends": ["html-validate:recommended"]}')
    for path in EXAMPLES:
        (tmp_path / f"{path.stem}.html").write_text(page_of_file(path), encoding="utf-8")
    (tmp_path / "several.html").write_text(page_of_file(EXAMPLES[0].parents[1] / "hard"), encoding="utf-8")
    found = subprocess.run(
        [str(program), "*.html"], cwd=tmp_path, capture_output=True, text=True, timeout=600, check=False
    )
    assert found.returncode == 0, found.stdout[-3000:]


def test_ten_thousand_findings_and_hostile_texts_do_no_harm(browser: Seen, tmp_path: Path) -> None:
    pytest.importorskip("jinja2", reason="the page needs jinja2: pip install 'speclint[report]'")
    file = tmp_path / "page.html"
    evil = [finding(rule=f"rule-{at}", message=text, words=text, acts=text) for at, text in enumerate(HOSTILE)]
    many = [
        finding(rule=f"rule-{at}", message="x" * 400 if at % 7 == 0 else "short", span=line(at))
        for at in range(1, 10_001)
    ]
    file.write_text(written(report(findings=(*evil, *many), plan=HOSTILE[0])), encoding="utf-8")
    for width in WIDTHS:
        browser.open(file, width)
        assert browser.ask("return document.documentElement.scrollWidth") <= width
    assert browser.ask("return document.title") == HOSTILE[0]
    assert browser.ask("return document.querySelectorAll('.finding').length") == 10_000 + len(HOSTILE)
    assert browser.ask("return document.querySelectorAll('script, img, iframe').length") == 0
    assert browser.complaints() == [] and browser.requests() == [file.resolve().as_uri()]
    browser.ask("location.hash = '#p1-f9000'")
    assert browser.ask("return Math.abs(document.getElementById('p1-f9000').getBoundingClientRect().top)") < 900
