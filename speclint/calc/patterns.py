"""Pieces of patterns that do not lie in straight courses: what one takes, how far it reaches, how many a face meets."""

from math import sqrt

from speclint.calc.guard import not_negative, positive, whole_up
from speclint.calc.units import Count, Metres, SquareMetres


def hexagon_module(across: Metres, joint: Metres) -> SquareMetres:
    """Area in square metres that one hexagon takes with its joint: root 3 over 2 times flats and joint squared.

    Raises OutOfRange for no size or a negative joint. Source: plane geometry.
    """
    positive("length", across=across)
    not_negative("length", joint=joint)
    return sqrt(1 + 2) / 2 * (across + joint) ** 2


def turned_extent(length: Metres, width: Metres) -> Metres:
    """How far a tile turned by half a right angle reaches along an edge, in metres: both sides over root 2.

    Raises OutOfRange for no side. Source: plane geometry.
    """
    positive("length", length=length, width=width)
    return (length + width) / sqrt(2)


def pieces_met(area: SquareMetres, edges: Metres, module: SquareMetres, extent: Metres) -> Count:
    """Pieces of a face on the average of all places where its pattern may start, rounded up.

    Area A, edges P, one module M that reaches E along an edge: (A + P E / 2 + M) / M, exact for a rectangle. Raises
    OutOfRange for no area, edges, module or extent. Source: area of the sum of two convex bodies, derived.
    """
    positive("area", area=area, module=module)
    positive("length", edges=edges, extent=extent)
    return whole_up((area + edges * extent / 2 + module) / module)
