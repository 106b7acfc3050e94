"""Openings and fittings in the tile: what the pieces beside them keep, and where holes are bored."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.kernel.values import Known
from speclint.works.faces import Face
from speclint.works.parts import Hole
from speclint.works.pieces import Box
from speclint.works.reading import Reach, Reader, word
from speclint.works.runs import Run


class Around(NamedTuple):
    """What the tile keeps at each side of an opening, in metres; 0 where a joint falls on the edge or there is none.

    ``left`` and ``right`` are the least of all rows beside it. ``small`` names the sides with less than the least cut.
    """

    left: Fraction
    right: Fraction
    below: Fraction
    above: Fraction
    small: tuple[str, ...]


class Fitting(NamedTuple):
    """A pipe or fitting that goes through the tile: in which piece, and how far from its left and lower edge."""

    name: str
    left: Fraction
    up: Fraction
    size: Fraction
    course: int
    number: int
    in_left: Fraction
    in_foot: Fraction


def placed(face: Face, width: Fraction) -> tuple[tuple[tuple[Hole, Box], ...], tuple[Hole, ...]]:
    """The openings whose size and place are known, each with its box; and those that are not placed."""
    found: list[tuple[Hole, Box]] = []
    loose: list[Hole] = []
    for hole in face.holes:
        box = _box(hole, width, face.foot)
        if box is not None:
            found.append((hole, box))
        elif not hole.optional:
            loose.append(hole)
    return tuple(found), tuple(loose)


def _box(hole: Hole, width: Fraction, foot: Reach | None) -> Box | None:
    wide = hole.width.low if hole.width is not None else width if hole.kind in ("band", "zone") else None
    left = hole.left.low if hole.left is not None else Fraction(0) if wide == width else None
    if wide is None or left is None or hole.height is None or hole.up is None or foot is None:
        return None
    return Box(left, hole.up.low - foot.low, wide, hole.height.low)


def around(box: Box, runs: tuple[Run, ...], up: Run, share: Fraction) -> Around:
    """What the pieces round an opening keep."""
    rows = [
        runs[at % len(runs)]
        for at, (foot, high) in enumerate(up.pieces())
        if foot < box.foot + box.height and foot + high > box.foot
    ]
    tile, high = runs[0].tile, up.tile
    left = min((_kept(run, box.left, "before") for run in rows), default=Fraction(0))
    right = min((_kept(run, box.left + box.width, "after") for run in rows), default=Fraction(0))
    below, above = _kept(up, box.foot, "before"), _kept(up, box.foot + box.height, "after")
    sides = (("left", left, tile), ("right", right, tile), ("below", below, high), ("above", above, high))
    return Around(left, right, below, above, tuple(name for name, kept, of in sides if 0 < kept < share * of))


def _kept(run: Run, at: Fraction, side: str) -> Fraction:
    """What a piece crossed by a line keeps on one side of it; nothing where the line falls on a joint or an edge."""
    for start, length in run.pieces():
        if start < at < start + length:
            return at - start if side == "before" else start + length - at
    return Fraction(0)


def fittings_of(reader: Reader, face: Face, runs: tuple[Run, ...], up: Run) -> tuple[Fitting, ...]:
    """The fittings in a face whose place is told."""
    found: list[Fitting] = []
    for item in face.section.members("penetrations") or ():
        told = item.own.get("penetration.surface")
        name = face.surface.own.get("surface.name") if face.surface is not None else None
        if not (isinstance(told, Known) and isinstance(name, Known)):
            continue
        if str(told.value).casefold() != str(name.value).casefold():
            continue
        left, rise = reader.reach(item, "penetration.from-left"), reader.reach(item, "penetration.up")
        if left is not None and rise is not None and face.foot is not None:
            rise = rise.plus(face.foot.scaled(-1))
            size = reader.reach(item, "penetration.size")
            name_told = word(item, "penetration.kind") or item.name
            spot = _spot(runs, up, left.low, rise.low)
            found.append(Fitting(name_told, left.low, rise.low, size.low if size else Fraction(0), *spot))
    return tuple(found)


def _spot(runs: tuple[Run, ...], up: Run, left: Fraction, rise: Fraction) -> tuple[int, int, Fraction, Fraction]:
    """Course and number of the piece at a point, from 1, and how far into it; noughts where it falls in a joint."""
    for course, (foot, high) in enumerate(up.pieces()):
        if foot <= rise < foot + high:
            for number, (start, length) in enumerate(runs[course % len(runs)].pieces()):
                if start <= left < start + length:
                    return course + 1, number + 1, left - start, rise - foot
            return course + 1, 0, Fraction(0), rise - foot
    return 0, 0, Fraction(0), Fraction(0)
