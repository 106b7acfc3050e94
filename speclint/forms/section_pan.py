"""A floor cut through its drain: fall, run, the bed at the drain and at the edge; heights larger than lengths."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from speclint.forms.drawing import Scale, Shape, scale_for
from speclint.forms.measures import INCH
from speclint.forms.section_parts import NOT_TOLD, broken, broken_up, fall_text, hatch_of, told
from speclint.forms.sheet import EDGE, WIDE, Note, Picture
from speclint.works.section_layers import FRAMING, MORTAR, TILE
from speclint.works.section_pins import DRAIN
from speclint.works.section_values import Cut, Pan, Stratum

_ACROSS, _BASE, _WALL, _UPTO = WIDE - 2 * EDGE - 20, 6.0, 7.0, 30.0
_LARGER = (5, 4, 3, 2, 1)
_LEAST, _UNTOLD = 0.9, 2.4
_TURN = 0.15
"""Share of the floor between two letters."""
_MOUTH = 3.4
"""Half of the drain as it is drawn, where its size is not told or would not be seen."""


class _Frame(NamedTuple):
    """Where the floor stands: paper from the drain's edge to the wall, heights magnified, the foot of the layers."""

    left: float
    right: float
    foot: float
    scale: Scale
    larger: int

    def high(self, metres: Fraction) -> float:
        """Paper for a height of the job."""
        return self.scale.paper(metres) * self.larger

    def spot(self, low: float, high: float, turn: int) -> tuple[float, float]:
        """Where the letter of a layer stands, each a step nearer to the drain, by its height at both ends."""
        share = 0.9 - _TURN * turn
        return self.left + (self.right - self.left) * share, low + (high - low) * share


def pan_picture(cut: Cut, system: str) -> Picture | None:
    """The floor from its drain to its farthest edge; None where no run or no fall is told."""
    pan = cut.pan
    if pan is None or pan.run is None or pan.rise is None or pan.run.high <= 0:
        return None
    layers = _above(cut.strata)
    most = _stack(layers) + pan.rise.high
    scale = scale_for(pan.run.high, Fraction(1, 1000), _ACROSS, 1000, system == INCH)
    larger = next((one for one in _LARGER if scale.paper(most) * one <= _UPTO), 1)
    top = max(scale.paper(most) * larger, 6.0) + 9
    frame = _Frame(2 * _MOUTH + 3, 2 * _MOUTH + 3 + scale.paper(pan.run.high), top, scale, larger)
    floor, notes = _floor(frame, pan, layers, system)
    shapes = [*_wall(frame, pan.walled), *_ground(frame, cut), *floor, *_drain(frame, pan), *_run(frame, pan, system)]
    notes.append(_drain_note(frame, pan))
    larger_said = f"Heights are drawn {larger} times as large as lengths" if larger > 1 else "Heights as lengths"
    return Picture(tuple(shapes), top + _BASE + 12, tuple(notes), scale, (larger_said, *_edge(pan)), keyed=True)


def _above(strata: Sequence[Stratum]) -> list[Stratum]:
    """The layers from the first that makes the fall; all but the structure where none does."""
    layers = [one for one in strata if one.role != FRAMING]
    first = next((at for at, one in enumerate(layers) if _falls(one)), None)
    return (
        layers[first:]
        if first is not None
        else [one for one in layers if one.role in (MORTAR, TILE) or one.holds_water]
    )


def _falls(stratum: Stratum) -> bool:
    return stratum.role == "pre-slope" or stratum.at_drain is not None


def _stack(layers: Sequence[Stratum]) -> Fraction:
    return sum((_at_drain(one) or Fraction(0) for one in layers), Fraction(0))


def _at_drain(stratum: Stratum) -> Fraction | None:
    figure = stratum.at_drain or stratum.thick
    return figure.high if figure is not None else None


def _floor(frame: _Frame, pan: Pan, layers: Sequence[Stratum], system: str) -> tuple[list[Shape], list[Note]]:
    """Every layer as a wedge or a strip, from below; the first that falls takes the rise."""
    shapes: list[Shape] = []
    notes: list[Note] = []
    low = high = frame.foot
    wedge = next((one for one in layers if _falls(one)), None)
    if wedge is None:
        grown = _rise(frame, pan, None)
        shapes.append(_strip(frame, (low, high, low, high - grown), "untold"))
        notes.append(Note(pan.id, *frame.spot(low, high - grown / 2, 0), f"what makes the fall: {NOT_TOLD}"))
        high -= grown
    for one in layers:
        thick = _at_drain(one)
        drawn = max(_LEAST, frame.high(thick)) if thick is not None else _UNTOLD
        grown = _rise(frame, pan, one) if one is wedge else 0.0
        shapes += _layer(frame, one, (low, high, drawn, grown))
        if one is wedge or one.holds_water or one.role == "mortar bed":
            spot = frame.spot(low - drawn / 2, high - (drawn + grown) / 2, len(notes))
            notes.append(_note(one, *spot, system))
        low, high = low - drawn, high - drawn - grown
    fall = (f"rises {told(pan.rise, system)} over the run",)
    notes.append(
        Note("slope", *frame.spot(low - 2.4, high - 2.4, len(notes)), f"falls {fall_text(pan.fall, system)}", fall)
    )
    return [*shapes, *_arrow(frame, low - 2.4, high - 2.4)], notes


def _rise(frame: _Frame, pan: Pan, wedge: Stratum | None) -> float:
    """How much higher the floor stands at its edge: by the layer where it tells both ends, else by fall and run."""
    assert pan.rise is not None
    rise = pan.rise.high
    if wedge is not None and wedge.at_wall is not None and wedge.at_drain is not None:
        rise = wedge.at_wall.high - wedge.at_drain.high
    return frame.high(rise)


def _layer(frame: _Frame, one: Stratum, figures: tuple[float, float, float, float]) -> list[Shape]:
    """One layer on what lies below it; the part of a wedge whose thickness at the drain is not told is dashed."""
    low, high, drawn, grown = figures
    if one.holds_water:
        points = (frame.left - 3, low - drawn / 2, frame.left, low - drawn / 2, frame.right - 0.9, high - drawn / 2)
        return [Shape("open", (*points, frame.right - 0.9, 3.0), "barrier")]
    if grown and _at_drain(one) is None:
        return [
            _strip(frame, (low, high, low - drawn, high - drawn), "untold"),
            _strip(frame, (low - drawn, high - drawn, low - drawn, high - drawn - grown), hatch_of(one.family)),
        ]
    return [
        _strip(frame, (low, high, low - drawn, high - drawn - grown), hatch_of(one.family, _at_drain(one) is not None))
    ]


def _strip(frame: _Frame, corners: tuple[float, float, float, float], style: str) -> Shape:
    """A layer from the drain to the wall by its lower and upper heights there."""
    low, high, low_top, high_top = corners
    points = (frame.left, low, frame.right, high, frame.right, high_top, frame.left, low_top)
    return Shape("path", points, style)


def _note(stratum: Stratum, x: float, y: float, system: str) -> Note:
    if not _falls(stratum):
        thick = told(stratum.thick, system) if stratum.thick is not None else "thickness not told"
        return Note(stratum.id, x, y, f"{stratum.role}, {thick}", _turned(stratum))
    drain, wall = told(stratum.at_drain, system), told(stratum.at_wall, system)
    return Note(stratum.id, x, y, stratum.role, (f"at the drain {drain}", f"at the edge {wall}"))


def _turned(stratum: Stratum) -> tuple[str, ...]:
    """How far a barrier turns up, as the plan says it."""
    said = [part.strip() for part in stratum.said.split(",") if "turned up" in part]
    return tuple(said) if stratum.holds_water else ()


def _arrow(frame: _Frame, low: float, high: float) -> list[Shape]:
    """The way of the water, down to the drain."""
    x, y = frame.left + 2, low + (high - low) * 2 / (frame.right - frame.left)
    return [
        Shape("open", (frame.right - 6, high + (low - high) * 6 / (frame.right - frame.left), x, y), "water"),
        Shape("open", (x + 2.2, y - 1.5, x, y, x + 2.6, y + 0.5), "water"),
    ]


def _ground(frame: _Frame, cut: Cut) -> list[Shape]:
    family = next(one.family for one in cut.strata if one.role == FRAMING)
    style = "wood" if family == "wood" else hatch_of(family)
    left = frame.left - 2 * _MOUTH
    return [
        Shape("rect", (0, frame.foot, left, _BASE), style),
        Shape("rect", (frame.left, frame.foot, frame.right + _WALL - frame.left, _BASE), style),
        broken_up(0, frame.foot, _BASE),
    ]


def _drain(frame: _Frame, pan: Pan) -> list[Shape]:
    """The drain at the left end: its grate, its flange or ring, and the pipe below."""
    left, right = frame.left - 2 * _MOUTH, frame.left
    top = frame.foot
    shapes = [
        Shape("open", (left, top, left + 1.2, top, left + 1.2, top + _BASE + 5), "strong"),
        Shape("open", (right, top, right - 1.2, top, right - 1.2, top + _BASE + 5), "strong"),
        broken(left + 1.2, top + _BASE + 5, right - left - 2.4),
    ]
    if not pan.drain:
        return [Shape("rect", (left, top - 2, right - left, 2), "untold")]
    if pan.clamps:
        shapes += [Shape("rect", (one, top - 1.8, 2.6, 1.2), "metal") for one in (left - 2.6, right)]
    if pan.gravel:
        shapes.append(Shape("rect", (right, top - 4.4, 2.6, 2.6), "gravel"))
    return shapes


def _drain_note(frame: _Frame, pan: Pan) -> Note:
    return Note(DRAIN, frame.left - _MOUTH, frame.foot + _BASE + 1, "drain", (pan.drain or NOT_TOLD,))


def _wall(frame: _Frame, walled: bool) -> list[Shape]:
    high = frame.foot - 2
    return [
        Shape("rect", (frame.right, 2, _WALL, high), "face" if walled else "untold"),
        broken(frame.right, 2, _WALL),
    ]


def _run(frame: _Frame, pan: Pan, system: str) -> list[Shape]:
    y = frame.foot + _BASE + 5
    ends = [Shape("open", (x - 0.8, y + 0.8, x + 0.8, y - 0.8), "outline") for x in (frame.left, frame.right)]
    text = f"run {told(pan.run, system)}"
    middle = (frame.left + frame.right) / 2
    return [
        Shape("line", (frame.left - 1.2, y, frame.right + 1.2, y), "dim"),
        *ends,
        Shape("text", (middle, y + 4.2), "mark", text, 3.1, "middle"),
    ]


def _edge(pan: Pan) -> tuple[str, ...]:
    if pan.plane:
        return ("The floor is one plane",)
    return ("The edge of the floor is taken as level; nearer to the drain the same rise makes a steeper fall",)
