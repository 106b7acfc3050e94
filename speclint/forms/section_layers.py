"""The layers of an assembly cut across one joint: structure below, tile above, thicknesses to scale."""

from __future__ import annotations

from fractions import Fraction

from speclint.forms.drawing import Scale, Shape
from speclint.forms.measures import INCH
from speclint.forms.section_parts import SILENT, broken, broken_up, hatch_of, told
from speclint.forms.sheet import PICTURE, Note, Picture, detail_scale
from speclint.works.section_layers import AT_DRAIN, FRAMING, TILE
from speclint.works.section_values import Cut, Stratum

_FRAME, _LEAST, _UNTOLD, _TALL = 15.0, 1.5, 5.0, 110.0
_JOINT = 0.62
"""Where the joint stands, as a share of the picture."""
_STUD = Fraction(381, 10000)
"""Metres: the breadth of dressed two-by lumber, drawn where a stud stands."""


def layers_picture(cut: Cut, system: str) -> Picture:
    """The picture of the layers of a cut; a thin one is drawn thicker and says so."""
    above = [one for one in cut.strata if one.role != FRAMING]
    true = sum((one.thick.high for one in above if one.thick is not None), Fraction(0))
    scale = detail_scale(Fraction(1, 1000), true, PICTURE, _TALL, system == INCH)
    if scale.ratio < 1:
        scale = detail_scale(Fraction(PICTURE) / 1000, true, PICTURE, _TALL, system == INCH)
    shapes: list[Shape] = []
    notes: list[Note] = []
    bottom = sum(_drawn(one, scale) for one in above)
    y = bottom
    for stratum in above:
        high = _drawn(stratum, scale)
        y -= high
        shapes += _layer(cut, stratum, y, high, scale)
        notes.append(_note(stratum, y + high / 2, high, scale, system))
    frame = next(one for one in cut.strata if one.role == FRAMING)
    shapes += [*_between(cut, bottom), *_frame(frame, bottom, scale)]
    note = _note(frame, bottom + _FRAME / 2, _FRAME, scale, system)
    notes.append(note._replace(texts=(*note.texts, *((f"between: {cut.insulation}",) if cut.insulation else ()))))
    shapes += [broken_up(0, 0, bottom), broken_up(PICTURE, 0, bottom)]
    return Picture(tuple(shapes), bottom + _FRAME + 1, tuple(notes), scale, _said(cut))


def _said(cut: Cut) -> tuple[str, ...]:
    side = "The room is above, the structure below" if cut.upright else "The structure is below"
    return (f"{side}. What is dashed the plan does not tell; a heavy dashed line keeps water out",)


def _drawn(stratum: Stratum, scale: Scale) -> float:
    if stratum.thick is None:
        return _LEAST if stratum.holds_water else _UNTOLD
    return max(_LEAST, scale.paper(stratum.thick.high))


def _note(stratum: Stratum, y: float, high: float, scale: Scale, system: str) -> Note:
    thick = told(stratum.thick, system)
    if stratum.thick is not None and stratum.how not in ("as written", ""):
        thick = f"{thick} {stratum.how}"
    rows = [stratum.said] if stratum.said else [SILENT]
    if stratum.thick is not None and scale.paper(stratum.thick.high) < _LEAST and stratum.role != FRAMING:
        rows.append("drawn thicker than it is")
    if stratum.at_drain is not None and stratum.at_wall is not None and stratum.how == AT_DRAIN:
        rows.append(f"{told(stratum.at_wall, system)} at the edge")
    title = stratum.role if stratum.thick is None and stratum.role == FRAMING else f"{stratum.role}, {thick}"
    if stratum.thick is None and stratum.role != FRAMING:
        title = f"{stratum.role}, thickness not told"
    return Note(stratum.id, PICTURE * 0.88, y, title + (", was there before" if stratum.existing else ""), tuple(rows))


def _layer(cut: Cut, stratum: Stratum, y: float, high: float, scale: Scale) -> list[Shape]:
    if stratum.role == TILE:
        return _tile(cut, stratum, y, high, scale)
    if stratum.holds_water and (stratum.thick is None or high <= _LEAST):
        middle = y + high / 2
        return [Shape("line", (0, middle, PICTURE, middle), "barrier")]
    shapes = [Shape("rect", (0, y, PICTURE, high), hatch_of(stratum.family, stratum.thick is not None))]
    if stratum.holds_water:
        shapes.append(Shape("line", (0, y + high / 2, PICTURE, y + high / 2), "barrier"))
    if stratum.thick is not None and not stratum.thick.exact:
        least = y + high - max(0.4, scale.paper(stratum.thick.low))
        shapes.append(Shape("line", (0, least, PICTURE, least), "ghost"))
    return shapes


def _tile(cut: Cut, stratum: Stratum, y: float, high: float, scale: Scale) -> list[Shape]:
    """Two tiles and the joint between them."""
    style = hatch_of("tile", stratum.thick is not None)
    width = cut.joint.width
    wide = max(0.6, scale.paper(width.low)) if width is not None else 2.5
    left, right = PICTURE * _JOINT - wide / 2, PICTURE * _JOINT + wide / 2
    return [
        Shape("rect", (0, y, left, high), style),
        Shape("rect", (left, y + 0.2, wide, high - 0.2), "grout" if width is not None else "untold"),
        Shape("rect", (right, y, PICTURE - right, high), style),
    ]


def _between(cut: Cut, y: float) -> list[Shape]:
    """Insulation between the members of a frame, where the plan tells it."""
    return [Shape("rect", (0, y, PICTURE, _FRAME), "batt")] if cut.insulation else []


def _frame(frame: Stratum, y: float, scale: Scale) -> list[Shape]:
    """What carries it, broken off below: wood cut across its grain has a cross from corner to corner."""
    end = broken(0, y + _FRAME, PICTURE)
    if frame.family == "wood":
        wide = min(scale.paper(_STUD), PICTURE - 4)
        left, right, low = (PICTURE - wide) / 2, (PICTURE + wide) / 2, y + _FRAME
        return [
            Shape("rect", (left, y, wide, _FRAME), "timber"),
            Shape("line", (left, y, right, low), "line"),
            Shape("line", (left, low, right, y), "line"),
            end,
        ]
    if frame.family == "steel":
        wide = min(scale.paper(_STUD), PICTURE - 4)
        left, right = (PICTURE - wide) / 2, (PICTURE + wide) / 2
        return [Shape("open", (right, y + 3, right, y + 0.4, left, y + 0.4, left, y + _FRAME), "strong"), end]
    shapes = [Shape("rect", (0, y, PICTURE, _FRAME), hatch_of(frame.family))]
    if frame.family == "ground slab":
        shapes = [
            Shape("rect", (0, y, PICTURE, _FRAME - 5), "slab"),
            Shape("rect", (0, y + _FRAME - 5, PICTURE, 5), "earth"),
        ]
    return [*shapes, end]
