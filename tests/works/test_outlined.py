"""Faces told by their corners: worked by hand, and texts that enclose nothing."""

from __future__ import annotations

import pytest

from speclint.forms.layout_drawing import elevation
from speclint.forms.measures import INCH
from speclint.review.kit import Kit
from speclint.works.layout import SurfaceLayout
from speclint.works.tile_lines import OR_BY_AREA
from tests.works.jobs import FOOT, IN, job, laid, line_of, taken

TILE = (
    "tile porcelain, nominal 6 x 6 in, actual 5-7/8 x 5-7/8 in, thick 1/4 in",
    "joint 1/8 in",
    "pattern stacked",
    "grout A118.7",
)
NEO = "0 x 0 to 60 x 0 to 60 x 18 to 42 x 36 to 0 x 36 in"


def floor(outline: str, sort: str = "floor") -> str:
    return job(f"surface {sort}, outline {outline}", *TILE)


def area(outline: str, kit: Kit) -> float | None:
    net = line_of(taken(floor(outline), kit), OR_BY_AREA).net
    return float(net.low) / FOOT**2 if net is not None else None


@pytest.mark.parametrize(
    ("outline", "square_feet"),
    [
        # 60 x 36 in is 15 sq ft; a corner of 18 x 18 in cut off by half takes 324 / 2 / 144 = 1.125
        (NEO, 13.875),
        # the same from another corner and the other way round, and with its first corner told again
        ("42 x 36 to 60 x 18 to 60 x 0 to 0 x 0 to 0 x 36 to 42 x 36 in", 13.875),
        # counted from the drain in the middle
        ("-30 x -18 to 30 x -18 to 30 x 0 to 12 x 18 to -30 x 18 in", 13.875),
        # an L of 60 x 36 in without 24 x 12 in, 2 sq ft; commas stand within quotes
        ('"0 x 0, 60 x 0, 60 x 24, 36 x 24, 36 x 36, 0 x 36 in"', 13),
        # 1500 x 900 mm is 1.35 m2, 14.531 sq ft
        ("0 x 0 to 1500 x 0 to 1500 x 900 to 0 x 900 mm", 1.35 / FOOT**2),
    ],
)
def test_the_area_is_that_of_the_corners(kit: Kit, outline: str, square_feet: float) -> None:
    assert area(outline, kit) == pytest.approx(square_feet)


def test_pieces_outside_are_left_out_and_those_across_are_cut(kit: Kit) -> None:
    # modules of 6 in: 10 x 6 over the extent. The corner cut off holds 3 x 3 places: 3 lie beyond the slant, the 3 on
    # it are cut, 3 lie inside; the ends of every row and the first and last course are cut by 1/16 in at the edges
    found: SurfaceLayout = laid(floor(NEO), kit)[0]
    assert (found.width, found.height) == (60 * IN, 36 * IN)
    assert len(found.pieces) == 60 - 3
    slant = [piece for piece in found.pieces if piece.course + piece.number > 13]
    assert {(piece.course, piece.number) for piece in slant} == {(4, 10), (5, 9), (6, 8)}
    assert all(piece.cut for piece in slant)
    inner = [piece for piece in found.pieces if piece.cut == "along the outline"]
    assert [(piece.course, piece.number) for piece in inner] == [(5, 9)]
    assert any("outside the outline" in note for note in found.notes)
    assert elevation(found, INCH).shapes[-1].kind == "text" and len(found.corners) == 5
    (edge,) = [shape for shape in elevation(found, INCH).shapes if shape.kind == "open"]
    assert len(edge.figures) == 2 * (5 + 1)


def test_a_rectangle_by_corners_is_the_rectangle_by_its_sides(kit: Kit) -> None:
    told, drawn = (
        laid(job(f"surface floor, {size}", *TILE), kit)[0]
        for size in ("60 x 36 in", "outline 60 x 36 to 0 x 36 to 0 x 0 to 60 x 0 in")
    )
    assert told == drawn


@pytest.mark.parametrize(
    ("outline", "said"),
    [
        ("0 x 0 to 60 x 0 in", "write every corner"),
        ("0 x 0 to 60 x 0 to 60 x 36", "write every corner"),
        ("0 x 0 to 60 to 60 x 36 in", "write every corner"),
        ("as drawn", "write every corner"),
        ("0 x 0 to 60 x 0 to 60 x 36 to 0 x 36 gal", "write every corner"),
        (f"{' to '.join('1 x 1' for _ in range(500))} in", "write every corner"),
        ("0 x 0 to 60 x 36 to 60 x 0 to 0 x 36 in", "crosses itself"),
        ("0 x 0 to 60 x 0 to 30 x 0 in", "encloses nothing"),
        ("0 x 0 to 9000000 x 0 to 9000000 x 36 in", "was misread"),
    ],
)
def test_what_is_no_outline_is_named_with_the_way_to_write_it(kit: Kit, outline: str, said: str) -> None:
    line = line_of(taken(floor(outline), kit), OR_BY_AREA)
    assert line.net is None and said in " ".join(line.missing)


def test_a_wall_whose_tile_ends_below_the_top_of_its_outline_is_not_guessed(kit: Kit) -> None:
    found = taken(job(f"surface wall, outline {NEO}", *TILE, "finish height 30 in above floor"), kit)
    line = line_of(found, OR_BY_AREA)
    assert line.net is None and "as high as its tile goes" in " ".join(line.missing)
