"""Every piece on a face, what the openings take, and how many tiles it all comes from."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.calc.order import cuts_from_tile
from speclint.works.corners import si_figure
from speclint.works.runs import Run

MOST = 20_000
"""More pieces than this on one face are counted by courses and not drawn one by one."""


class Box(NamedTuple):
    """A rectangle on a face in metres, from the left end and from the foot."""

    left: Fraction
    foot: Fraction
    width: Fraction
    height: Fraction

    def covers(self, other: Box) -> bool:
        """Whether another lies wholly within this one."""
        return (
            self.left <= other.left
            and self.foot <= other.foot
            and self.left + self.width >= other.left + other.width
            and self.foot + self.height >= other.foot + other.height
        )

    def meets(self, other: Box) -> bool:
        """Whether another shares more than an edge with this one."""
        across = self.left < other.left + other.width and other.left < self.left + self.width
        return across and self.foot < other.foot + other.height and other.foot < self.foot + self.height


class Piece(NamedTuple):
    """One piece: its course from the foot and its number in it, from 1, its box, and why it is cut, if it is."""

    course: int
    number: int
    box: Box
    cut: str


class Count(NamedTuple):
    """Pieces of a face: all, full ones, cut ones, and the tiles they come from, least and most."""

    pieces: int
    full: int
    cut: int
    least: int
    most: int


def lay(runs: tuple[Run, ...], up: Run, openings: tuple[Box, ...]) -> tuple[Piece, ...]:
    """Every piece that stays; none where there are too many to list."""
    rows = [run.pieces() for run in runs]
    courses = up.pieces()
    if sum(len(rows[at % len(rows)]) for at in range(len(courses))) > MOST:
        return ()
    found = []
    for course, (foot, height) in enumerate(courses):
        run, row = runs[course % len(runs)], rows[course % len(rows)]
        for number, (left, width) in enumerate(row):
            box = Box(left, foot, width, height)
            if not any(opening.covers(box) for opening in openings):
                whole = width == run.tile and height == up.tile
                around = any(opening.meets(box) for opening in openings)
                cut = "around an opening" if around else "" if whole else "to size"
                found.append(Piece(course + 1, number + 1, box, cut))
    return tuple(found)


def count(runs: tuple[Run, ...], up: Run, pieces: tuple[Piece, ...], kerf: Fraction) -> Count:
    """How many tiles the pieces come from: at most one each, at least what two cuts from one tile save.

    Both cuts keep a factory edge, so no tile gives more than two along one side. What an opening takes is taken from
    both figures, and no figure is below the area of the pieces.
    """
    heights = up.lengths()
    every = sum(len(runs[at % len(runs)].lengths()) for at in range(len(heights)))
    full_rows = range(len(heights))
    needs = [_tiles(runs[at % len(runs)], kerf) for at in full_rows]
    least = sum(needs)
    cuts = up.cuts()
    if len(cuts) == 2 and _pairs(cuts, up.tile, kerf):
        least -= (needs[0] + needs[-1]) // 2
    taken = every - len(pieces) if pieces else 0
    area = sum(piece.box.width * piece.box.height for piece in pieces)
    floor = -int(-area // (runs[0].tile * up.tile))
    kept = every - taken
    full = sum(not piece.cut for piece in pieces) if pieces else _full(runs, up)
    return Count(kept, full, kept - full, min(kept, max(least - taken, floor)), kept)


def strips(
    across: Fraction, along: Fraction, many: int, tile: tuple[Fraction, Fraction], joint: Fraction
) -> tuple[int, int]:
    """Tiles for a number of equal small faces such as niche sides: by their area, and with a tile to every piece."""
    pieces = many * min(_ways(across, along, tile, joint), _ways(along, across, tile, joint))
    return min(pieces, -int(-(many * across * along) // (tile[0] * tile[1]))), pieces


def _ways(across: Fraction, along: Fraction, tile: tuple[Fraction, Fraction], joint: Fraction) -> int:
    columns, rows = (-int(-(side + joint) // (edge + joint)) for side, edge in zip((across, along), tile, strict=True))
    return columns * rows


def _tiles(run: Run, kerf: Fraction) -> int:
    cuts = run.cuts()
    number = len(run.lengths())
    return number - 1 if len(cuts) == 2 and _pairs(cuts, run.tile, kerf) else number


def _pairs(cuts: tuple[Fraction, ...], tile: Fraction, kerf: Fraction) -> bool:
    """Whether two cuts come from one tile; two that differ take half each of what they need together."""
    middle = sum(cuts, Fraction(0)) / 2
    return cuts_from_tile(si_figure(middle), si_figure(tile), si_figure(kerf)) == 2


def _full(runs: tuple[Run, ...], up: Run) -> int:
    heights = up.lengths()
    return sum(
        sum(piece == runs[at % len(runs)].tile for piece in runs[at % len(runs)].lengths())
        for at, height in enumerate(heights)
        if height == up.tile
    )
