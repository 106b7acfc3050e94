"""A face told by its corners: ``outline 0 x 0 to 60 x 0 to 60 x 36 to 0 x 36 in``."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise
from typing import NamedTuple

from speclint.calc.outline import Outline, area_in_box
from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.language.lexer import scan_line
from speclint.plan.figures import read_quantity
from speclint.plan.row import Row, pieces_of, row_of
from speclint.works.corners import si_figure
from speclint.works.pieces import Box, Piece
from speclint.works.reading import LONGEST, Reader

HOW = "write every corner in its order and the unit once: outline 0 x 0 to 60 x 0 to 60 x 36 to 0 x 36 in"
MOST = 100
"""More corners than this is a misread outline, not a face."""
_NEXT_TO_NOTHING = Fraction(1, 10**6)
"""Share of a piece below which it is outside the outline; a float cannot tell a shared edge better."""

Corner = tuple[Fraction, Fraction]


class Outlined(NamedTuple):
    """Corners in metres from the lowest left of all, and the width, height and area of what they enclose."""

    corners: tuple[Corner, ...]
    width: Fraction
    height: Fraction
    area: Fraction

    @property
    def plain(self) -> bool:
        """Whether it is a rectangle along both sides."""
        return self.area == self.width * self.height


def outlined(reader: Reader, surface: Subject, name: str, missing: list[str]) -> Outlined | None:
    """The outline of a surface; None where none is told, or where it does not enclose a face, which is then named."""
    told = surface.own.get("surface.outline")
    if not isinstance(told, Known):
        return None
    corners = _corners(reader, str(told.value))
    if corners is None or not 2 < len(corners) <= MOST:
        missing.append(f"corners of {name}: {HOW}")
        return None
    left, foot = (min(corner[axis] for corner in corners) for axis in (0, 1))
    width, height = (max(corner[axis] for corner in corners) - least for axis, least in enumerate((left, foot)))
    area = abs(sum((_turn((left, foot), a, b) for a, b in _sides(corners)), Fraction(0))) / 2
    if max(width, height) > LONGEST or not area or _crossed(corners):
        missing.append(f"a true outline of {name}: it crosses itself, encloses nothing or was misread")
        return None
    return Outlined(tuple((x - left, y - foot) for x, y in corners), width, height, area)


def within(found: Outlined, pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The pieces that have a share in an outline; one that reaches out of it is cut."""
    shape: Outline = tuple((si_figure(x), si_figure(y)) for x, y in found.corners)
    kept = []
    for piece in pieces:
        share = _share(shape, piece.box)
        if share > _NEXT_TO_NOTHING:
            whole = share > 1 - _NEXT_TO_NOTHING
            kept.append(piece if whole or piece.cut else piece._replace(cut="along the outline"))
    return tuple(kept)


def _share(shape: Outline, box: Box) -> Fraction:
    left, foot, width, height = map(si_figure, box)
    return Fraction(area_in_box(shape, (left, foot), width, height)) / (box.width * box.height)


def _corners(reader: Reader, text: str) -> tuple[Corner, ...] | None:
    plain = text.replace(",", " to ").replace(";", " to ")
    row = row_of(tuple(scan_line(plain, 1).tokens), plain, "", 1)
    found = [_corner(reader, piece) for piece in pieces_of(row, "to")] if row.norms else []
    corners = [corner for corner in found if corner is not None]
    if len(corners) < len(found):
        return None
    return tuple(corners[:-1] if len(corners) > 1 and corners[0] == corners[-1] else corners)


def _corner(reader: Reader, row: Row) -> Corner | None:
    """Both figures of ``60 x 36 in`` in metres, the unit of the second taken for the first too."""
    words = reader.catalogue.words
    first = read_quantity(row, 0, "length", words, lambda _: None)
    if first is None or row.norms[first[1] : first[1] + 1] != ("x",):
        return None
    second = read_quantity(row, first[1] + 1, "length", words, lambda _: None)
    if second is None or second[1] < len(row.norms):
        return None
    x, y = (reader.in_si(one[0], "surface.told-across") for one in (first, second))
    return (x.low, y.low) if x is not None and y is not None and x.exact and y.exact else None


def _sides(corners: tuple[Corner, ...]) -> list[tuple[Corner, Corner]]:
    return list(pairwise((*corners, corners[0])))


def _turn(at: Corner, a: Corner, b: Corner) -> Fraction:
    """Twice the area of a triangle, positive where its corners turn left."""
    return (a[0] - at[0]) * (b[1] - at[1]) - (a[1] - at[1]) * (b[0] - at[0])


def _crossed(corners: tuple[Corner, ...]) -> bool:
    """Whether two sides cross within both."""
    return any(
        _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0
        for (a, b), (c, d) in combinations(_sides(corners), 2)
    )
