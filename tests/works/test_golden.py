"""One invented job, every quantity worked by hand beside its check.

The hand work uses plain arithmetic, not the package. Sources of the factors: ANSI A108.02 4.3.2 for cuts no smaller than
half a tile; IRC P2709.1 for the fall; waste of 5 to 10 % from public how-to pages; bag water from the trade press; wet
density 1500 to 1750 kg/m3, grout 1.5 to 1.75 kg/l, bed mortar 0.5 cu ft a bag from memory, common practice.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from speclint.files.plans import load_plan
from speclint.review.kit import Kit
from speclint.works.lines import Takeoff, Total
from speclint.works.takeoff import takeoff
from tests.works.jobs import FOOT, INCH, line_of

GOLDEN = Path(__file__).with_name("golden.wetspec")
SQFT, CUFT, POUND = FOOT**2, FOOT**3, 0.45359237


@pytest.fixture(scope="module")
def found(kit: Kit) -> Takeoff:
    plan = load_plan(str(GOLDEN), kit)
    assert not plan.problems
    return takeoff([plan], kit.catalogue)


def net(found: Takeoff, item: str, said: str = "") -> tuple[float, float]:
    line = line_of(found, item, said)
    assert line.net is not None and not line.missing
    return float(line.net.low), float(line.net.high)


def packs(found: Takeoff, item: str, said: str = "") -> tuple[float, float]:
    pack = line_of(found, item, said).packs
    assert pack is not None
    return float(pack.number.low), float(pack.number.high)


def order(found: Takeoff, item: str, said: str = "") -> Total:
    (one,) = [total for total in found.order if total.item == item and said in total.specification]
    return one


def test_wall_tile_by_area(found: Takeoff) -> None:
    # back 5 x 7 = 35, less niche 1 x 2 = 2 -> 33; left and right 3 x 7 = 21 each -> 75
    # niche: back 2; top and bottom 2 x 12 x 4 = 96 sq in = 2/3; sides 2 x 24 x 4 = 192 sq in = 4/3 -> 4
    # bench: top 36 x 15 = 540 sq in = 3.75; front 36 x 18 = 648 sq in = 4.5 -> 8.25; in all 87.25
    # built before the tile it hides the wall behind, 36 x 18 = 4.5, and beside, 2 x 15 x 18 = 3.75 -> 79.0
    assert net(found, "or tile, by area and waste", "12 x 24") == pytest.approx((79 * SQFT, 87.25 * SQFT))
    # one tile 2 sq ft, 8 in a carton: 79 x 1.05 / 16 = 5.184; 87.25 x 1.10 / 16 = 5.998
    assert packs(found, "or tile, by area and waste", "12 x 24") == pytest.approx((79 * 1.05 / 16, 87.25 * 1.1 / 16))
    assert order(found, "or tile, by area and waste", "12 x 24").ordered == (6, 6)


def test_wall_tile_by_the_cut_plan(found: Takeoff) -> None:
    # up: 84 less the joint at the foot 1/4 = 83-3/4 = 6 x 12-1/8 + 11: six full courses and 11 at the top = 7 courses
    # back: 60 - 2 x 1/4 = 59-1/2; tile on center leaves (59.5 - 24)/2 - 1/8 = 17-5/8 at both ends: 3 x 7 = 21 pieces;
    #   two of 17-5/8 do not come from one tile of 24; the niche from 24 to 36 in takes no whole piece
    # left and right: 35-1/2; joint on center leaves (35.5 - 1/8)/2 = 17-11/16 twice: 2 x 7 = 14 pieces each;
    #   on the right the bench hides the first course (top at 12-1/4 in, bench 18 in): 2 pieces fewer at least
    # niche: back 1; top and bottom 2 pieces of 12 x 4, from 1 tile at least; sides 2 of 24 x 4, from 1 at least
    # bench: top 36 x 15, 540 sq in of 288: at least 2; pieces 2 along (36/24.1) by 2 -> 4, or 3 turned -> 3; front 36 x 18: 3
    # beside the bench 2 x 15 x 18 = 540 sq in = 1.9 tile: at most 1 whole tile fewer
    # most 21 + 14 + 14 + 1 + 2 + 2 + 3 + 3 = 60; least 21 + 14 + 12 + 1 + 1 + 1 + 2 + 3 - 1 = 54
    assert net(found, "tile, by the cut plan") == (54, 60)
    assert order(found, "tile, by the cut plan").ordered == (7, 8)


def test_mosaic_by_sheets(found: Takeoff) -> None:
    # floor 5 x 3 = 15; under the bench 36 x 15 = 3.75 or not; sheets of 1 sq ft: 11.25 x 1.05 = 11.8; 15 x 1.1 = 16.5
    assert net(found, "tile, by area and waste", "mosaic") == pytest.approx((11.25 * SQFT, 15 * SQFT))
    assert order(found, "tile, by area and waste", "mosaic").ordered == (12, 17)


def test_tile_left_with_the_owner(found: Takeoff) -> None:
    # 5 % of 79 to 87.25
    assert net(found, "tile left with the owner") == pytest.approx((3.95 * SQFT, 4.3625 * SQFT))


def test_spacers(found: Takeoff) -> None:
    # 79 x 1.05 / 2 = 41.475 tiles x 2; 87.25 x 1.1 / 2 = 47.9875 x 4; bags of 100
    assert net(found, "spacers") == pytest.approx((82.95, 191.95))
    assert order(found, "spacers").ordered == (1, 2)


def test_mortar(found: Takeoff) -> None:
    # notch 1/2 x 1/2 x 1/2 upright leaves 1/4 in, at 45 degrees x 0.70711 = 0.17678 in; 10 % loss
    # 79 x 0.17678 / 12 x 1.1 = 1.2802 cu ft; 87.25: 1.4139 cu ft
    assert net(found, "mortar", "H T") == pytest.approx((1.2802 * CUFT, 1.4139 * CUFT), rel=1e-4)
    # 50 lb = 22.680 kg with 1.5 gal = 5.678 kg of water is 28.358 kg: 18.905 l at 1.5 kg/l, 16.205 l at 1.75 kg/l
    # 1.2802 cu ft = 36.251 l / 18.905 = 1.918; 1.4139 cu ft = 40.037 l / 16.205 = 2.471
    assert packs(found, "mortar", "H T") == pytest.approx((1.918, 2.471), rel=1e-3)
    assert order(found, "mortar", "H T").ordered == (2, 3)


def test_mortar_of_the_pan(found: Takeoff) -> None:
    # half of that bed, 0.08839 in: 11.25 x 0.08839 / 12 x 1.1 = 0.09115; 15: 0.12153 cu ft = 2.581 and 3.441 l
    lines = [one for one in found.lines if one.item == "mortar" and one.specification == "A118.15"]
    assert [float(end) / CUFT for end in lines[0].net or ()] == pytest.approx([0.09115, 0.12153], rel=1e-3)
    assert [float(end) for end in lines[0].packs.number] == pytest.approx([2.581 / 18.905, 3.441 / 16.205], rel=1e-3)


def test_grout_of_both_tiles_is_one_order(found: Takeoff) -> None:
    # walls: 1 - 12 x 24 / (12-1/8 x 24-1/8) = 0.015437; 79 sq ft = 7.3393 m2 x 0.015437 x 6.35 mm = 0.71943 l
    #   x 1.5 kg/l x 1.1 = 1.1871 kg = 2.617 lb; 87.25: 0.79456 l x 1.75 x 1.1 = 1.5295 kg = 3.372 lb
    # floor: 1 - 4 / 2.125^2 = 0.114187; 11.25 sq ft = 1.04516 m2: 0.75782 l -> 1.2504 kg = 2.757 lb;
    #   15 sq ft: 1.01043 l x 1.75 x 1.1 = 1.9451 kg = 4.288 lb
    lines = [one for one in found.lines if one.item == "grout"]
    worked = [[2.617, 3.372], [2.757, 4.288]]
    for line, hand in zip(lines, worked, strict=True):
        assert [float(end) / POUND for end in line.net or ()] == pytest.approx(hand, rel=1e-3)
    # together 5.37 to 7.66 lb: one bag of 25 lb, though each room's lines would round to one each
    assert order(found, "grout").ordered == (1, 1)


def test_sealer_on_the_grout(found: Takeoff) -> None:
    # share 0.015437 x 7.3393 m2 = 0.11330 m2 x 0.04 mm = 0.004532 l; 8.1058 m2: 0.12513 x 0.2 mm = 0.025026 l
    assert net(found, "sealer") == pytest.approx((0.004532e-3, 0.025026e-3), rel=1e-3)


def test_membrane_and_its_band(found: Takeoff) -> None:
    # as high as the tile, so the same area; sheet with laps 5 to 15 %: 79 x 1.05 = 82.95; 87.25 x 1.15 = 100.34
    assert net(found, "membrane") == pytest.approx((79 * SQFT, 87.25 * SQFT))
    assert order(found, "membrane").ordered == (83, 101)
    # feet of walls 5 + 3 + 3 = 11; two corners of 7 = 14; niche inside 2 x (12 + 24) + 4 x 4 = 88 in = 7.333
    # bench: foot and back line 2 x 36 = 72 in = 6, with its ends 2 x (18 + 15) = 66 in = 5.5 more: 38.333 to 43.833 ft
    assert net(found, "band at corners of the membrane") == pytest.approx((38.3333 * FOOT, 43.8333 * FOOT), rel=1e-5)
    # x 1.1 = 12.852 to 14.697 m, rolls of 10 m
    assert order(found, "band at corners of the membrane").ordered == (2, 2)
    assert net(found, "seal at pipes") == (1, 1)


def test_pre_slope(found: Takeoff) -> None:
    # rise 1/4 in per ft x 3 ft = 3/4; mean 1/4 + 2/3 x 3/4 = 3/4 in; 15 x 0.75 / 12 = 0.9375 cu ft; x 1.1 / 0.5 = 2.06
    assert net(found, "pre-slope") == pytest.approx((0.9375 * CUFT, 0.9375 * CUFT))
    assert order(found, "pre-slope").ordered == (3, 3)


def test_mortar_bed(found: Takeoff) -> None:
    # 15 sq ft x 1.5 in = 1.875 cu ft; x 1.1 / 0.5 = 4.125 bags
    assert net(found, "mortar bed") == pytest.approx((1.875 * CUFT, 1.875 * CUFT))
    assert order(found, "mortar bed").ordered == (5, 5)


def test_liner(found: Takeoff) -> None:
    # (60 + 18) x (36 + 18) = 4212 sq in = 29.25 sq ft
    assert net(found, "liner") == pytest.approx((29.25 * SQFT, 29.25 * SQFT))


def test_sealant(found: Takeoff) -> None:
    # 38.333 ft x 1/4 x 1/8 in to 43.833 ft x 1/4 x 1/4 in, 10 % loss, cartridges of 300 ml
    least = 38.3333 * FOOT * 0.25 * INCH * 0.125 * INCH * 1.1 / 0.0003
    most = 43.8333 * FOOT * 0.25 * INCH * 0.25 * INCH * 1.1 / 0.0003
    assert packs(found, "sealant at changes of plane") == pytest.approx((least, most), rel=1e-5)
    assert order(found, "sealant at changes of plane").ordered == (1, 2)


def test_trim(found: Takeoff) -> None:
    # round the niche 2 x (12 + 24) = 72 in = 6 ft; x 1.1 / 8 = 0.825 of a length
    assert net(found, "trim") == pytest.approx((6 * FOOT, 6 * FOOT))
    assert order(found, "trim").ordered == (1, 1)


def test_nothing_else_is_ordered(found: Takeoff) -> None:
    assert len(found.order) == 17 and not any(total.missing for total in found.order)
