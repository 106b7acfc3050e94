"""A layout for people: what to do first, the cuts, the story pole, the openings, and the other ways with reasons."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.measures import size_text, tape_text
from speclint.forms.phrases import counted, sentence
from speclint.forms.rows import EMPTY, Piece, Row, labelled, paragraph
from speclint.forms.safe import safe
from speclint.works.layout import Opening, SurfaceLayout
from speclint.works.runs import Run
from speclint.works.ways import Way

NOTICE = "A layout from the plan: dry-lay or mark it out on the job before the first tile is set."
_MARKS = 40


def layout_rows(layouts: Sequence[SurfaceLayout], system: str, width: int) -> list[Row]:
    """The rows of all layouts for a terminal."""
    rows: list[Row] = []
    for layout in layouts:
        rows.append((Piece(f"{safe(' / '.join(layout.address[:-1]))}: {safe(layout.name)}", "strong"),))
        rows.extend(_laid(layout, system, width) if layout.across else _not_laid(layout, width))
        rows.append(EMPTY)
    if not layouts:
        rows += [(Piece("There is no surface to lay out."),), EMPTY]
    return [*rows, *paragraph(NOTICE, width, 0, "faint")]


def _not_laid(layout: SurfaceLayout, width: int) -> list[Row]:
    return labelled("not laid out", "missing: " + "; ".join(map(safe, layout.missing)), width, 2)


def _laid(layout: SurfaceLayout, system: str, width: int) -> list[Row]:
    setting = layout.setting
    assert setting is not None
    size = f"{size_text(layout.width, system)} x {size_text(layout.height, system)}"
    tile = f"{size_text(setting.along, system, 64)} x {size_text(setting.high, system, 64)}"
    rows = labelled("face", f"{size}; tile {tile}, joint {size_text(setting.joint, system, 64)}", width, 2)
    rows += labelled("along", _way(layout.across[0], system), width, 2)
    rows += labelled("up" if layout.upright else "across", _way(layout.up[0], system), width, 2)
    if layout.upright:
        rows += labelled(
            "first line", f"top of the first course {size_text(layout.marks[0], system)} above the foot", width, 2
        )
        shown = [tape_text(mark, system) for mark in layout.marks[:_MARKS]]
        more = len(layout.marks) - len(shown)
        rows += labelled("story pole", ", ".join(shown) + (f" and {more} more" if more else ""), width, 2)
    for opening in layout.openings:
        rows += labelled("opening", _opening(opening, system), width, 2)
    for fitting in layout.fittings:
        spot = f"course {fitting.course}, piece {fitting.number}" if fitting.number else "in a joint"
        into = f", {size_text(fitting.in_left, system)} from its left, {size_text(fitting.in_foot, system)} up"
        rows += labelled("hole", f"{safe(fitting.name)}: {spot}{into if fitting.number else ''}", width, 2)
    if layout.counted is not None:
        one = layout.counted
        tiles = f"{one.least}" if one.least == one.most else f"{one.least} to {one.most}"
        rows += labelled("pieces", f"{one.full} full and {one.cut} cut, from {tiles} tiles", width, 2)
    rows += _others(layout, system, width)
    for note in layout.notes:
        rows += labelled("note", sentence(note), width, 2)
    return rows


def _others(layout: SurfaceLayout, system: str, width: int) -> list[Row]:
    rows: list[Row] = []
    for name, ways in (("or along", layout.across), ("or up" if layout.upright else "or across", layout.up)):
        for way in ways[1:]:
            rows += labelled(name, _way(way, system), width, 2)
    if layout.turned:
        along, up = layout.turned
        rows += labelled("or turned", f"long side upright: {_way(along, system)}; courses {_way(up, system)}", width, 2)
    return rows


def _way(way: Way, system: str) -> str:
    return f"{way_text(way, system)} ({'; '.join(way.because)})"


def way_text(way: Way, system: str) -> str:
    """A way in words: its name, and what each distinct row holds."""
    runs = [_run(run, system) for run in way.runs]
    told = runs[0] if len(runs) == 1 else "; ".join(f"row {at}: {run}" for at, run in enumerate(runs, 1))
    return f"{way.name}: {told}"


def _run(run: Run, system: str) -> str:
    first, last = (size_text(piece, system) for piece in (run.first, run.last))
    full = run.full + (run.first == run.tile) + (run.last == run.tile)
    cuts = [text for text, piece in ((f"{first} first", run.first), (f"{last} last", run.last)) if 0 < piece < run.tile]
    told = counted(full, "full tile")
    if run.cuts() and run.first == run.last:
        told = f"{told} and {first} at both ends" if full else f"{first} at both ends"
    elif cuts:
        told = f"{' and '.join(cuts)}, {told} between" if len(cuts) == 2 else f"{told} and {cuts[0]}"
    if run.joint and not cuts and not run.cuts():
        told += f" with joints of {size_text(run.joint, system, 64)}"
    return told


def _opening(opening: Opening, system: str) -> str:
    box, kept = opening.box, opening.around
    size = f"{size_text(box.width, system)} x {size_text(box.height, system)}"
    spot = f"{size_text(box.left, system)} from left, {size_text(box.foot, system)} up"
    sides = [
        f"{name} {size_text(figure, system)}"
        for name, figure in (("left", kept.left), ("right", kept.right), ("below", kept.below), ("above", kept.above))
        if figure
    ]
    told = f"{safe(opening.name)}, {size}, {spot}: "
    told += f"tile keeps {', '.join(sides)}" if sides else "its edges fall on joints"
    return told + (f"; small at {' and '.join(kept.small)}: move it to a joint" if kept.small else "")
