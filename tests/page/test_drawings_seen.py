"""Every drawing of every example plan in a real browser: no text on another, none beyond the sheet, nothing complained of."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from speclint.facts.build import build_subjects
from speclint.files.plans import load_plan
from speclint.forms.drawing import Drawing, Shape, svg
from speclint.forms.layout_drawing import elevation
from speclint.forms.section_drawing import section_drawings
from speclint.forms.sequence_drawing import sequence_chart
from speclint.review.kit import Kit
from speclint.review.run import Options, review
from speclint.review.show import system_of
from speclint.works.layout import layouts_of
from speclint.works.reading import Reader
from speclint.works.section import cuts_of
from speclint.works.section_pins import pins_of
from speclint.works.sequence import Calendar, sequence_of
from speclint.works.steps import work_of
from speclint.works.workdays import DAY, HOUR, Week
from tests.page.conftest import EXAMPLES, Seen

CALENDAR = Calendar(
    Week(frozenset(range(5)), frozenset(), 8 * HOUR, 16 * HOUR), 20514 * DAY + 8 * HOUR, False, 20515 * DAY, {}
)
OVERLAPS = """
const found = [], sheet = document.documentElement.viewBox.baseVal;
for (const group of document.querySelectorAll('g[id]')) {
  const seen = [];
  for (const text of group.querySelectorAll('text')) {
    const box = text.getBBox(), turn = text.getAttribute('transform');
    const here = turn ? {x: box.x, y: box.y, width: 0, height: 0} : {
      x: box.x, y: box.y + box.height * 0.14, width: box.width, height: box.height * 0.7};
    if (!turn && (box.x < 0 || box.x + box.width > sheet.width)) found.push([group.id, 'beyond', text.textContent]);
    for (const other of seen) {
      const apart = here.x >= other.box.x + other.box.width || other.box.x >= here.x + here.width
        || here.y >= other.box.y + other.box.height || other.box.y >= here.y + here.height;
      if (!apart) found.push([group.id, other.text, text.textContent]);
    }
    seen.push({box: here, text: text.textContent});
  }
}
return found;
"""


def drawn(path: Path, kit: Kit) -> list[Drawing]:
    plan = load_plan(str(path), kit)
    root = build_subjects(plan, kit.catalogue)
    system, report = system_of(root), review(plan, kit, Options(as_of="2026-04-02"))
    drawings = [
        one for cut in cuts_of(plan, root, system) for one in section_drawings(cut, pins_of(cut, report), system)
    ]
    reader, work = Reader(kit.catalogue, plan.root, system), work_of(kit.work)
    drawings += [elevation(one, system) for one in layouts_of(reader, root)]
    rooms = root.collections.get("rooms", ())
    charts = (sequence_chart(sequence_of(reader, "", room, work, CALENDAR)) for room in rooms)
    return drawings + [one for one in charts if one is not None]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_text_covers_another(path: Path, kit: Kit, shown: Callable[..., Seen]) -> None:
    drawings = drawn(path, kit)
    if not drawings:
        pytest.skip("no assembly to draw")
    seen = shown(svg(drawings), "drawing.svg")
    assert seen.ask(OVERLAPS) == []
    assert seen.complaints() == []


def test_an_overlap_would_be_seen(shown: Callable[..., Seen]) -> None:
    shapes = (
        Shape("text", (10, 10), "note", "one text"),
        Shape("text", (12, 11), "note", "another"),
        Shape("text", (90, 30), "note", "far beyond"),
    )
    seen = shown(svg([Drawing("a-b", "a", "b", 100, 50, shapes)]), "drawing.svg")
    assert [row[1] for row in seen.ask(OVERLAPS)] == ["one text", "beyond"]
