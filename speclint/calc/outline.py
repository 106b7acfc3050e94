"""Floor outlines by their corner points: area, runs to a drain, mean distance.

An outline is three or more (x, y) corners in metres, in order either way round, without crossing itself.
"""

import math
from itertools import pairwise

from speclint.calc.guard import between, positive
from speclint.calc.units import Metres, SquareMetres
from speclint.kernel.faults import OutOfRange

Point = tuple[Metres, Metres]
Outline = tuple[Point, ...]

_CORNERS = 1000
"""More corners than this is a misread outline, not a floor."""
_SIXTH = 1 / 6
"""From the integral of sec cubed."""
_REACH = 1e3
"""Metres: a corner further off than this was misread."""
_FLAT = 1e-9
"""Metres: a drain this close to the line of a side lies on it."""


def rectangle(length: Metres, width: Metres) -> Outline:
    """Corners of a rectangle from (0, 0), length along x and width along y, in metres.

    Raises OutOfRange for a side that is not above zero.
    """
    positive("length", length=length, width=width)
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def outline_area(outline: Outline) -> SquareMetres:
    """Area in square metres: half the sum of cross products of neighbouring corners, without its sign.

    Raises OutOfRange for fewer than three corners or no area. Source: plane geometry.
    """
    _checked(outline)
    area = abs(sum(_cross(a, b) for a, b in _sides(outline))) / 2
    positive("area", outline_area=area)
    return area


def farthest_corner(outline: Outline, drain: Point) -> Metres:
    """Distance in metres from the drain to the farthest corner, the longest run.

    Raises OutOfRange for a bad outline or a drain that does not see the whole of it. Source: plane geometry.
    """
    _sees_all(outline, drain)
    return max(math.dist(corner, drain) for corner in outline)


def nearest_side(outline: Outline, drain: Point) -> Metres:
    """Distance in metres from the drain to the nearest point of the outline, the shortest run; 0 on a side.

    Raises OutOfRange for a bad outline or a drain that does not see the whole of it. Source: plane geometry.
    """
    _sees_all(outline, drain)
    return min(_distance_to_side(drain, a, b) for a, b in _sides(outline))


def mean_distance(outline: Outline, drain: Point) -> Metres:
    """Mean distance in metres from the drain, taken over the whole area.

    Each side makes a triangle with the drain, split at the foot of its height h into two right triangles;
    each gives h cubed over 6 times (sec q tan q + ln(sec q + tan q)), tan q being its leg over h. The sum is
    divided by the area. Raises OutOfRange for a bad outline or a drain that does not see the whole of it.
    Source: integral of the radius over a right triangle, derived.
    """
    area = outline_area(outline)
    _sees_all(outline, drain)
    return sum(_radius_integral(drain, a, b) for a, b in _sides(outline)) / area


def area_in_box(outline: Outline, corner: Point, across: Metres, along: Metres) -> SquareMetres:
    """Area in square metres that an outline has in common with an upright box: its lowest corner and its two sides.

    The outline is cut along each side of the box in turn; the edges that run to and fro on a side of the box enclose
    nothing. Raises OutOfRange for a bad outline or box. Source: plane geometry, a polygon clipped by half planes.
    """
    _checked(outline)
    positive("length", box_across=across, box_along=along)
    kept = list(outline)
    for axis, (least, size) in enumerate(zip(corner, (across, along), strict=True)):
        kept = _kept(_kept(kept, axis, least, 1), axis, least + size, -1)
    return abs(sum(_cross(a, b) for a, b in pairwise((*kept, *kept[:1])))) / 2


def _kept(corners: list[Point], axis: int, limit: float, way: int) -> list[Point]:
    """What lies above (``way`` 1) or below (-1) a limit along one axis."""
    found: list[Point] = []
    for a, b in pairwise((*corners[-1:], *corners)):
        above_a, above_b = way * (a[axis] - limit), way * (b[axis] - limit)
        if above_a * above_b < 0:
            share = above_a / (above_a - above_b)
            found.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        if above_b >= 0:
            found.append(b)
    return found


def _checked(outline: Outline) -> None:
    between("count", 1 + 2, _CORNERS, corners_of_the_outline=len(outline))
    for x, y in outline:
        between("length", -_REACH, _REACH, corner_x=x, corner_y=y)


def _sides(outline: Outline) -> list[tuple[Point, Point]]:
    return list(pairwise((*outline, outline[0])))


def _cross(a: Point, b: Point) -> float:
    return a[0] * b[1] - a[1] * b[0]


def _from(drain: Point, corner: Point) -> Point:
    return (corner[0] - drain[0], corner[1] - drain[1])


def _sees_all(outline: Outline, drain: Point) -> None:
    """Refuse a drain outside the outline or behind a corner: a straight ray must reach every side."""
    outline_area(outline)
    between("length", -_REACH, _REACH, drain_x=drain[0], drain_y=drain[1])
    turn = math.copysign(1, sum(_cross(a, b) for a, b in _sides(outline)))
    around = 0.0
    for a, b in _sides(outline):
        to_a, to_b = _from(drain, a), _from(drain, b)
        cross = turn * _cross(to_a, to_b)
        around += math.atan2(max(0.0, cross), to_a[0] * to_b[0] + to_a[1] * to_b[1])
        if cross < -_FLAT * math.dist(a, b) or around > 2 * math.pi + _FLAT:
            raise OutOfRange(
                f"drain is at ({drain[0]:g}, {drain[1]:g}) m; it must lie in the outline and see every side"
            )


def _distance_to_side(drain: Point, a: Point, b: Point) -> float:
    to_a, along = _from(drain, a), _from(a, b)
    square = along[0] ** 2 + along[1] ** 2
    if square == 0:
        return math.hypot(*to_a)
    share = min(1.0, max(0.0, -(to_a[0] * along[0] + to_a[1] * along[1]) / square))
    return math.hypot(to_a[0] + share * along[0], to_a[1] + share * along[1])


def _radius_integral(drain: Point, a: Point, b: Point) -> float:
    to_a, to_b, side = _from(drain, a), _from(drain, b), math.dist(a, b)
    height = abs(_cross(to_a, to_b)) / side if side else 0.0
    if height <= _FLAT:
        return 0.0
    along = ((b[0] - a[0]) / side, (b[1] - a[1]) / side)
    leg_a, leg_b = (to[0] * along[0] + to[1] * along[1] for to in (to_a, to_b))
    return _right_triangle(height, leg_b) - _right_triangle(height, leg_a)


def _right_triangle(height: float, leg: float) -> float:
    tangent = leg / height
    secant = math.hypot(1, tangent)
    return height**3 * _SIXTH * (secant * tangent + math.asinh(tangent))
