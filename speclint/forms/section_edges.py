"""Where planes meet and where tile ends or is parted: change of plane, movement joint and trim, cut across."""

from __future__ import annotations

from fractions import Fraction

from speclint.forms.drawing import Scale, Shape
from speclint.forms.measures import INCH, range_text
from speclint.forms.section_parts import (
    SILENT,
    broken,
    broken_up,
    measure,
    told,
)
from speclint.forms.sheet import PICTURE, Note, Picture, detail_scale
from speclint.works.reading import Reach
from speclint.works.section_layers import TILE
from speclint.works.section_values import Cut, Soft, Trim

_ARM, _BACK, _GAP = 30.0, 5.0, 3.0
_SOFT = frozenset({"sealant", "profile", "compressible filler", "hardening caulk", "caulk"})
_TILE = Fraction(1, 100)
"""Metres: a tile whose thickness is not told is drawn so, dashed."""


def _tile_of(cut: Cut) -> Reach | None:
    return next(one for one in cut.strata if one.role == TILE).thick


def _fill(fill: str) -> str:
    if fill in _SOFT:
        return "sealant"
    return "grout" if fill in ("grout", "mortar") else "untold"


def corner_picture(cut: Cut, system: str) -> Picture | None:
    """Two planes that meet, with what stands between their tile; None where the plan tells neither."""
    corner, thick, bed = cut.corner, _tile_of(cut), cut.notch.bed
    if not corner.said and thick is None:
        return None
    deep = (thick.high if thick is not None else _TILE) + (bed.high if bed is not None else Fraction(0))
    scale = detail_scale(deep * 2, deep * 2, _ARM, _ARM, system == INCH)
    tile = scale.paper(thick.high) if thick is not None else scale.paper(_TILE)
    under = scale.paper(bed.high) if bed is not None else 2.0
    wide = scale.paper(corner.width.low) if corner.width is not None else _GAP
    shapes = _planes(cut, tile, under, wide)
    x, y = _BACK + under, PICTURE - _BACK - under
    shapes.append(Shape("rect", (x, y - tile - wide, tile, wide), _fill(corner.fill)))
    if corner.backer:
        shapes.append(Shape("circle", (x + tile * 0.3, y - tile - wide / 2, min(wide, tile) / 2), "foam"))
    width = told(corner.width, system) if corner.width is not None else "width not told"
    said = (corner.said or SILENT,)
    notes = [
        Note(corner.id, x + tile / 2, y - tile - wide / 2, f"{corner.fill or 'filling not told'}, {width}", said),
        Note("corner-up", x + tile / 2, 6, "tile of one wall" if cut.upright else "tile of the wall"),
        Note(
            "corner-along", PICTURE - 4, y - tile / 2, "tile of the other wall" if cut.upright else "tile of the floor"
        ),
    ]
    barrier = next((one for one in reversed(cut.strata) if one.holds_water and one.role == "membrane"), None)
    if barrier is not None:
        shapes.append(Shape("open", (_BACK, 0, _BACK, PICTURE - _BACK, PICTURE, PICTURE - _BACK), "barrier"))
        notes.append(
            Note(
                "corner-barrier",
                _BACK,
                PICTURE - _BACK - 1,
                "membrane",
                ("drawn round the corner, where it must go on without a break",),
            )
        )
    below = () if corner.width is not None else ("The gap is drawn without scale, since its width is not told",)
    return Picture(tuple(shapes), PICTURE, tuple(notes), scale, below)


def _planes(cut: Cut, tile: float, under: float, wide: float) -> list[Shape]:
    """The two backs, the beds and the tile, each leg broken off; the upright tile stands on the flat one's joint."""
    style = "tile" if _tile_of(cut) is not None else "untold"
    mortar = "mortar" if cut.notch.bed is not None else "untold"
    x, y = _BACK, PICTURE - _BACK
    return [
        Shape("path", (0, 0, x, 0, x, y, PICTURE, y, PICTURE, PICTURE, 0, PICTURE), "board-back"),
        Shape("path", (x, 0, x + under, 0, x + under, y - under, PICTURE, y - under, PICTURE, y, x, y), mortar),
        Shape("rect", (x + under, y - under - tile, PICTURE - x - under, tile), style),
        Shape("rect", (x + under, 0, tile, y - under - tile - wide), style),
        broken(0, 0, x + under + tile),
        broken_up(PICTURE, y - under - tile, under + tile + _BACK),
    ]


def soft_picture(cut: Cut, soft: Soft, system: str) -> Picture:
    """A movement joint across its line: how wide, how deep, what fills it, and what holds the filling up."""
    thick = _tile_of(cut)
    bed = cut.notch.bed
    width = soft.width.high if soft.width is not None else Fraction(1, 160)
    high = thick.high if thick is not None else _TILE
    scale = detail_scale(width * 3, high * 2, PICTURE, 40, system == INCH)
    wide, tall = scale.paper(width), scale.paper(high)
    under = scale.paper(bed.high) if bed is not None else 3.0
    left, top = (PICTURE - wide) / 2, 5.0
    deep = min(scale.paper(soft.depth.high), tall + under) if soft.depth is not None else tall
    tile = "tile" if thick is not None else "untold"
    mortar = "mortar" if bed is not None else "untold"
    right = PICTURE - left - wide
    shapes = [
        *(Shape("rect", (x, top, one, tall), tile) for x, one in ((0.0, left), (left + wide, right))),
        *(Shape("rect", (x, top + tall, one, under), mortar) for x, one in ((0.0, left), (left + wide, right))),
        Shape("rect", (left, top, wide, deep), _fill(soft.fill)),
        Shape("line", (0, top + tall + under, PICTURE, top + tall + under), "strong"),
        *measure(left, top - 2.2, wide),
    ]
    if soft.backer:
        shapes.append(Shape("circle", (PICTURE / 2, top + deep + wide * 0.5, wide * 0.5), "foam"))
    depth = f"depth {told(soft.depth, system)}"
    rows = [soft.said or SILENT, depth]
    rows.append("a rod holds it up" if soft.backer else "rod or tape under it: not told")
    if soft.spacing is not None:
        rows.append(f"every {range_text(soft.spacing.low, soft.spacing.high, 'run', system)}")
    wide_told = told(soft.width, system) if soft.width is not None else "width not told"
    notes = [
        Note(soft.id, PICTURE / 2, top + deep / 2, f"{soft.fill or 'filling not told'}, {wide_told}", tuple(rows)),
        Note("soft-tile", PICTURE - 3, top + tall * 0.75, "tile", ("parted through tile and bed",)),
    ]
    return Picture(tuple(shapes), top + tall + under + max(2.0, wide if soft.backer else 0.0), tuple(notes), scale)


def trim_picture(cut: Cut, trim: Trim, system: str) -> Picture:
    """The edge of the tile and the piece that ends it."""
    thick = _tile_of(cut)
    high = thick.high if thick is not None else _TILE
    scale = detail_scale(high, high, PICTURE, 16, system == INCH)
    tall = scale.paper(high)
    tile = "tile" if thick is not None else "untold"
    top, edge = 5.0, PICTURE * 0.62
    shapes = [
        Shape("rect", (0, top, edge - 1.2, tall), tile),
        Shape("rect", (0, top + tall, edge + 4, 3), "mortar"),
        Shape("line", (0, top + tall + 3, PICTURE, top + tall + 3), "strong"),
        broken_up(0, top, tall),
        *_piece(trim.kind, edge, top, tall, scale),
    ]
    size = f", {told(trim.high, system)} high" if trim.high is not None else ""
    notes = (
        Note(trim.id, edge + 0.4, top + tall / 2, f"{trim.kind or 'piece not told'}{size}", (trim.said,)),
        Note("trim-tile", 6, top + tall - 1, f"tile, {told(thick, system)} thick"),
    )
    return Picture(
        tuple(shapes), top + tall + 5, notes, scale, ("The piece is drawn by its kind; its shape is that of the maker",)
    )


def _piece(kind: str, x: float, top: float, tall: float, scale: Scale) -> list[Shape]:
    """The usual shape of a kind of piece."""
    if kind in ("profile", "corner bead", "reducer"):
        return [Shape("open", (x - 9, top + tall + 0.6, x, top + tall + 0.6, x, top), "strong")]
    if kind in ("bullnose", "quarter round", "base tile", "cove base"):
        radius = tall / 2
        arc = (x, top, x + radius, top + tall * 0.14, x + radius * 1.6, top + tall * 0.5, x + radius * 1.8, top + tall)
        return [Shape("path", (*arc, x, top + tall), "tile")]
    if kind in ("threshold", "sill", "curb cap"):
        return [
            Shape("path", (x, top, x + 8, top, x + 9.5, top + 1.5, x + 9.5, top + tall + 3, x, top + tall + 3), "slab")
        ]
    return [Shape("rect", (x, top, 3, tall), "untold")]
