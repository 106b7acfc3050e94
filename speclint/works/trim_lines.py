"""Trim at the edges of the tile: lengths by the places that the plan tells, or as they are written."""

from __future__ import annotations

from collections.abc import Iterator

from speclint.facts.subject import Subject
from speclint.works.batches import Batch, line
from speclint.works.edge_lines import added
from speclint.works.faces import Face
from speclint.works.lines import Input, Line, Pack
from speclint.works.parts import kind_of, size_of, title_of
from speclint.works.reading import ZERO, Reach, Reader, word, words

_PARTS = {
    "niche edge": ("niche",),
    "curb": ("curb",),
    "outside corner": ("half wall", "column", "window", "opening", "bench"),
    "doorway": ("doorway", "threshold"),
}


def trim_lines(reader: Reader, place: str, assembly: Subject, faces: tuple[Face, ...]) -> Iterator[Line]:
    """Lengths of trim by where it goes; a place whose length is not drawn is named."""
    for trim in assembly.collections.get("trims", ()):
        missing: list[str] = []
        runs: list[Input] = []
        places = words(trim, "trim.edge")
        told = reader.reach(trim, "trim.length")
        if told is not None:
            runs.append(Input("as written", told, "run"))
        else:
            for edge in sorted(places):
                runs.extend(_edge(reader, edge, assembly, faces, missing))
            if not places:
                missing.append(reader.means("trim.edge"))
        yield _trim(reader, Batch(place, assembly, reader.line_of(trim), faces, None, (), ()), runs, missing)
    if word(assembly, "edges.treatment") in ("profile", "bullnose") and not assembly.collections.get("trims"):
        free: list[str] = []
        runs = [run for edge in ("niche edge", "curb") for run in _at_parts(reader, edge, assembly, free)]
        runs += [run._replace(figure=Reach(ZERO.low, run.figure.high)) for run in _at_walls("side edge", faces)]
        free.append("which free edges get trim: a trim line with its place makes it exact")
        yield _trim(reader, Batch(place, assembly, reader.said(assembly, "edges"), faces, None, (), ()), runs, free)


def _trim(reader: Reader, batch: Batch, runs: list[Input], missing: list[str]) -> Line:
    length, waste = added(runs), reader.table("takeoff.trim-waste")
    known = length.high > 0
    return line(
        batch,
        "trim",
        net=length if known else None,
        dimension="run",
        packs=Pack("length", "8 ft", length.more(waste).over(reader.table("takeoff.trim-length"))) if known else None,
        inputs=(*runs, Input("mitres and ends", waste, "ratio")) if known else (),
        formula="length of the edges, mitres and ends added",
        missing=missing,
    )


def _edge(reader: Reader, edge: str, assembly: Subject, faces: tuple[Face, ...], missing: list[str]) -> Iterator[Input]:
    """The runs of one place of trim; a place that nothing drawn has is named with the way to tell its length."""
    before = len(missing)
    found = list(_at_parts(reader, edge, assembly, missing))
    found += _at_walls(edge, faces)
    width = reader.reach(assembly, "entry.width") if edge == "doorway" and not found else None
    if width is not None:
        found.append(Input("width of the entry", width, "run"))
    if not found and len(missing) == before:
        missing.append(f"length of the {edge}: a trim line may tell it, such as trim profile at {edge}, 84 in long")
    yield from found


def _at_parts(reader: Reader, edge: str, assembly: Subject, missing: list[str]) -> Iterator[Input]:
    for part in assembly.collections.get("parts", ()):
        if kind_of(part) in _PARTS.get(edge, ()):
            wide, high = (size_of(reader, part, f"part.{side}", missing) for side in _sides(part, edge))
            if wide is not None and high is not None:
                yield Input(f"edges of {title_of(part)}", _around(part, wide, high), "run")


def _sides(part: Subject, edge: str) -> tuple[str, str]:
    """The two measures that the edges of a part run along; one of them twice where it is the only one."""
    kind = kind_of(part)
    if kind in ("curb", "bench") or edge == "doorway":
        return "width", "width"
    return ("height", "height") if kind == "column" else ("width", "height")


def _around(part: Subject, wide: Reach, high: Reach) -> Reach:
    """How long the edges of a part are: both long ones of a curb, four of a column, all round a niche or window."""
    kind = kind_of(part)
    if kind in ("curb", "bench", "doorway", "threshold"):
        return wide.scaled(2 if kind == "curb" else 1)
    return high.scaled(4) if kind == "column" else wide.plus(high).scaled(2)


def _at_walls(edge: str, faces: tuple[Face, ...]) -> Iterator[Input]:
    walls = [face for face in faces if face.surface is not None and face.sort == "wall"]
    side = {"top edge": "width", "wall foot": "width", "side edge": "height"}.get(edge, "")
    ends = walls[:1] + walls[-1:] if edge == "side edge" else walls
    for face in ends if side else ():
        run: Reach | None = face.width if side == "width" else face.height
        if run is not None:
            yield Input(f"{edge} of {face.name}", run, "run")
