"""A layout as an elevation to scale: pieces, cuts, openings, the first-course line, the story pole."""

from __future__ import annotations

from fractions import Fraction

from speclint.forms.drawing import FONT, SHEET, Drawing, Scale, Shape, id_of, scale_for, text_width
from speclint.forms.measures import INCH, tape_text
from speclint.forms.rows import fold
from speclint.works.layout import SurfaceLayout

_EDGE, _POLE, _HEAD, _TALL = 4.0, 19.0, 13.0, 150.0
_SMALL = 3.0
_ROW = 4.4


def elevation(layout: SurfaceLayout, system: str) -> Drawing:
    """The drawing of one layout; a surface that cannot be laid out is drawn empty with the reason under it."""
    scale = scale_for(
        layout.width or Fraction(1), layout.height or Fraction(1), SHEET - _POLE - _EDGE, _TALL, system == INCH
    )
    place = _Place(layout, scale)
    title = f"{' / '.join(layout.address[:-1])}: {layout.name}"
    head = _lines(title, SHEET - 2 * _EDGE, FONT)
    place.top = _HEAD + _ROW * len(head) - 4
    shapes = [Shape("text", (_EDGE, 5.5 + _ROW * at), "head", row) for at, row in enumerate(head)]
    size = f"{tape_text(layout.width, system)} x {tape_text(layout.height, system)}; scale {scale.text}"
    shapes.append(Shape("text", (_EDGE, 5.5 + _ROW * len(head)), "faint", size, _SMALL))
    edge, tiles = place.edge(layout), _tiles(place, layout)
    shapes += [*tiles, edge] if layout.corners else [edge, *tiles]
    shapes += [*_axis(place, layout), *_openings(place, layout, system), *_pole(place, layout, system)]
    below = place.top + scale.paper(layout.height) + 4
    foot, bottom = _foot(layout, system, below, place)
    told = f"Elevation to scale of {title}; {'; '.join((*layout.missing, *layout.notes)) or 'no notes'}."
    return Drawing(id_of(layout.address), title, told, SHEET, bottom + 3, (*shapes, *foot))


class _Place:
    """Where the face stands on the sheet: its lower left corner, by the scale."""

    def __init__(self, layout: SurfaceLayout, scale: Scale) -> None:
        self.scale, self.height, self.top, self.left = scale, layout.height, _HEAD, _POLE

    def x(self, along: Fraction) -> float:
        return self.left + self.scale.paper(along)

    def y(self, up: Fraction) -> float:
        return self.top + self.scale.paper(self.height - up)

    def rect(self, box: tuple[Fraction, Fraction, Fraction, Fraction], style: str) -> Shape:
        left, foot, width, height = box
        paper = (self.x(left), self.y(foot + height), self.scale.paper(width), self.scale.paper(height))
        return Shape("rect", paper, style)

    def edge(self, layout: SurfaceLayout) -> Shape:
        corners = (*layout.corners, *layout.corners[:1])
        if not corners:
            return self.rect((Fraction(0), Fraction(0), layout.width, layout.height), "face")
        return Shape("open", tuple(figure for x, y in corners for figure in (self.x(x), self.y(y))), "strong")


def _tiles(place: _Place, layout: SurfaceLayout) -> list[Shape]:
    found: list[Shape] = []
    for style, cut in (("full", False), ("cut", True)):
        boxes = [place.rect(piece.box, style).figures for piece in layout.pieces if bool(piece.cut) is cut]
        if boxes:
            found.append(Shape("rects", tuple(figure for box in boxes for figure in box), style))
    return found


def _openings(place: _Place, layout: SurfaceLayout, system: str) -> list[Shape]:
    shapes: list[Shape] = []
    for one in layout.openings:
        shapes.append(place.rect(one.box, "ghost" if one.optional else "hole"))
        size = f"{tape_text(one.box.width, system)} x {tape_text(one.box.height, system)}"
        room = place.scale.paper(one.box.width) - 1
        name = one.name if text_width(one.name, _SMALL) < room else one.name.partition(' "')[0]
        middle = place.x(one.box.left + one.box.width / 2), place.y(one.box.foot + one.box.height / 2)
        if text_width(size, _SMALL) < room and not one.optional:
            shapes.append(Shape("text", (middle[0], middle[1] + 3), "faint", size, _SMALL, "middle"))
        if text_width(name, _SMALL) < room and not one.optional:
            shapes.append(Shape("text", (middle[0], middle[1] - 0.6), "name", name, _SMALL, "middle"))
        elif one.optional and text_width(name, _SMALL) < room / 2:
            corner = place.x(one.box.left) + 1.5, place.y(one.box.foot + one.box.height) + 4
            shapes.append(Shape("text", corner, "name", name, _SMALL))
    for fitting in layout.fittings:
        radius = max(place.scale.paper(fitting.size) / 2, 0.9)
        shapes.append(Shape("circle", (place.x(fitting.left), place.y(fitting.up), radius), "hole"))
    return shapes


def _axis(place: _Place, layout: SurfaceLayout) -> list[Shape]:
    """The center line, and the line at the top of the first course."""
    if not layout.across:
        return []
    middle = place.x(layout.width / 2)
    shapes = [Shape("line", (middle, place.y(layout.height) - 2, middle, place.y(Fraction(0)) + 2), "axis")]
    if layout.upright and layout.marks:
        first = place.y(layout.marks[0])
        shapes.append(Shape("line", (place.left - 3, first, place.x(layout.width) + 2, first), "axis"))
    return shapes


def _pole(place: _Place, layout: SurfaceLayout, system: str) -> list[Shape]:
    """A tick at the top of every course; as many heights as there is room for, the first and the last among them."""
    shapes: list[Shape] = []
    last = place.y(Fraction(0)) + _ROW
    ends = {0, len(layout.marks) - 1}
    top = place.y(layout.marks[-1]) if layout.marks else 0
    for at, mark in enumerate(layout.marks):
        y = place.y(mark)
        shapes.append(Shape("line", (place.left - 2, y, place.left, y), "line"))
        room = last - y >= _SMALL + 0.6 and (at in ends or y - top >= _SMALL + 0.6)
        if room:
            text = tape_text(mark, system).removesuffix(" in").removesuffix(" mm")
            shapes.append(Shape("text", (place.left - 3.4, y + 0.95), "mark", text, _SMALL, "end"))
            last = y
    return shapes


def _foot(layout: SurfaceLayout, system: str, at: float, place: _Place) -> tuple[list[Shape], float]:
    """The cuts below both ends, a scale bar, and what must be said, folded."""
    shapes: list[Shape] = []
    if layout.across:
        run = layout.across[0].runs[0]
        for piece, x, anchor in (
            (run.first or run.tile, place.x(Fraction(0)), "start"),
            (run.last or run.tile, place.x(layout.width), "end"),
        ):
            shapes.append(Shape("text", (x, at), "mark", tape_text(piece, system), _SMALL, anchor))
    bar, text = _bar(layout, system)
    length = place.scale.paper(bar)
    at += _ROW + 1
    shapes += [
        Shape("line", (place.left, at, place.left + length, at), "strong"),
        Shape("line", (place.left, at - 1, place.left, at + 1), "strong"),
        Shape("line", (place.left + length, at - 1, place.left + length, at + 1), "strong"),
        Shape("text", (place.left + length + 2, at + 1), "faint", text, _SMALL),
    ]
    at += 1.5
    for row in [line for note in _said(layout, system) for line in _lines(note, SHEET - 2 * _EDGE, _SMALL)]:
        at += 3.9
        shapes.append(Shape("text", (_EDGE, at), "note", row, _SMALL))
    return shapes, at


def _bar(layout: SurfaceLayout, system: str) -> tuple[Fraction, str]:
    """A round length for the scale bar, of about a third of the face."""
    unit = Fraction(127, 5000) if system == INCH else Fraction(1, 100)
    steps = (
        (1, 2, 3, 6, 12, 24, 36, 60, 120, 240, 600, 1200, 6000)
        if system == INCH
        else (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 5000)
    )
    fits = [step for step in steps if step * unit <= (layout.width or Fraction(1)) / 2]
    step = fits[-1] if fits else steps[0]
    if system == INCH:
        return step * unit, f"{step // 12} ft" if step >= 12 else f"{step} in"
    return step * unit, f"{step / 100:g} m" if step >= 100 else f"{step} cm"


def _said(layout: SurfaceLayout, system: str) -> list[str]:
    if not layout.across:
        return [f"Not laid out. Missing: {'; '.join(layout.missing)}"]
    said = [f"Along: {layout.across[0].name}. {'Up' if layout.upright else 'Across'}: {layout.up[0].name}."]
    if layout.counted is not None:
        said.append(
            f"{layout.counted.pieces} pieces: {layout.counted.full} full (gray), {layout.counted.cut} cut (shaded)."
        )
    if layout.upright and layout.marks:
        said.append(
            f"First-course line {tape_text(layout.marks[0], system)} above the foot. At the left: tops of courses."
        )
    said.extend(f"{note[:1].upper()}{note[1:]}." for note in layout.notes)
    return said


def _lines(text: str, width: float, size: float) -> list[str]:
    return fold(text, max(8, int(width / (size * 0.53))))
