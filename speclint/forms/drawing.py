"""A small kit for drawings to scale: plain SVG 1.1 with a title, a description, ids that stay, text as text.

A drawing is made of shapes in millimetres of paper, from its upper left corner. Whoever draws turns sizes of the job
into paper by a ``Scale``. Styles are names, so that light and dark are told once, in the drawing itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from html import escape
from typing import NamedTuple

from speclint.forms.drawing_style import css, hatches
from speclint.forms.safe import safe, width_of

FONT = 3.4
"""Millimetres of paper: read on a telephone whose screen is as wide as the sheet, and in print."""
SHEET = 118.0
"""Millimetres: the widest drawing, so that it stands on A4 and Letter and fills a telephone."""
_WIDE = 0.56
"""Width of a mean letter over the height of the font."""


class Shape(NamedTuple):
    """One shape: ``kind`` is rect, rects, line, circle, path, open or text; figures are millimetres of paper.

    A path is closed and an open one is not; both are told by their corners. Rects are many of one style, as one.
    """

    kind: str
    figures: tuple[float, ...]
    style: str
    text: str = ""
    size: float = FONT
    anchor: str = "start"
    turned: bool = False


class Drawing(NamedTuple):
    """Shapes on a sheet: an id of letters, digits and hyphens, what it shows in a line and in a sentence."""

    id: str
    title: str
    description: str
    width: float
    height: float
    shapes: tuple[Shape, ...]


class Scale(NamedTuple):
    """One to how many, and how people say it; ``paper`` turns metres of the job into millimetres of paper."""

    ratio: Fraction | int
    text: str

    def paper(self, metres: Fraction) -> float:
        """Millimetres on the sheet for metres of the job."""
        return float(metres * 1000 / self.ratio)


_METRIC = (1, 2, 5, 10, 15, 20, 25, 50, 75, 100, 200, 250, 500, 1000, 2000, 5000, 10000, 20000)
_INCH = {
    1: "full size", 2: "half size", 4: "3 in = 1 ft", 8: "1-1/2 in = 1 ft", 12: "1 in = 1 ft", 16: "3/4 in = 1 ft",
    24: "1/2 in = 1 ft", 32: "3/8 in = 1 ft", 48: "1/4 in = 1 ft", 64: "3/16 in = 1 ft", 96: "1/8 in = 1 ft",
    192: "1/16 in = 1 ft", 384: "1/32 in = 1 ft", 1200: "1 in = 100 ft", 6000: "1 in = 500 ft", 12000: "1 in = 1000 ft",
    24000: "1 in = 2000 ft",
}  # fmt: skip


def scale_for(width: Fraction, height: Fraction, across: float, down: float, inch: bool) -> Scale:
    """The largest usual scale at which a face of this size in metres fits into millimetres of paper."""
    ratios = tuple(_INCH) if inch else _METRIC
    fits = (one for one in ratios if float(width * 1000 / one) <= across and float(height * 1000 / one) <= down)
    ratio = next(fits, ratios[-1])
    return Scale(ratio, f"{_INCH[ratio]}, 1:{ratio}" if inch else f"1:{ratio}")


def text_width(text: str, size: float = FONT) -> float:
    """About how many millimetres a text takes."""
    return width_of(text) * size * _WIDE


def svg(drawings: Sequence[Drawing]) -> str:
    """One SVG file; several drawings stand below each other, each a group with its own title."""
    width = max(one.width for one in drawings)
    height = sum(one.height for one in drawings)
    title = drawings[0].title if len(drawings) == 1 else f"{len(drawings)} drawings"
    told = drawings[0].description if len(drawings) == 1 else "; ".join(one.title for one in drawings)
    styles = {shape.style for one in drawings for shape in one.shapes}
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="0 0 {_n(width)} {_n(height)}" role="img" aria-labelledby="title description">\n'
        f'<title id="title">{_t(title)}</title>\n<desc id="description">{_t(told)}</desc>\n'
        f'<style type="text/css">{css()}</style>\n{hatches(styles)}'
        f'<rect class="sheet" width="{_n(width)}" height="{_n(height)}"/>\n'
    ]
    top = 0.0
    for one in drawings:
        parts.append(f'<g id="{_t(one.id)}" transform="translate(0 {_n(top)})">\n<title>{_t(one.title)}</title>\n')
        parts.append(f"{_body(one)}</g>\n")
        top += one.height
    return "".join([*parts, "</svg>\n"])


def inline(drawing: Drawing, mark: str) -> str:
    """A drawing to stand within a page that holds the rules and the hatches; ``mark`` makes its ids its own."""
    width, height = _n(drawing.width), _n(drawing.height)
    return (
        f'<svg viewBox="0 0 {width} {height}" width="{width}mm" height="{height}mm" role="img" '
        f'aria-labelledby="{_t(mark)}-t {_t(mark)}-d"><title id="{_t(mark)}-t">{_t(drawing.title)}</title>'
        f'<desc id="{_t(mark)}-d">{_t(drawing.description)}</desc>{_body(drawing)}</svg>'
    )


def _body(drawing: Drawing) -> str:
    """The shapes of a drawing as SVG, one a line."""
    return "".join(f"{_shape(shape)}\n" for shape in drawing.shapes)


def id_of(words: Iterable[str]) -> str:
    """An id from names: small letters, digits and hyphens."""
    plain = "-".join(words).casefold()
    kept = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in plain)
    return "-".join(part for part in kept.split("-") if part) or "drawing"


def _shape(shape: Shape) -> str:
    figures = [_n(one) for one in shape.figures]
    if shape.kind == "text":
        x, y = figures
        turn = f' transform="rotate(-90 {x} {y})"' if shape.turned else ""
        anchor = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
        place = f'x="{x}" y="{y}" font-size="{_n(shape.size)}"'
        return f'<text class="{shape.style}" {place}{anchor}{turn}>{_t(shape.text)}</text>'
    names = {"rect": ("x", "y", "width", "height"), "line": ("x1", "y1", "x2", "y2"), "circle": ("cx", "cy", "r")}
    if shape.kind == "rects":
        boxes = zip(*(figures[at::4] for at in range(4)), strict=True)
        drawn = "".join(f"M{x} {y}h{wide}v{high}H{x}z" for x, y, wide, high in boxes)
        return f'<path class="{shape.style}" d="{drawn}"/>'
    if shape.kind in ("path", "open"):
        points = " L ".join(f"{x} {y}" for x, y in zip(figures[::2], figures[1::2], strict=True))
        end = " Z" if shape.kind == "path" else ""
        return f'<path class="{shape.style}" d="M {points}{end}"/>'
    told = " ".join(f'{name}="{figure}"' for name, figure in zip(names[shape.kind], figures, strict=True))
    return f'<{shape.kind} class="{shape.style}" {told}/>'


def _n(value: float) -> str:
    """A figure to a hundredth of a millimetre."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"


def _t(text: str) -> str:
    return escape(safe(text), quote=True)
