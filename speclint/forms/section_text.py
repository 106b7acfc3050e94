"""A cut in words, for a terminal: what each drawing shows, from top to bottom, with the findings on each part."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.phrases import sentence
from speclint.forms.rows import EMPTY, Piece, Row, paragraph
from speclint.forms.safe import safe
from speclint.forms.section_drawing import pictures_of
from speclint.works.section_pins import WHOLE, Pin
from speclint.works.section_values import Cut

_MOST = 100


def section_rows(cut: Cut, pins: Sequence[Pin], system: str, plan: str, width: int) -> list[Row]:
    """The rows of one cut, at most 100 columns wide; ``plan`` is named in its head."""
    width = min(width, _MOST)
    rows = [*paragraph(safe(" / ".join((plan, *cut.address))), width, 0, "strong")]
    left = list(pins)
    for name, picture in pictures_of(cut, system):
        rows += [EMPTY, (Piece(f"  {name}", "strong"),)]
        for note in sorted(picture.notes, key=lambda note: 0.0 if picture.keyed else note.y):
            rows += paragraph(safe(note.title), width, 4, hang=2)
            for text in note.texts:
                rows += paragraph(safe(text), width, 6, "faint", hang=2)
            here = [pin for pin in left if pin.part == note.part]
            left = [pin for pin in left if pin.part != note.part]
            rows += [row for pin in here for row in _pin(pin, width)]
    rest = [pin for pin in left if pin.part == WHOLE]
    if rest:
        rows += [EMPTY, (Piece("  on the whole", "strong"),)]
        rows += [row for pin in rest for row in _pin(pin, width)]
    return rows


def _pin(pin: Pin, width: int) -> list[Row]:
    return paragraph(f"{pin.number} {pin.weight}: {sentence(pin.message)}", width, 6, pin.weight, hang=3)
