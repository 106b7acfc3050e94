"""A curb cut across: its core, the barrier over it, its cap, and the fall of its top toward the drain at the right."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.forms.drawing import Shape
from speclint.forms.measures import INCH
from speclint.forms.section_parts import NOT_TOLD, fall_text, hatch_of, measure_up, told
from speclint.forms.sheet import PICTURE, Note, Picture, detail_scale
from speclint.works.section_values import Curb

_LEFT, _TOP, _CAP, _AWAY = 8.0, 9.0, 2.6, 1.6
_TALL = 46.0
_USUAL = Fraction(1, 10)
"""Metres: a curb whose height is not told is drawn so, dashed."""


class _Core(NamedTuple):
    """The core on the paper; ``drop`` is what its top falls to the right."""

    left: float
    right: float
    top: float
    foot: float
    drop: float


def curb_picture(curb: Curb, system: str) -> Picture:
    """The picture of one curb."""
    high = curb.high.high if curb.high is not None else _USUAL
    deep = curb.deep.high if curb.deep is not None else high
    scale = detail_scale(deep, high, PICTURE - 2 * _LEFT, _TALL, system == INCH)
    wide, tall = scale.paper(deep), scale.paper(high)
    drop = float(curb.fall.low) * wide if curb.fall is not None else 0.0
    core = _Core(_LEFT, _LEFT + wide, _TOP, _TOP + tall, drop)
    shapes = [*_body(curb, core), *_barrier(curb, core), *_cap(curb, core), *measure_up(3, core.top, tall)]
    return Picture(tuple(shapes), core.foot + 3, _notes(curb, core, system), scale, _said(curb, system))


def _body(curb: Curb, core: _Core) -> list[Shape]:
    style = hatch_of(curb.family, curb.high is not None)
    left, right, top, foot, drop = core
    shapes = [
        Shape("path", (left, foot, left, top, right, top + drop, right, foot), style),
        Shape("line", (0, foot, PICTURE, foot), "strong"),
    ]
    if style == "timber":  # wood cut across its grain
        shapes.append(Shape("line", (left, top, right, foot), "line"))
        shapes.append(Shape("line", (left, foot, right, top + drop), "line"))
    return shapes


def _barrier(curb: Curb, core: _Core) -> list[Shape]:
    if not curb.barrier:
        return []
    left, right, top = core.left - _AWAY, core.right + _AWAY, core.top - _AWAY
    return [Shape("open", (left, core.foot, left, top, right, top + core.drop, right, core.foot), "barrier")]


def _cap(curb: Curb, core: _Core) -> list[Shape]:
    left, right, foot = core.left - 3, core.right + 3, core.top - (2 * _AWAY if curb.barrier else 1.0)
    points = (left, foot, right, foot + core.drop, right, foot - _CAP + core.drop, left, foot - _CAP)
    return [Shape("path", points, "slab" if curb.cap else "untold")]


def _notes(curb: Curb, core: _Core, system: str) -> tuple[Note, ...]:
    rough = ", rough" if curb.rough and curb.high is not None else ""
    covers = [f"{side}: {cover or NOT_TOLD}" for side, cover in curb.covers]
    top = (f"cap: {curb.cap or NOT_TOLD}", *covers)
    body = (curb.build or f"core: {NOT_TOLD}", f"across {told(curb.deep, system)}")
    tall = core.foot - core.top
    middle = core.left + (core.right - core.left) / 2
    over = "barrier over the curb" if curb.barrier else f"barrier over the curb: {NOT_TOLD}"
    return (
        Note("curb-top", core.right + 2, core.top - 3.4, f"top, falls {fall_text(curb.fall, system)}", top),
        Note("curb-barrier", core.right + _AWAY, core.top + tall * 0.45, over, (curb.barrier,) if curb.barrier else ()),
        Note(curb.id, middle, core.top + tall * 0.7, f"curb, {told(curb.high, system)} high{rough}", body),
    )


def _said(curb: Curb, system: str) -> tuple[str, ...]:
    rows = ["The drain is at the right; cap and barrier are drawn without scale"]
    if curb.deep is None:
        rows.append("How wide the curb is across is not told; it is drawn as wide as it is high")
    if curb.above_drain is not None:
        rows.append(f"Its top stands {told(curb.above_drain, system)} above the drain")
    return tuple(rows)
