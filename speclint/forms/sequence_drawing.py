"""The order of work of a room as a chart: one bar a step along the days, dark where it is sure."""

from __future__ import annotations

from speclint.forms.drawing import Drawing, Shape, id_of, text_width
from speclint.forms.moments import day_text
from speclint.forms.sequence_text import stage_told
from speclint.forms.sheet import EDGE, WIDE, lines
from speclint.works.sequence import BEFORE, DONE, Sequence, Stage
from speclint.works.workdays import DAY

_SIZE, _ROW, _BAR, _TICKS = 3.1, 4.0, 2.2, 4
_STEPS = (1, 2, 7, 14, 28, 56, 112, 365, 3650)
"""Days between two lines of the chart."""


def sequence_chart(found: Sequence) -> Drawing | None:
    """The chart of one room; None where there is no work to put in order."""
    if not found.stages:
        return None
    first = min(stage.begins for stage in found.stages) // DAY
    last = max(stage.ends for stage in found.stages) // DAY + 1
    title = f"{found.room}: order of work"
    head = lines(title, WIDE - 2 * EDGE, 3.4)
    shapes = [Shape("text", (EDGE, 6.0 + _ROW * at), "head", row, 3.4) for at, row in enumerate(head)]
    top = 9.0 + _ROW * len(head)
    y = top + 2
    bars: list[Shape] = []
    for stage in found.stages:
        rows, y = _row(stage, first, last, y)
        bars += rows
    told = "; ".join(f"{when}: {does}" for when, does, _ in map(stage_told, found.stages))
    axis = _days(first, last, top)
    return Drawing(id_of((found.room, "order")), title, f"{told}.", WIDE, y + 3, (*shapes, *axis, *bars))


def _x(moment: float, first: int, last: int) -> float:
    """Where a moment, in days, stands on the sheet."""
    return EDGE + (WIDE - 2 * EDGE) * (moment - first) / (last - first)


def _days(first: int, last: int, top: float) -> list[Shape]:
    """The dates of a few days above the chart, as many as stand clear of one another."""
    shapes: list[Shape] = []
    free = 0.0
    for day in _marked(first, last):
        x, text = _x(day, first, last), day_text(day * DAY)
        shapes.append(Shape("line", (x, top, x, top + 1.2), "line"))
        end = x + text_width(text, _SIZE)
        if free <= x and end <= WIDE - EDGE:
            shapes.append(Shape("text", (x, top - 1), "faint", text, _SIZE))
            free = end + 2
    return shapes


def _marked(first: int, last: int) -> range:
    return range(first, last, next((one for one in _STEPS if (last - first) / one <= _TICKS), _STEPS[-1]))


def _row(stage: Stage, first: int, last: int, y: float) -> tuple[list[Shape], float]:
    """One step: its name, its day at the right, and its bar below them, between the marks of the days."""
    when, does, _ = stage_told(stage)
    room = WIDE - 2 * EDGE - text_width(when, _SIZE) - 3
    shapes = [Shape("text", (WIDE - EDGE, y + 3.4), "faint", when, _SIZE, "end")]
    for row in lines(does, room, _SIZE):
        y += _ROW
        shapes.append(Shape("text", (EDGE, y - 0.6), "note", row, _SIZE))
    marks = (_x(day, first, last) for day in _marked(first, last))
    shapes += [Shape("line", (x, y + 0.6, x, y + 0.6 + _BAR), "dim") for x in marks]
    shapes.append(Shape("line", (EDGE, y + 0.6 + _BAR, WIDE - EDGE, y + 0.6 + _BAR), "dim"))
    left, right = _x(stage.begins / DAY, first, last), _x(stage.ends / DAY, first, last)
    style = "full" if stage.state in (DONE, BEFORE) else "metal" if stage.sure else "cut"
    shapes.append(Shape("rect", (left, y + 0.6, max(1.2, right - left), _BAR), style))
    return shapes, y + _BAR + 2.2
