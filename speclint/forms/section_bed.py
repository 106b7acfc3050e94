"""The notch, the ridges it combs and the bed they leave; the joint with its grout and what stands in it."""

from __future__ import annotations

import math
from fractions import Fraction

from speclint.forms.drawing import Scale, Shape
from speclint.forms.measures import INCH
from speclint.forms.section_parts import SILENT, broken_up, measure, measure_up, told
from speclint.forms.sheet import PICTURE, Note, Picture, detail_scale
from speclint.works.reading import Reach
from speclint.works.section_layers import TILE
from speclint.works.section_values import Cut, Notch

_STEPS = 8  # corners of the round bottom of a U notch
_BLADE, _AIR = 4.0, 8.0


def notch_picture(cut: Cut, system: str) -> Picture | None:
    """The teeth of the trowel, the ridges as combed, and the bed after embedding; None where no notch is told."""
    notch = cut.notch
    if notch.width is None or notch.depth is None or not notch.shape:
        return None
    land = notch.land.low if notch.land is not None else Fraction(0)
    period = notch.width.low + land
    down = notch.depth.low * 3
    scale = detail_scale(period * 2, down, PICTURE, 60, system == INCH)
    shapes, notes, y = _teeth(notch, land, scale, system)
    if notch.reach is not None:
        y += _AIR
        high = scale.paper(notch.reach.high)
        base = y + high
        for reach, style in ((notch.reach.high, "ghost"), (notch.reach.low, "mortar")):
            shapes += _row(notch, land, scale, base, scale.paper(reach), style)
        shapes.append(Shape("line", (0, base, PICTURE, base), "strong"))
        notes.append(
            Note("ridges", PICTURE - 1, base - high / 3, f"ridges as combed, {told(notch.reach, system)} high",
                 ("the flatter the blade is held, the lower: least solid, most dashed",))
        )  # fmt: skip
        y = base
    if notch.bed is not None:
        y += _AIR
        most, least = scale.paper(notch.bed.high), scale.paper(notch.bed.low)
        base = y + most
        shapes += [
            Shape("rect", (0, base - least, PICTURE, least), "mortar"),
            Shape("rect", (0, y, PICTURE, most), "ghost"),
        ]
        shapes.append(Shape("line", (0, base, PICTURE, base), "strong"))
        notes.append(Note("bed", PICTURE - 1, base - least / 2, f"bed when all has folded, {told(notch.bed, system)}"))
        y = base
    return Picture(tuple(shapes), y + 1, tuple(notes), scale)


def _teeth(notch: Notch, land: Fraction, scale: Scale, system: str) -> tuple[list[Shape], list[Note], float]:
    """The edge of the blade, teeth downward."""
    assert notch.width is not None
    assert notch.depth is not None
    deep = scale.paper(notch.depth.low)
    points: list[float] = [0, 0, PICTURE, 0]
    outline = _edge(notch, land, scale, deep)
    for x, y in reversed(outline):
        points += [x, _BLADE + deep - y]
    shapes = [Shape("path", tuple(points), "metal")]
    named = f"notch, {notch.shape}"
    size = f"{told(notch.width, system)} wide, {told(notch.depth, system)} deep, tooth {told(notch.land, system)}"
    if notch.shape == "V" and not land:
        size = f"{told(notch.width, system)} wide, {told(notch.depth, system)} deep"
    return shapes, [Note(notch.id, PICTURE - 1, _BLADE / 2, named, (size,))], _BLADE + deep


def _edge(notch: Notch, land: Fraction, scale: Scale, high: float) -> list[tuple[float, float]]:
    """The line of teeth and notches from left to right: how high above the tip of the teeth, cut to the picture."""
    assert notch.width is not None
    wide, tooth = scale.paper(notch.width.low), scale.paper(land)
    points: list[tuple[float, float]] = [(0.0, 0.0)]
    x = tooth / 2
    while x + wide <= PICTURE + 0.01:
        points += [(x + dx, dy) for dx, dy in _notch(notch.shape, wide, high)]
        x += wide + tooth
    points.append((PICTURE, 0.0))
    return points


def _notch(shape: str, wide: float, high: float) -> list[tuple[float, float]]:
    if shape == "V":
        return [(0, 0), (wide / 2, high), (wide, 0)]
    if shape == "U":
        radius = min(wide / 2, high)
        turns = [math.pi * at / _STEPS for at in range(_STEPS + 1)]
        arc = [(wide / 2 - wide / 2 * math.cos(one), high - radius + radius * math.sin(one)) for one in turns]
        return [(0, 0), *arc, (wide, 0)]
    lean = high * 0.35 if shape == "slanted" else 0.0
    return [(0, 0), (min(lean, wide / 2), high), (wide, high), (wide, 0)]


def _row(notch: Notch, land: Fraction, scale: Scale, base: float, high: float, style: str) -> list[Shape]:
    """The ridges that a notch combs, on their base: what was air in the blade is mortar on the wall."""
    found: list[Shape] = []
    assert notch.width is not None
    wide, tooth = scale.paper(notch.width.low), scale.paper(land)
    x = tooth / 2
    while x + wide <= PICTURE + 0.01:
        corners = [(x + dx, base - dy) for dx, dy in _notch(notch.shape, wide, high)]
        found.append(Shape("path", tuple(one for corner in corners for one in corner), style))
        x += wide + tooth
    return found


def joint_picture(cut: Cut, system: str) -> Picture | None:
    """One joint between two tiles on their bed; None where neither joint nor tile is told."""
    tile = next(one for one in cut.strata if one.role == TILE)
    joint, thick, bed = cut.joint, tile.thick, cut.notch.bed
    if joint.width is None or thick is None:
        return None
    under = bed.high if bed is not None else Fraction(0)
    scale = detail_scale(joint.width.low * 3, thick.high + under, PICTURE, 44, system == INCH)
    wide, high = scale.paper(joint.width.low), scale.paper(thick.high)
    left, top = (PICTURE - wide) / 2, 5.0
    base = top + high
    low = scale.paper(bed.high) if bed is not None else 4.0
    shapes = _tiles(left, top, wide, high)
    shapes += [Shape("rect", (0, base, PICTURE, low), "mortar" if bed is not None else "untold")]
    if bed is not None and not bed.exact:
        mid = base + low - scale.paper(bed.low)
        shapes.append(Shape("line", (0, mid, PICTURE, mid), "ghost"))
    shapes.append(Shape("line", (0, base + low, PICTURE, base + low), "strong"))
    shapes += [*measure(left, top - 2.2, wide), *measure_up(3, top, high)]
    notes = [
        Note("joint", left + wide, top - 2.2, f"joint, {told(joint.width, system)}"),
        Note("joint-tile", PICTURE - 2, top + high * 0.3, f"tile, {told(thick, system)} thick"),
        Note("joint-bed", PICTURE - 2, base + low / 2, f"bed, {told(bed, system)}"),
    ]
    stands, told_of = _standing(cut, scale, (left, top, wide, high), system)
    return Picture((*shapes, *stands), base + low + 2, (*notes, *told_of), scale, _said(cut))


def _tiles(left: float, top: float, wide: float, high: float) -> list[Shape]:
    return [
        Shape("rect", (0, top, left, high), "tile"),
        Shape("rect", (left + wide, top, PICTURE - left - wide, high), "tile"),
        broken_up(0, top, high),
        broken_up(PICTURE, top, high),
    ]


def _standing(
    cut: Cut, scale: Scale, gap: tuple[float, float, float, float], system: str
) -> tuple[list[Shape], list[Note]]:
    """The mortar left in the joint, and the grout above it."""
    left, top, wide, high = gap
    ridge: Reach | None = cut.joint.ridge
    most = min(high, scale.paper(ridge.high)) if ridge is not None else 0.0
    least = min(most, scale.paper(ridge.low)) if ridge is not None else 0.0
    grouted = bool(cut.joint.grout)
    shapes = [Shape("rect", (left, top, wide, high - least), "grout" if grouted else "untold")]
    middle = left + wide / 2
    room = told(cut.joint.room, system)
    notes = [
        Note("grout", middle, top + (high - most) / 2, f"grout, {room} deep" if cut.joint.room is not None else "grout",
             (cut.joint.grout or SILENT,))
    ]  # fmt: skip
    if ridge is not None and most > 0:
        shapes += [Shape("rect", (left, top + high - least, wide, least), "mortar")]
        shapes += [Shape("line", (left, top + high - most, left + wide, top + high - most), "ghost")]
        notes.append(
            Note("ridge", middle, top + high - least / 2, f"mortar left standing, {told(ridge, system)}",
                 (f"clearing: {cut.joint.clearing}" if cut.joint.clearing else "clearing is not told",))
        )  # fmt: skip
    return shapes, notes


def _said(cut: Cut) -> tuple[str, ...]:
    if cut.joint.ridge is None:
        return ()
    return ("The ridge that stands in the joint is computed from the notch, as combed; the dashed line is its most",)
