"""Turned and hexagonal patterns by the piece: laid out in many places by a geometry library."""

from __future__ import annotations

import math
import random

import pytest
from shapely import Polygon, box
from shapely.affinity import rotate, translate

from speclint.review.kit import Kit
from tests.works.jobs import job, line_of, taken

JOINT = 0.125
PLAN_ITEM = "tile, by the cut plan"


def pieces(kit: Kit, tile: str, pattern: str, surface: str = 'wall "back", 60 x 96 in') -> tuple[float, float]:
    text = job(f"surface {surface}", f"tile porcelain, {tile}, thick 3/8 in", "joint 1/8 in", f"pattern {pattern}")
    line = line_of(taken(text, kit), PLAN_ITEM)
    assert line.net is not None and "an estimate" in " ".join(line.because)
    return float(line.net.low), float(line.net.high)


def hexagon(across: float) -> Polygon:
    reach = across / math.sqrt(3)
    return Polygon([(reach * math.sin(math.tau * at / 6), reach * math.cos(math.tau * at / 6)) for at in range(6)])


def met(tiles: list[Polygon], face: Polygon, x: float, y: float) -> int:
    moved = translate(face, x, y)
    return sum(tile.intersects(moved) for tile in tiles)


def test_the_most_is_the_mean_of_diagonal_tile_laid_out_in_many_places(kit: Kit) -> None:
    dice, face, module = random.Random(7), box(0, 0, 60, 96), 12 + JOINT
    tiles = [
        rotate(box(x * module, y * module, (x + 1) * module, (y + 1) * module), 45, origin=(0, 0))
        for x in range(-3, 12)
        for y in range(-7, 10)
    ]
    counts = [met(tiles, face, dice.uniform(0, 17), dice.uniform(0, 17)) for _ in range(60)]
    least, most = pieces(kit, "nominal 12 x 12 in, actual 12 x 12 in", "diagonal")
    assert least == math.ceil(60 * 96 / module**2) < min(counts)
    assert most == pytest.approx(sum(counts) / len(counts), rel=0.04)


def test_the_most_is_no_less_than_the_mean_of_hexagons_laid_out_in_many_places(kit: Kit) -> None:
    dice, face, module = random.Random(7), box(0, 0, 60, 96), 8 + JOINT
    tiles = [
        translate(hexagon(module), (x + y % 2 / 2) * module, y * module * math.sqrt(3) / 2)
        for x in range(-3, 10)
        for y in range(-4, 16)
    ]
    counts = [met(tiles, face, dice.uniform(0, 8), dice.uniform(0, 8)) for _ in range(60)]
    least, most = pieces(kit, "hexagon, nominal 8 x 8 in, actual 8 x 8 in", "hexagon field")
    assert least == math.ceil(60 * 96 / (math.sqrt(3) / 2 * module**2)) < min(counts)
    assert sum(counts) / len(counts) <= most <= 1.06 * sum(counts) / len(counts)


def test_herringbone_is_counted_by_its_area_at_least(kit: Kit) -> None:
    whole = pieces(kit, "nominal 3 x 12 in, actual 3 x 12 in", "herringbone")
    assert whole[0] == math.ceil(60 * 96 / (3.125 * 12.125))
    assert whole[1] > whole[0]
