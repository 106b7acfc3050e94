"""The crew's card in a real browser: it fits a telephone, asks nothing, and a room prints on the two sides of one sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.page.conftest import EXAMPLES, Seen
from tests.page.pages import page_of_file
from tests.page.test_page_seen import PAPERS, stands_alone

SHOWN = [path for path in EXAMPLES if path.parent.name != "flawed" or path.stem.count("-") > 3]


@pytest.mark.parametrize("path", SHOWN, ids=lambda path: path.stem)
def test_a_card_fits_asks_nothing_and_complains_of_nothing(path: Path, browser: Seen, tmp_path: Path) -> None:
    file = tmp_path / "card.html"
    file.write_text(page_of_file(path, form="card"), encoding="utf-8")
    stands_alone(browser, file)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_room_prints_on_two_sides(paper: str, browser: Seen, tmp_path: Path) -> None:
    file = tmp_path / "card.html"
    shower = next(path for path in EXAMPLES if path.stem == "hall-shower-with-liquid-membrane")
    file.write_text(page_of_file(shower, form="card"), encoding="utf-8")
    browser.open(file, 1280)
    pdf = browser.printed(*PAPERS[paper])
    assert 1 <= sum(pdf.count(b"/Type /Page" + end) for end in (b"\n", b" ", b"/")) <= 2
