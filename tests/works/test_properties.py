"""What always holds: rooms add, pieces fill a surface exactly, the larger cut keeps half a tile, ranges hold points."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.files.kit import load_kit
from speclint.works.runs import centred_run, full_from, shifted
from tests.works.jobs import IN, job, laid, line_of, taken

KIT = load_kit(packs=())
SIZES = st.integers(16 * 24, 16 * 200).map(lambda parts: Fraction(parts, 16))
TILES = st.integers(16 * 2, 16 * 24).map(lambda parts: Fraction(parts, 16))
JOINTS = st.integers(1, 8).map(lambda parts: Fraction(parts, 16))
FEW = settings(max_examples=25, deadline=None)


@FEW
@given(
    length=SIZES,
    gap=JOINTS,
    tile=TILES,
    joint=JOINTS,
    thirds=st.integers(1, 6),
    start=st.sampled_from(["first", "last"]),
)
def test_pieces_joints_and_gaps_fill_the_surface_exactly(
    length: Fraction, gap: Fraction, tile: Fraction, joint: Fraction, thirds: int, start: str
) -> None:
    gaps = (gap * IN, Fraction(0))
    for row in shifted(full_from(length * IN, gaps, tile * IN, joint * IN, start), gaps, Fraction(1, thirds), thirds):
        pieces = row.pieces()
        filled = row.first_gap + sum(piece for _, piece in pieces) + row.joint * (len(pieces) - 1) + row.last_gap
        assert filled == length * IN
        assert row.first_gap >= gaps[0] and row.last_gap >= 0
        assert all(0 < piece <= row.tile for _, piece in pieces)
        ends = [foot + piece for foot, piece in pieces]
        assert all(after - before == row.joint for before, (after, _) in zip(ends, pieces[1:], strict=False))


@FEW
@given(length=SIZES, tile=TILES, joint=JOINTS)
def test_the_larger_of_two_centred_cuts_keeps_half_a_tile(length: Fraction, tile: Fraction, joint: Fraction) -> None:
    """Source: ANSI A108.02 4.3.2 asks for no cut under half a tile; that one centring always gives it is derived."""
    gaps = (Fraction(0), Fraction(0))
    if length < tile + 2 * joint:
        return
    rests = [
        max(run.least() for run in [centred_run(length * IN, gaps, tile * IN, joint * IN, centre)])
        for centre in ("joint", "tile")
    ]
    assert max(rests) >= tile * IN / 2
    for centre in ("joint", "tile"):
        run = centred_run(length * IN, gaps, tile * IN, joint * IN, centre)
        assert run.first == run.last and run.first_gap == run.last_gap


WALL = st.integers(24, 120)


def walls(width: int, height: int, *more: str) -> tuple[str, ...]:
    usual = (
        "mortar A118.15", "tile porcelain, 12 x 24 in, thick 3/8 in, rectified", "grout A118.7", "pattern stacked",
        "change of plane sealant C920", "substrate cement board 1/2 in", "membrane bonded sheet A118.10",
    )  # fmt: skip
    return (f'surface wall "a", {width} in x {height} in', *usual, *more)


POINT = ("trowel square 1/2 x 1/2 x 1/2 in, blade at 45 deg, no back-butter", "joint 1/8 in")


@FEW
@given(first=st.tuples(WALL, WALL), second=st.tuples(WALL, WALL))
def test_net_quantities_of_two_rooms_add(first: tuple[int, int], second: tuple[int, int]) -> None:
    one, two = job(*walls(*first, *POINT), room="one"), job(*walls(*second, *POINT), room="two")
    apart = [taken(text, KIT) for text in (one, two)]
    both = taken(one + two.removeprefix('plan "Mill Lane"\n'), KIT)
    assert {total.item for total in both.order} == {total.item for total in apart[0].order}
    for total in both.order:
        parts = [next(each for each in found.order if each.item == total.item) for found in apart]
        assert total.net is not None
        assert total.net.low == sum(part.net.low for part in parts if part.net)
        assert total.net.high == sum(part.net.high for part in parts if part.net)
        if total.ordered is not None:  # rounded up once: never more than apart, never less than one pack below
            whole = sum(part.ordered[1] for part in parts if part.ordered)
            assert whole - 1 <= total.ordered[1] <= whole


@FEW
@given(angle=st.integers(35, 60), skim=st.integers(20, 39), joint=st.integers(2, 4), depth=st.integers(16, 24))
def test_a_range_holds_every_point_in_it(angle: int, skim: int, joint: int, depth: int) -> None:
    """Blade from 35 to 60 degrees and coats of 0.5 to 1 mm are what the catalogue and the tables assume."""
    wide = taken(job(*walls(60, 84, "trowel square 1/2 x 1/2 x 1/2 in, back-butter", "joint 1/8 in to 1/4 in")), KIT)
    point = taken(
        job(*walls(60, 84, f"trowel square 1/2 x 1/2 x 1/2 in, blade at {angle} deg, back-butter, skim 0.0{skim} in",
                   f"joint {joint}/16 in", f"grout A118.7, depth {depth}/64 in")).replace("  grout A118.7\n", ""), KIT
    )  # fmt: skip
    for item in ("mortar", "grout", "or tile, by area and waste"):
        held, one = line_of(wide, item), line_of(point, item)
        assert held.net and one.net and held.packs and one.packs
        assert held.net.low <= one.net.low <= one.net.high <= held.net.high, item
        assert held.packs.number.low <= one.packs.number.low <= one.packs.number.high <= held.packs.number.high


@FEW
@given(width=WALL, height=WALL)
def test_pieces_of_a_plain_wall_cover_it_all_but_the_joints(width: int, height: int) -> None:
    (found,) = laid(job(*walls(width, height, *POINT)), KIT)
    assert found.across and found.counted
    joint, area = Fraction(1, 8) * IN, Fraction(width * height) * IN**2
    covered = sum(piece.box.width * piece.box.height for piece in found.pieces)
    columns, rows = len(found.across[0].runs[0].lengths()) + 1, len(found.up[0].runs[0].lengths()) + 1
    open_most = joint * (columns + 2) * height * IN + joint * (rows + 2) * width * IN
    assert area - open_most <= covered < area
    assert found.counted.least <= found.counted.most == found.counted.pieces == len(found.pieces)
