"""One drawing of a detail: a picture at the left, its notes at the right, findings pinned to it, told below."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from speclint.forms.drawing import Drawing, Scale, Shape, text_width
from speclint.forms.measures import INCH
from speclint.forms.phrases import sentence
from speclint.forms.rows import fold
from speclint.works.section_pins import Pin

WIDE = 100.0
"""Millimetres: the sheet of a detail; on a telephone its letters are still as large as in a newspaper."""
PICTURE = 40.0
"""Millimetres: the picture at the left of a sheet."""
EDGE = 4.0
_TITLE, _BODY, _ROW, _GAP = 3.4, 3.1, 4.1, 2.2
_COLUMN = EDGE + PICTURE + 7
_RADIUS = 2.1
_MAGNIFIED = (Fraction(1, 8), Fraction(1, 4), Fraction(1, 2), Fraction(1), Fraction(2), Fraction(4), Fraction(8))
_SAID = {
    Fraction(1): "full size",
    Fraction(2): "half size",
    Fraction(4): "quarter size",
    Fraction(8): "1-1/2 in = 1 ft",
}


class Note(NamedTuple):
    """What is written beside a part of a picture: the part's id, where it is, a title, and lines of text."""

    part: str
    x: float
    y: float
    title: str
    texts: tuple[str, ...] = ()


class Picture(NamedTuple):
    """A picture in millimetres from its own upper left corner, its notes, its scale, and what must be said below it.

    A picture as wide as the sheet is ``keyed``: letters stand in it, and its notes below it.
    """

    shapes: tuple[Shape, ...]
    height: float
    notes: tuple[Note, ...]
    scale: Scale
    said: tuple[str, ...] = ()
    keyed: bool = False


def sheet(id: str, title: str, picture: Picture, pins: Sequence[Pin], system: str) -> Drawing:
    """The drawing of a picture: title, notes spread so that none covers another, scale bar, findings by number."""
    head = lines(title, WIDE - 2 * EDGE, _TITLE)
    top = 7.0 + _ROW * len(head)
    shapes = [Shape("text", (EDGE, 6.0 + _ROW * at), "head", row, _TITLE) for at, row in enumerate(head)]
    shapes += [moved(shape, EDGE, top) for shape in picture.shapes]
    beside, bottom = _keyed(picture, pins, top) if picture.keyed else _beside(picture, pins, top)
    at = max(top + picture.height, bottom) + 4
    bar, at = _bar(picture.scale, system, at)
    below, at = _below(picture.said, pins, at)
    told = "; ".join(_plain(note) for note in picture.notes)
    shown = f"Cut to scale, {picture.scale.text}. {told}."
    return Drawing(id, title, shown, WIDE, at + 3, (*shapes, *beside, *bar, *below))


def detail_scale(wide: Fraction, high: Fraction, across: float, down: float, inch: bool) -> Scale:
    """The largest usual scale of a detail at which metres fit into millimetres of paper, 8 times full size at most."""
    fits = (one for one in _MAGNIFIED if float(wide * 1000 / one) <= across and float(high * 1000 / one) <= down)
    ratio = next(fits, _MAGNIFIED[-1])
    if ratio < 1:
        return Scale(ratio, f"{1 / ratio} times full size, {1 / ratio}:1")
    return Scale(ratio, f"{_SAID[ratio]}, 1:{ratio}" if inch or ratio == 1 else f"1:{ratio}")


def moved(shape: Shape, right: float, down: float) -> Shape:
    """A shape moved on the paper."""
    if shape.kind == "rect":
        x, y, wide, high = shape.figures
        return shape._replace(figures=(x + right, y + down, wide, high))
    if shape.kind == "circle":
        x, y, radius = shape.figures
        return shape._replace(figures=(x + right, y + down, radius))
    return shape._replace(figures=tuple(one + (down if at % 2 else right) for at, one in enumerate(shape.figures)))


def lines(text: str, width: float, size: float) -> list[str]:
    """A text folded into rows that fit into millimetres."""
    return fold(text, max(8, int(width / (size * 0.51))))


def _plain(note: Note) -> str:
    return ", ".join((note.title, *note.texts))


def _beside(picture: Picture, pins: Sequence[Pin], top: float) -> tuple[list[Shape], float]:
    """The notes in a column, each level with its part where there is room, joined to it by a line."""
    shapes: list[Shape] = []
    blocks = [
        (note, _block(note, pins, WIDE - _COLUMN - EDGE)) for note in sorted(picture.notes, key=lambda note: note.y)
    ]
    at = top
    for note, rows, target, start in _spread(blocks, top):
        style = "call" if any(pin.part == note.part for pin in pins) else "leader"
        x, knee, end = note.x + EDGE, EDGE + PICTURE + 1.5, start + 2.6
        shapes.append(Shape("open", (x, target, knee, target, _COLUMN - 1.2, end), style))
        shapes.append(Shape("circle", (x, target, 0.55), "spot" if style == "call" else "dot"))
        shapes += [moved(row, _COLUMN, start) for row in rows]
        at = max(at, start + _height(rows))
    return shapes, at


def _keyed(picture: Picture, pins: Sequence[Pin], top: float) -> tuple[list[Shape], float]:
    """A letter at each part, and the notes below the picture by their letters."""
    shapes: list[Shape] = []
    at = top + picture.height + 1
    for letter, note in zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ", picture.notes, strict=False):
        rows = _block(note, pins, WIDE - 2 * EDGE - 7)
        for x, y in ((note.x + EDGE, note.y + top), (EDGE + _RADIUS, at + 2.4)):
            shapes.append(Shape("circle", (x, y, _RADIUS), "key"))
            shapes.append(Shape("text", (x, y + 1.05), "letter", letter, 2.9, "middle"))
        shapes += [moved(row, EDGE + 7, at) for row in rows]
        at += _height(rows) + 1
    return shapes, at


def _spread(blocks: Sequence[tuple[Note, list[Shape]]], top: float) -> Iterable[tuple[Note, list[Shape], float, float]]:
    """Where each note begins: as near its part as the notes above let it, and drawn up where they would run over."""
    starts: list[float] = []
    free = top - 3
    for note, rows in blocks:
        starts.append(max(free, top + note.y - 2.6))
        free = starts[-1] + _height(rows) + _GAP
    limit = max([top + note.y + 8 for note, _ in blocks], default=top)
    for at in range(len(blocks) - 1, -1, -1):
        least = top - 3 + sum(_height(rows) + _GAP for _, rows in blocks[:at])
        starts[at] = max(least, min(starts[at], limit - _height(blocks[at][1])))
        limit = starts[at] - _GAP
    return [(note, rows, top + note.y, start) for (note, rows), start in zip(blocks, starts, strict=True)]


def _height(rows: Sequence[Shape]) -> float:
    return max(row.figures[1] for row in rows) + 1.2


def _block(note: Note, pins: Sequence[Pin], room: float) -> list[Shape]:
    """The rows of a note from its own corner, with the numbers of the findings on it after its title."""
    rows = [
        Shape("text", (0, 3.6 + _ROW * at), "head", row, _BODY)
        for at, row in enumerate(lines(note.title, room, _BODY * 1.08))
    ]
    y = rows[-1].figures[1]
    numbers = [pin.number for pin in pins if pin.part == note.part]
    x = text_width(rows[-1].text, _BODY) + 3.4
    for number in numbers:
        if x + _RADIUS > room:
            x, y = _RADIUS, y + 2 * _RADIUS + 0.6
        rows += _counted(number, x, y - 1.1)
        x += 2 * _RADIUS + 0.8
    for text in note.texts:
        for row in lines(text, room, _BODY):
            y += _ROW
            rows.append(Shape("text", (0, y), "note", row, _BODY))
    return rows


def _counted(number: int, x: float, y: float) -> list[Shape]:
    size = 2.9 if number < 100 else 2.2
    return [
        Shape("circle", (x, y, _RADIUS), "flag"),
        Shape("text", (x, y + size * 0.36), "count", str(number), size, "middle"),
    ]


def _below(said: Sequence[str], pins: Sequence[Pin], at: float) -> tuple[list[Shape], float]:
    """What must be said, and the findings by their numbers."""
    shapes: list[Shape] = []
    for text in said:
        for row in lines(sentence(text), WIDE - 2 * EDGE, _BODY):
            at += _ROW
            shapes.append(Shape("text", (EDGE, at), "note", row, _BODY))
    left = EDGE + 2 * _RADIUS + 2
    for pin in pins:
        at += 1.6
        shapes += _counted(pin.number, EDGE + _RADIUS, at + _ROW - 1.1)
        for row in lines(f"{pin.weight}: {sentence(pin.message)}", WIDE - EDGE - left, _BODY):
            at += _ROW
            shapes.append(Shape("text", (left, at), "note", row, _BODY))
    return shapes, at


def _bar(scale: Scale, system: str, at: float) -> tuple[list[Shape], float]:
    """A bar of a round length between 12 and 40 mm of paper, with the scale in words."""
    unit = Fraction(127, 5000) if system == INCH else Fraction(1, 1000)
    steps = (
        tuple(Fraction(2) ** power for power in range(-4, 4)) + (Fraction(12), Fraction(24), Fraction(36), Fraction(60))
        if system == INCH
        else tuple(Fraction(step) for step in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000))
    )
    step = next((one for one in steps if scale.paper(one * unit) >= 12), steps[-1])
    length = scale.paper(step * unit)
    told = (
        f"{_inches(step)} in"
        if system == INCH and step < 12
        else f"{step // 12} ft"
        if system == INCH
        else f"{step} mm"
    )
    y = at + 2
    shapes = [
        Shape("rect", (EDGE, y - 0.6, length / 2, 1.2), "metal"),
        Shape("rect", (EDGE + length / 2, y - 0.6, length / 2, 1.2), "face"),
    ]
    for row in lines(f"{told}; scale {scale.text}", WIDE - 2 * EDGE - length - 2, _BODY):
        shapes.append(Shape("text", (EDGE + length + 2, y + 1), "faint", row, _BODY))
        y += _ROW
    return shapes, y - _ROW + 2


def _inches(step: Fraction) -> str:
    return str(step)
