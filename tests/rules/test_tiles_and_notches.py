"""Ordinary tiles by notches: every tile has a notch that raises nothing above a remark, and notches that are too small are told.

The rows of tile size and notch are the two guides that the trade prints (common practice; no standard fixes a notch by
tile size). Limits: bed after embedding ANSI A108.5 2.2.2 (3/32 in); base under tile of 15 in and more ANSI A108.02 4.2.2
(1/16 in in 24 in); bow of a rectified edge ANSI A137.1 (0.05 in at most).
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest

from speclint.files.plans import load_plan
from speclint.review.report import Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit

WALL = """plan "Larch House, wall"
  answers to       ansi
  stage            design

room "hall shower"
  exposure         wet
  use              shower, residential

assembly "wall" in "hall shower"
  surface          wall "back", 60 in x 96 in
  framing          wood studs at 16 in
  layer            substrate, cement board 1/2 in
  layer            membrane, liquid A118.10, to ceiling
  mortar           A118.15 H T E
  tile             {tile}
  trowel           {notch}, ridges one way, back-butter
  joint            3/16 in, hard spacers
  pattern          stacked
  {more}
"""

TILES = {
    "glass mosaic": "glass, mosaic, mesh, chip 1 in, thick 5/32 in",
    "porcelain mosaic": "porcelain, mosaic, mesh, chip 2 x 2 in, thick 1/4 in",
    "small wall tile": "wall tile, 3 x 6 in, thick 1/4 in, calibrated",
    "hand-made tile": "zellige, 4 x 4 in, thick 3/8 in, hand-made",
    "six by six": "wall tile, 6 x 6 in, thick 5/16 in, calibrated",
    "eight by eight": "porcelain, 8 x 8 in, thick 5/16 in, calibrated",
    "twelve by twelve": "porcelain, 12 x 12 in, thick 5/16 in, calibrated",
    "twelve by twenty-four": "porcelain, 12 x 24 in, thick 3/8 in, rectified",
    "twenty-four by twenty-four": "porcelain, 24 x 24 in, thick 3/8 in, rectified",
    "wood plank": "porcelain, 6 x 36 in, thick 3/8 in, rectified",
    "twenty-four by forty-eight": "porcelain, 24 x 48 in, thick 3/8 in, rectified",
    "marble": "marble, 12 x 12 in, thick 3/8 in, sawn, no resin back",
    "slate": "slate, 16 x 16 in, thick 1/2 in, sawn, no resin back",
}
NOTCHES = (
    "V 3/16 x 5/32 x 1/16 in",
    "V 1/4 x 3/16 x 1/16 in",
    "square 3/16 x 3/16 x 3/16 in",
    "square 1/4 x 1/4 x 1/4 in",
    "square 1/4 x 3/8 x 1/4 in",
    "U 1/4 x 3/8 x 1/4 in",
    "square 3/8 x 3/8 x 3/8 in",
    "square 1/2 x 1/2 x 1/2 in",
    "U 3/4 x 5/8 x 3/8 in",
)
GUIDE = (
    ("glass mosaic", "V 3/16 x 5/32 x 1/16 in"),
    ("porcelain mosaic", "V 3/16 x 5/32 x 1/16 in"),
    ("hand-made tile", "square 1/4 x 1/4 x 1/4 in"),
    ("six by six", "square 1/4 x 1/4 x 1/4 in"),
    ("eight by eight", "square 1/4 x 1/4 x 1/4 in"),
    ("eight by eight", "square 1/4 x 3/8 x 1/4 in"),
    ("twelve by twelve", "square 1/4 x 3/8 x 1/4 in"),
    ("twelve by twelve", "square 3/8 x 3/8 x 3/8 in"),
    ("slate", "square 1/2 x 1/2 x 1/2 in"),
    ("twelve by twenty-four", "square 1/2 x 1/2 x 1/2 in"),
    ("wood plank", "square 1/2 x 1/2 x 1/2 in"),
)
"""Rows that the printed guides give: common practice."""
LARGE = [name for name, tile in TILES.items() if any(side in tile for side in (" 16 in", " 24 in", " 36 in", " 48 in"))]
SMALL = [name for name in TILES if name not in LARGE]
BED = {"bed-thinner-than-the-gap", "notch-leaves-a-thin-bed"}
GAP, DEEP = "bed-thinner-than-the-gap", "notch-deeper-than-the-bed-needs"
HELD = ("", ", blade at 45 deg")


@pytest.fixture(scope="module")
def wall(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Report]:
    """The review of a wall of one tile set with one notch."""
    folder = tmp_path_factory.mktemp("walls")
    kit = shipped_kit()

    @cache
    def reviewed(tile: str, notch: str, more: str = "") -> Report:
        path = folder / "wall.wetspec"
        path.write_text(WALL.format(tile=TILES.get(tile, tile), notch=notch, more=more), encoding="utf-8")
        report = review(load_plan(str(path), kit), kit, Options(as_of="2026-06-01"))
        assert [str(problem) for problem in report.unread] == []
        return report

    return reviewed


def heavy(report: Report) -> set[str]:
    return {finding.rule for finding in report.findings if finding.weight != "remark"}


def failed(report: Report) -> set[str]:
    return {finding.rule for finding in report.findings}


def coming(report: Report) -> set[str]:
    return {rule for one in report.to_come for rule in one.rules}


@pytest.mark.parametrize("held", HELD, ids=["angle assumed", "held at 45"])
@pytest.mark.parametrize("tile", TILES)
def test_every_tile_has_a_notch_that_raises_nothing_above_a_remark(
    tile: str, held: str, wall: Callable[..., Report]
) -> None:
    found = {notch: heavy(wall(tile, notch + held)) for notch in NOTCHES}
    assert set() in found.values(), found


@pytest.mark.parametrize("held", HELD, ids=["angle assumed", "held at 45"])
@pytest.mark.parametrize(("tile", "notch"), GUIDE)
def test_the_notch_of_a_printed_guide_raises_nothing_above_a_remark(
    tile: str, notch: str, held: str, wall: Callable[..., Report]
) -> None:
    assert heavy(wall(tile, notch + held)) == set()


@pytest.mark.parametrize("tile", LARGE)
def test_a_notch_that_leaves_less_than_the_least_bed_fails_under_large_tile(
    tile: str, wall: Callable[..., Report]
) -> None:
    """ANSI A108.5 2.2.2: 3/32 in; a 3/16 in notch with equal teeth leaves that only with the blade upright."""
    assert GAP in heavy(wall(tile, "square 3/16 x 3/16 x 3/16 in"))


@pytest.mark.parametrize("tile", SMALL)
def test_under_small_tile_the_same_notch_is_a_remark(tile: str, wall: Callable[..., Report]) -> None:
    report = wall(tile, "square 3/16 x 3/16 x 3/16 in")
    assert failed(report) & BED == {"notch-leaves-a-thin-bed"}
    assert heavy(report) == set()


@pytest.mark.parametrize(
    ("notch", "ends"),
    [
        ("square 1/4 x 1/4 x 1/4 in", "does not meet"),  # leaves 0.088 in, below the least bed
        ("square 3/8 x 3/8 x 3/8 in", "to come"),  # leaves 0.133 in: enough if the gap is at the ends of the tile
        ("square 1/2 x 1/2 x 1/2 in", "meets"),  # leaves 0.177 in
    ],
)
def test_large_tile_by_hand(notch: str, ends: str, wall: Callable[..., Report]) -> None:
    """Worked by hand: bow 0.05 (ANSI A137.1) and base 1/16 in 24 (ANSI A108.02 4.2.2) make a gap of 0.1125 in, its mean a
    third to two thirds of that; with 3/32 (ANSI A108.5 2.2.2) the bed is 0.131 to 0.169 in. Blade at 45 degrees."""
    tile = "porcelain, 24 x 24 in, thick 3/8 in, rectified, bow 0.05 in"
    report = wall(tile, f"{notch}, blade at 45 deg", "short flatness   1/16 in in 24 in")
    told = "does not meet" if GAP in failed(report) else "to come" if GAP in coming(report) else "meets"
    assert told == ends


def test_a_notch_deeper_than_the_bed_needs_is_a_remark_where_a_smaller_one_would_do(
    wall: Callable[..., Report],
) -> None:
    """Flat tile on a flat base needs 3/32 in (ANSI A108.5 2.2.2), half of what 1/2 in leaves at 45 degrees; the ridge left
    in the joint is then as high as the bed, over a third of the tile (common practice)."""
    tile, flat = "porcelain, 12 x 24 in, thick 3/8 in, rectified, bow 0 in", "short flatness   0 in in 24 in"
    deep = wall(tile, "square 1/2 x 1/2 x 1/2 in, blade at 45 deg", flat)
    assert DEEP in failed(deep)
    assert heavy(deep) == set()
    assert DEEP not in failed(wall(tile, "square 1/4 x 5/16 x 1/4 in, blade at 45 deg", flat))
