"""What is not told is named in the line that needs it, never hidden and never taken for nothing."""

from __future__ import annotations

import pytest

from speclint.review.kit import Kit
from speclint.works.lines import Takeoff
from tests.works.jobs import FOOT, job, line_of, taken

LINES = {
    "surface": 'surface wall "back", 60 in x 84 in',
    "tile": "tile porcelain, 12 x 24 in, thick 3/8 in, rectified",
    "mortar": "mortar A118.15",
    "trowel": "trowel square 1/2 x 1/2 x 1/2 in, back-butter",
    "joint": "joint 1/8 in",
    "pattern": "pattern stacked",
    "grout": "grout A118.7",
    "corner": "change of plane sealant C920, 1/4 in wide",
    "membrane": "membrane liquid A118.10, 30 mil dry",
}


def without(kit: Kit, **changed: str) -> Takeoff:
    return taken(job(*[line for line in {**LINES, **changed}.values() if line]), kit)


@pytest.mark.parametrize(
    ("left_out", "item", "named"),
    [
        ({"surface": 'surface wall "back"'}, "or tile, by area and waste", "width of the face"),
        ({"surface": 'surface wall "back", 60 in x 84 in\n  surface wall "left"'}, "mortar", "width of the face"),
        ({"tile": "tile porcelain"}, "or tile, by area and waste", "first side of the tile as it is sold"),
        ({"tile": "tile porcelain, 12 x 24 in"}, "grout", "thickness of the tile body"),
        ({"trowel": ""}, "mortar", "width of the notch"),
        ({"trowel": "trowel 1/2 x 1/2 in"}, "mortar", "width of the tooth between two notches"),
        ({"joint": ""}, "grout", "width of the joint between tiles"),
        ({"joint": ""}, "tile, by the cut plan", "width of the joint between tiles"),
        ({"pattern": ""}, "tile, by the cut plan", "how courses stand to each other"),
        ({"membrane": "membrane liquid A118.10"}, "membrane", "thickness of the film, dry or wet"),
        ({"corner": ""}, "sealant at changes of plane", "what fills the corner as written"),
        ({"mortar": "mortar epoxy adhesive"}, "mortar", "what one unit of this adhesive yields (label)"),
    ],
)
def test_a_fact_left_out_is_named(kit: Kit, left_out: dict[str, str], item: str, named: str) -> None:
    if "epoxy" in str(left_out):
        left_out = {"mortar": "mortar A118.3"}
    line = line_of(without(kit, **left_out), item)
    assert any(named in one for one in line.missing), line.missing
    assert line.net is None or line.net.low > 0


def test_a_whole_plan_misses_nothing(kit: Kit) -> None:
    assert not [one for one in without(kit).lines if one.missing]


def test_part_of_a_room_is_at_least(kit: Kit) -> None:
    found = without(kit, surface='surface wall "back", 60 in x 84 in\n  surface wall "left", 36 in')
    line = line_of(found, "or tile, by area and waste")
    assert line.at_least and float(line.net.low) == pytest.approx(35 * FOOT**2)  # type: ignore[union-attr]


def test_equal_rooms_are_multiplied(kit: Kit) -> None:
    text = job(*LINES.values())
    once, thrice = taken(text, kit), taken(text.replace("exposure wet", "exposure wet\n  count 3"), kit)
    for line, more in zip(once.lines, thrice.lines, strict=True):
        assert line.net and more.net
        assert more.net == line.net.scaled(3) and "3 equal rooms" in more.because


def test_an_opening_larger_than_its_wall_is_told(kit: Kit) -> None:
    text = (
        job(*LINES.values())
        + 'part "window" of "walls"\n  kind window, 20 ft x 20 ft, deep 4 in\n  place wall "back"\n'
    )
    line = line_of(taken(text, kit), "or tile, by area and waste")
    assert any("larger than the face" in one for one in line.missing)


def test_an_opening_on_no_named_wall_is_still_taken_off(kit: Kit) -> None:
    two = {"surface": 'surface wall "back", 60 in x 84 in\n  surface wall "left", 36 in x 84 in'}
    text = job(*{**LINES, **two}.values()) + 'part "niche" of "walls"\n  kind niche, 12 in x 24 in, deep 4 in\n'
    line = line_of(taken(text, kit), "or tile, by area and waste")
    # 56 less 2, and the faces of the niche 2 + 2/3 + 4/3
    assert float(line.net.low) == pytest.approx(58 * FOOT**2)  # type: ignore[union-attr]


def test_a_band_of_other_tile_is_moved_from_one_to_the_other(kit: Kit) -> None:
    band = 'part "band" of "walls"\n  kind band\n  place wall "back", lower edge 48 in, upper edge 60 in\n  kind band, 60 in wide\n'
    band = band.replace("  kind band\n", "") + "  tile glass, mosaic, chip 1 x 1 in, sheet 12 x 12 in, thick 1/4 in\n"
    found = taken(job(*LINES.values()) + band, kit)
    assert float(line_of(found, "or tile, by area and waste", "porcelain").net.low) == pytest.approx(30 * FOOT**2)  # type: ignore[union-attr]
    assert float(line_of(found, "tile, by area and waste", "glass").net.low) == pytest.approx(5 * FOOT**2)  # type: ignore[union-attr]


def test_lines_not_read_are_told(kit: Kit) -> None:
    found = taken(job(*LINES.values(), "colour red"), kit)
    assert any("one line is not read" in one for one in found.left_out)


def test_clips_go_by_tiles_and_only_where_the_plan_tells_them(kit: Kit) -> None:
    """60 x 84 in is 17.5 tiles of 12 x 24 in; 5 to 10 % waste; 2 to 6 clips for each (trade habit)."""
    lines = ('surface wall "back", 60 in x 84 in', "tile porcelain, 12 x 24 in", "joint 1/8 in", "pattern stacked")
    found = line_of(taken(job(*lines, "levelling clips and wedges"), kit), "levelling clips")
    assert found.net is not None and tuple(map(float, found.net)) == pytest.approx((17.5 * 1.05 * 2, 17.5 * 1.10 * 6))
    assert not any(line.item == "levelling clips" for line in taken(job(*lines), kit).lines)


def test_walls_of_two_assemblies_meet_in_corners_of_their_own(kit: Kit) -> None:
    """A back wall of one build-up between two side walls of another: 3 walls in a row have 2 corners, 7 ft high.

    The side walls alone are counted as one corner, so one is left between the assemblies.
    """
    back = job('surface wall "back", 60 in x 84 in', LINES["corner"], LINES["joint"])
    sides = 'assembly "sides" in "bath"\n' + "".join(
        f"  {line}\n" for line in ('surface wall "left", 36 in x 84 in', 'surface wall "right", 36 in x 84 in', LINES["corner"], LINES["joint"])
    )  # fmt: skip
    found = taken(back + sides, kit)
    runs = [one for line in found.lines if line.item == "sealant at changes of plane" for one in line.inputs]
    between = [one.figure for one in runs if one.name == "corners where two assemblies meet"]
    assert [tuple(map(float, one)) for one in between] == [pytest.approx((7 * FOOT, 2 * 7 * FOOT))]
    assert not any("two assemblies" in one.name for line in taken(back, kit).lines for one in line.inputs)
