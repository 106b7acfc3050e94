"""Layouts against published rules and worked rows, openings, and absurd input."""

from __future__ import annotations

from fractions import Fraction

import pytest

from speclint.review.kit import Kit
from speclint.works.layout import SurfaceLayout
from tests.works.jobs import IN, job, laid

TILE = "tile porcelain, nominal 12 x 12 in, actual 12 x 12 in, thick 3/8 in, rectified"


def wall(kit: Kit, size: str, *more: str, tile: str = TILE, joint: str = "1/8 in") -> SurfaceLayout:
    lines = (f'surface wall "back", {size}', tile, f"joint {joint}", "pattern stacked", *more)
    return laid(job(*lines), kit)[0]


def inches(value: Fraction) -> float:
    return round(float(value / IN), 3)


@pytest.mark.parametrize(
    ("width", "name", "full", "cut"),
    [
        # worked rows of a field of 95-1/2 and 59-1/2 in with 12 in tile and 1/8 in joints; a published rule of the trade
        # press (whole part of field over module odd: center a joint, even: a tile) gives the same choice
        ("95.75 in", "joint on the center line", 6, 11.312),
        ("59.75 in", "tile on the center line", 3, 11.5),
    ],
)
def test_the_better_centre(kit: Kit, width: str, name: str, full: int, cut: float) -> None:
    way = wall(kit, f"{width} x 60 in").across[0]
    assert (way.name, way.runs[0].full) == (name, full)
    assert inches(way.least) == pytest.approx(cut, abs=0.001)
    assert "no cut under half a tile" in way.because


def test_story_pole(kit: Kit) -> None:
    # joint 1/8 at the foot, then 12 in and 1/8 in by turns: 12-1/8, 24-1/4, 36-3/8, 48-1/2; the fifth is cut at 56
    found = wall(kit, "60 in x 56 in")
    assert [inches(mark) for mark in found.marks] == [12.125, 24.25, 36.375, 48.5, 56]
    assert found.up[0].name == "full tile at the foot" and inches(found.up[0].least) == 7.375


def test_a_sliver_at_the_top_moves_the_first_course(kit: Kit) -> None:
    # from a full tile at the foot 2 in would be left at the top of 50-1/2: both ends alike instead
    found = wall(kit, "60 in x 50.5 in")
    assert found.up[0].name.startswith("both ends alike")
    assert found.up[0].runs[0].first == found.up[0].runs[0].last >= 6 * IN


def test_joints_take_up_a_near_count(kit: Kit) -> None:
    # trade press on adjusting layout to avoid small cuts: 16 joints widened from 1/8 to 3/16 in take up 1 in.
    # 17 tiles of 12 and 16 joints of 1/8 are 206 in; a wall of 207-1/4 has 207 between end joints of 1/8
    found = wall(kit, "207.25 in x 60 in")
    (way,) = [one for one in found.across if one.asks]
    assert inches(way.runs[0].joint) == 0.188 and way.runs[0].full == 17
    assert "the designer agrees first" in " ".join(way.because)
    assert found.across[0] is not way


def test_joints_keep_within_a_stated_tolerance(kit: Kit) -> None:
    found = wall(kit, "207.25 in x 60 in", joint="1/8 in, tolerance 1/64 in")
    assert not [one for one in found.across if one.asks]


def test_a_third_offset_has_three_rows(kit: Kit) -> None:
    found = laid(
        job(
            'surface wall "back", 96 in x 60 in',
            TILE.replace("12 x 12", "12 x 24"),
            "joint 1/8 in",
            "pattern running bond 33%",
        ),
        kit,
    )[0]
    runs = found.across[0].runs
    assert len(runs) == 3
    module = runs[0].tile + runs[0].joint
    starts = [run.first + run.first_gap - IN / 8 for run in runs]
    assert {(start - starts[0]) % module for start in starts} == {module * third / 3 for third in range(3)}


NICHE = (
    'part "niche" of "walls"\n  kind niche, 12 in x 24 in, deep 4 in\n  place wall "back", from left {left}, up {up}\n'
)


def test_what_the_tile_keeps_round_a_niche(kit: Kit) -> None:
    text = job('surface wall "back", 60 in x 84 in', TILE, "joint 1/8 in", "pattern stacked") + NICHE.format(
        left="20 in", up="40 in"
    )
    found = laid(text, kit)[0]
    (opening,) = found.openings
    run = found.across[0].runs[0]
    before = max(start for start, _ in run.pieces() if start < 20 * IN)
    assert opening.around.left == 20 * IN - before
    course = max(foot for foot, _ in found.up[0].runs[0].pieces() if foot < 40 * IN)
    assert opening.around.below == 40 * IN - course
    assert any(piece.cut == "around an opening" for piece in found.pieces)
    assert not any(opening.box.covers(piece.box) for piece in found.pieces)


def test_whole_pieces_within_a_window_are_not_laid(kit: Kit) -> None:
    plain = wall(kit, "60 in x 84 in")
    text = job('surface wall "back", 60 in x 84 in', TILE, "joint 1/8 in", "pattern stacked")
    text += 'part "window" of "walls"\n  kind window, 36 in x 36 in, deep 4 in\n  place wall "back", from left 12 in, up 36 in\n'
    found = laid(text, kit)[0]
    assert plain.counted and found.counted and len(found.pieces) < len(plain.pieces)
    assert found.counted.most == len(found.pieces)


def test_an_opening_without_a_place_is_told(kit: Kit) -> None:
    text = job('surface wall "back", 60 in x 84 in', TILE, "joint 1/8 in", "pattern stacked")
    text += 'part "niche" of "walls"\n  kind niche, 12 in x 24 in, deep 4 in\n  place wall "back"\n'
    found = laid(text, kit)[0]
    assert any("niche is not placed" in note for note in found.notes)


def test_a_valve_is_found_in_its_piece(kit: Kit) -> None:
    found = wall(kit, "60 in x 84 in", 'penetration valve, on "back", from left 20 in, up 44 in, size 4 in')
    (hole,) = found.fittings
    piece = next(one for one in found.pieces if (one.course, one.number) == (hole.course, hole.number))
    assert piece.box.left + hole.in_left == 20 * IN and piece.box.foot + hole.in_foot == 44 * IN


def test_a_nominal_size_says_measure_five_tiles(kit: Kit) -> None:
    nominal = wall(kit, "60 in x 84 in", tile="tile porcelain, 12 x 24 in, thick 3/8 in")
    assert "measure five tiles" in nominal.notes[0]
    assert not any("five tiles" in note for note in wall(kit, "60 in x 84 in").notes)


@pytest.mark.parametrize(
    ("size", "tile", "joint", "told"),
    [
        ("10000 m x 3 m", TILE, "1/8 in", "misread"),
        ("0 in x 84 in", TILE, "1/8 in", "misread"),
        ("60 in x 84 in", "tile porcelain, actual 0 x 12 in", "1/8 in", "size of one tile is nothing"),
        ("60 in x 84 in", "tile porcelain, actual 1 x 1 in", "2 in", "wider than the tile"),
        ("60 in x 84 in", "tile porcelain", "1/8 in", "size of one tile"),
        ("60 in x 84 in", "tile porcelain, hexagon, actual 8 x 8 in", "1/8 in", "four sides"),
        ("900 m x 3 m", "tile porcelain, actual 1 x 1 mm", "0 in", "at most"),
    ],
)
def test_absurd_input_is_told_and_never_nothing(kit: Kit, size: str, tile: str, joint: str, told: str) -> None:
    found = wall(kit, size, tile=tile, joint=joint)
    assert not found.across and found.counted is None
    assert told in "; ".join(found.missing)


def test_a_tile_larger_than_the_wall(kit: Kit) -> None:
    found = wall(kit, "10 in x 8 in")
    assert found.counted == (1, 0, 1, 1, 1)
    assert any("every piece is cut" in reason for reason in found.across[0].because)


def test_many_pieces_are_counted_and_not_listed(kit: Kit) -> None:
    found = wall(kit, "100 m x 3 m", tile="tile porcelain, actual 25 x 25 mm", joint="2 mm")
    assert not found.pieces and found.counted and found.counted.most > 400_000
    assert any("too many pieces" in note for note in found.notes)
