"""Pieces of a face whose tile does not lie in straight courses: an estimate by its area and its edges."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from speclint.calc.patterns import hexagon_module, pieces_met, turned_extent
from speclint.facts.subject import Subject
from speclint.kernel.faults import OutOfRange
from speclint.works.corners import si_figure
from speclint.works.faces import Face
from speclint.works.reading import Reader, words

_TURNED = frozenset({"diagonal", "herringbone", "chevron", "basketweave", "random offset"})


class Module(NamedTuple):
    """What one tile takes with its joint, in square metres, and how far it reaches along an edge, in metres."""

    area: Fraction
    extent: Fraction


def module_of(reader: Reader, section: Subject) -> Module | None:
    """The module of a turned or hexagonal pattern; None for other patterns, or where its sizes are not told."""
    hexagons = "hexagon" in words(section, "tile.shape") or "hexagon field" in words(section, "pattern.kind")
    if not hexagons and not words(section, "pattern.kind") & _TURNED:
        return None
    told = [reader.reach(section, fact) for fact in ("tile.a", "tile.b", "joint.width")]
    first, second, joint = (one.low if one is not None and one.exact else None for one in told)
    if first is None or joint is None or (not hexagons and second is None) or min(first, second or first) <= joint:
        return None
    if hexagons:
        across = min(first, second or first)
        area = Fraction(hexagon_module(si_figure(across), si_figure(joint)))
        return Module(area, area * 4 / 3 / (across + joint))
    assert second is not None
    sides = (first + joint, second + joint)
    return Module(sides[0] * sides[1], Fraction(turned_extent(*map(si_figure, sides))))


def estimated(face: Face, module: Module, missing: list[str]) -> tuple[int, int] | None:
    """Least and most pieces of a face: by its area alone, and with a whole tile for all that an edge crosses.

    None where the face is not known, or is too large for its tile, which is then named.
    """
    if face.area is None:
        return None
    if face.takes:
        return -int(-face.area.low // module.area), 0
    edges = _edges(face)
    if edges is None or face.area.low <= 0:
        return None
    figures = (face.area.high, edges, module.area, module.extent)
    try:
        return -int(-face.area.low // module.area), pieces_met(*map(si_figure, figures))
    except OutOfRange as fault:
        missing.append(f"a true size of {face.name} and its tile: {fault}")
        return None


def _edges(face: Face) -> Fraction | None:
    """How long the edges of a face are at most, those of its openings with them."""
    if face.width is None or face.height is None:
        return None
    edges = 2 * face.many * (face.width.high + face.height.high)
    if face.outline is not None:
        corners = face.outline.corners
        sides = pairwise((*corners, corners[0]))
        edges = sum((abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in sides), Fraction(0))
    for hole in face.holes:
        edges += 2 * ((hole.width or face.width).high + (hole.height or face.height).high)
    return edges
