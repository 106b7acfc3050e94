"""Faces above a rim, faces told once and counted, and trim by its place: worked by hand."""

from __future__ import annotations

import pytest

from speclint.review.kit import Kit
from speclint.works.tile_lines import OR_BY_AREA
from tests.works.jobs import FOOT, IN, job, laid, line_of, taken

TILE = (
    "tile porcelain, nominal 6 x 6 in, actual 5-7/8 x 5-7/8 in, thick 1/4 in",
    "joint 1/8 in",
    "pattern stacked",
)
TUB = "  exposure wet\n  receptor steel tub, rim 15 in above floor\n"


def tub(*lines: str, room: str = TUB) -> str:
    return job(*lines, *TILE).replace("  exposure wet\n", room)


def area(text: str, kit: Kit) -> float | None:
    net = line_of(taken(text, kit), OR_BY_AREA).net
    return float(net.low) / FOOT**2 if net is not None else None


@pytest.mark.parametrize(
    ("surface", "finish", "square_feet"),
    [
        # tile from a rim at 15 in to 84 in above the floor: 69 in high, 60 x 69 / 144
        ("60 in x 96 in", "84 in above floor", 28.75),
        ("60 in x 69 in", "84 in above floor", 28.75),
        # 66 in above the rim: 60 x 66 / 144
        ("60 in x 96 in", "66 in above rim", 27.5),
        # the face as measured is lower than the tile would go
        ("60 in x 60 in", "84 in above floor", 25),
    ],
)
def test_tile_begins_at_the_rim(kit: Kit, surface: str, finish: str, square_feet: float) -> None:
    text = tub(f'surface wall "back", {surface}', f"finish height {finish}")
    assert area(text, kit) == pytest.approx(square_feet)


def test_without_a_rim_the_height_counts_from_the_floor(kit: Kit) -> None:
    text = tub('surface wall "back", 60 in x 96 in', "finish height 84 in above floor", room="  exposure wet\n")
    assert area(text, kit) == pytest.approx(60 * 84 / 144)


@pytest.mark.parametrize("place", ["up 45 in", "30 in above rim"])
def test_a_niche_stands_as_high_in_the_face_as_it_is_above_the_rim(kit: Kit, place: str) -> None:
    text = tub('surface wall "back", 60 in x 96 in', "finish height 84 in above floor")
    text += (
        f'part "niche" of "walls"\n  kind niche, 12 in x 12 in, deep 4 in\n  place "back", from left 24 in, {place}\n'
    )
    found = laid(text, kit)[0]
    assert found.openings[0].box == (24 * IN, 30 * IN, 12 * IN, 12 * IN)
    assert any("from the rim" in note for note in found.notes)


def test_a_face_told_once_is_counted_as_often_as_the_plan_says(kit: Kit) -> None:
    once = tub(
        'surface wall "end", 30 in x 60 in, count 2',
        "change of plane sealant C920, 1/8 in",
        "trim profile, at side edge",
    )
    each = tub(
        'surface wall "end", 30 in x 60 in',
        'surface wall "end too", 30 in x 60 in',
        "change of plane sealant C920, 1/8 in",
        "trim profile, at side edge",
    )
    together, apart = taken(once, kit), taken(each, kit)
    assert [(one.item, one.net) for one in together.lines] == [(one.item, one.net) for one in apart.lines]
    assert len(laid(once, kit)) == 1


@pytest.mark.parametrize("count", ["0", "100000000", "-2"])
def test_a_count_that_was_misread_is_named(kit: Kit, count: str) -> None:
    line = line_of(taken(tub(f'surface wall "end", 30 in x 60 in, count {count}'), kit), OR_BY_AREA)
    assert line.net is None and "count" in " ".join(line.missing)


@pytest.mark.parametrize(
    ("trim", "part", "feet"),
    [
        ("at outside corner", "kind column, 6 in x 84 in, deep 6 in", 28),  # four edges of 84 in
        ("at outside corner", "kind window, 24 in x 36 in, deep 4 in", 10),  # all round the opening: 2 (24 + 36) in
        ("at outside corner", "kind bench, 36 in x 18 in, deep 15 in", 3),  # its front edge
        ("at outside corner", "kind half wall, 30 in x 42 in, deep 5 in", 12),  # both faces: 2 (30 + 42) in
        ("at doorway", "kind doorway, 32 in x 80 in", 32 / 12),
        ("at outside corner, 14 ft long", "kind column, 6 in x 84 in, deep 6 in", 14),
    ],
)
def test_trim_by_its_place(kit: Kit, trim: str, part: str, feet: float) -> None:
    text = tub('surface wall "back", 60 in x 96 in', f"trim profile, {trim}") + f'part "p" of "walls"\n  {part}\n'
    net = line_of(taken(text, kit), "trim").net
    assert net is not None and float(net.low) / FOOT == pytest.approx(feet)


def test_trim_at_the_doorway_is_as_long_as_the_entry_is_wide(kit: Kit) -> None:
    text = tub(
        'surface wall "back", 60 in x 96 in', "trim profile, at doorway", room=TUB + "  entry curb, 30 in wide\n"
    )
    net = line_of(taken(text, kit), "trim").net
    assert net is not None and float(net.low) / FOOT == pytest.approx(2.5)


def test_trim_whose_length_nothing_tells_says_how_to_tell_it(kit: Kit) -> None:
    text = tub('surface wall "back", 60 in x 96 in', "trim profile, at outside corner")
    line = line_of(taken(text, kit), "trim")
    assert line.net is None and "84 in long" in " ".join(line.missing)
