"""Every face that gets tile: surfaces less their openings, and the faces of parts."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.works.lines import Input
from speclint.works.outlined import Outlined, outlined
from speclint.works.parts import HIGH, HOLES, WIDE, Hole, hole_of, kind_of, sides_of, size_of, stands_in, title_of
from speclint.works.reading import LONGEST, ZERO, Reach, Reader, flag, word

MOST = 100
"""More equal faces than this on one line were misread."""
UPRIGHT = frozenset({"wall", "waterline", "pool shell", "jamb"})


class Face(NamedTuple):
    """One face with its tile: ``section`` is where its finish is told, ``area`` net of openings, None if not known.

    ``surface`` is the line of the plan that it stands for, None for the face of a part. ``many`` is the number of
    equal faces that ``area`` holds; ``takes`` marks an area that is only taken off. ``steps`` say what it is made of.
    ``foot`` is how high above the floor the tile begins; ``again`` marks a face like the one before it.
    """

    section: Subject
    surface: Subject | None
    name: str
    sort: str
    width: Reach | None
    height: Reach | None
    area: Reach | None
    holes: tuple[Hole, ...]
    steps: tuple[Input, ...]
    missing: tuple[str, ...]
    many: int = 1
    takes: bool = False
    outline: Outlined | None = None
    foot: Reach | None = ZERO
    again: bool = False


def faces_of(reader: Reader, assembly: Subject) -> tuple[Face, ...]:
    """Every face of an assembly and of its parts."""
    surfaces = assembly.collections.get("surfaces", ())
    parts = assembly.collections.get("parts", ())
    room = assembly.outer.collections.get("assemblies", ()) if assembly.outer is not None else ()
    listed = frozenset(
        word(surface, "surface.sort") for one in (assembly, *room) for surface in one.collections.get("surfaces", ())
    )
    kinds = frozenset(kind_of(part) for part in parts)
    found: list[Face] = []
    placed: set[int] = set()
    for surface in surfaces:
        alone = sum(word(one, "surface.sort") == word(surface, "surface.sort") for one in surfaces) == 1
        holes: list[Hole] = []
        for part in parts:
            hole = hole_of(reader, part)
            if hole is not None and stands_in(part, surface, alone and _may(part, surface)):
                holes.append(hole)
                placed.add(id(part))
        found.extend(_surfaces(reader, assembly, surface, tuple(holes)))
        if found[-1].sort == "floor":
            found.extend(_under(reader, assembly, [part for one in room for part in one.collections.get("parts", ())]))
    for part in parts:
        found.extend(_sides(reader, part, listed, kinds))
        if kind_of(part) in HOLES and id(part) not in placed:
            found.append(_loose(reader, assembly, part))
        if kind_of(part) == "bench":
            found.extend(_hidden(reader, assembly, part, id(part) in placed))
    return tuple(found)


def name_of(surface: Subject) -> str:
    """A surface as the plan names it: ``wall "back"``, or its sort alone."""
    name = surface.own.get("surface.name")
    sort = word(surface, "surface.sort") or "surface"
    return f'{sort} "{name.value}"' if isinstance(name, Known) else sort


def _may(part: Subject, surface: Subject) -> bool:
    """Whether a part that names no face may stand in one of this sort."""
    return word(surface, "surface.sort") == (word(part, "part.surface-sort") or "wall")


def _surfaces(reader: Reader, assembly: Subject, surface: Subject, holes: tuple[Hole, ...]) -> Iterator[Face]:
    """One surface as often as its line says; what stands in it is in the first."""
    face = _surface(reader, assembly, surface, holes)
    told = reader.reach(surface, "surface.count")
    number = told.low if told is not None and told.exact and 0 < told.low <= MOST else None
    if told is not None and number is None:
        yield face._replace(area=None, missing=(*face.missing, f"one true count of {face.name}"))
        return
    yield face
    plain = _surface(reader, assembly, surface, ()) if number and number > 1 else face
    for at in range(2, int(number or 1) + 1):
        yield plain._replace(again=True, name=f"{face.name}, number {at}")


def _surface(reader: Reader, assembly: Subject, surface: Subject, holes: tuple[Hole, ...]) -> Face:
    name, sort = name_of(surface), word(surface, "surface.sort")
    missing: list[str] = []
    width, height = reader.reach(surface, "surface.told-across"), reader.reach(surface, "surface.told-along")
    outline = outlined(reader, surface, name, missing)
    if outline is not None:
        width, height = Reach(outline.width, outline.width), Reach(outline.height, outline.height)
    foot = _foot(reader, assembly, sort)
    height = _tiled(reader, assembly, sort, height, foot)
    area = reader.reach(surface, "surface.area")
    steps: list[Input] = []
    if area is not None:
        steps.append(Input(f"{name}, as written", area, "area"))
    elif outline is not None and height is not None and height.high < outline.height and not outline.plain:
        missing.append(f"the outline of {name} as high as its tile goes")
    elif outline is not None and not outline.plain:
        area = Reach(outline.area, outline.area)
        steps.append(Input(f"{name}, by its {len(outline.corners)} corners", area, "area"))
    elif width is not None and height is not None:
        area = width.times(height)
        steps += [Input(f"{name}, wide", width, "size"), Input(f"{name}, high or long", height, "size")]
    elif not missing:
        facts = (("surface.told-across", width), ("surface.told-along", height))
        missing.extend(f"{reader.means(fact)} ({name})" for fact, told in facts if told is None)
    missing.extend(_absurd(name, width, height))
    for hole in holes:
        area = _less(reader, area, hole, width, steps, missing)
    if any(side is not None and not 0 < side.low <= side.high <= LONGEST for side in (width, height)):
        area = None
    told = (tuple(steps), tuple(missing))
    return Face(assembly, surface, name, sort, width, height, area, holes, *told, outline=outline, foot=foot)


def _foot(reader: Reader, assembly: Subject, sort: str) -> Reach | None:
    """How high above the floor the tile of a face begins: at the rim of a tub or pan, if that is under the wall."""
    rim = sort == "wall" and flag(assembly, "receptor.rim") is True
    return reader.reach(assembly, "receptor.rim-height") if rim else ZERO


def _tiled(reader: Reader, assembly: Subject, sort: str, height: Reach | None, foot: Reach | None) -> Reach | None:
    """A wall is as high as its tile goes, where the plan says so; a tile height never makes a stated face higher."""
    told = reader.reach(assembly, "finish.height-above-rim")
    above = reader.reach(assembly, "finish.height-above-floor")
    if told is None and above is not None:
        told = above.plus(foot.scaled(-1)) if foot is not None else above if height is not None else None
    if sort not in UPRIGHT or told is None:
        return height
    return told if height is None else Reach(min(height.low, told.low), min(height.high, told.high))


def _absurd(name: str, *sides: Reach | None) -> Iterator[str]:
    if any(side is not None and not 0 < side.low <= side.high <= LONGEST for side in sides):
        yield f"a true size: {name} was misread, measure it again"


def _less(
    reader: Reader, area: Reach | None, hole: Hole, width: Reach | None, steps: list[Input], missing: list[str]
) -> Reach | None:
    """The area less one hole; a bench may hide tile or not, which makes a range."""
    wide = hole.width or (width if hole.kind in ("band", "zone") else None)
    if wide is None or hole.height is None:
        if not hole.optional:
            size_of(reader, hole.part, HIGH if hole.height is None else WIDE, missing)
        return area
    taken = wide.times(hole.height)
    steps.append(Input(f"less {title_of(hole.part)}" + (" or not" if hole.optional else ""), taken, "area"))
    if area is None:
        return None
    if taken.low > area.low:
        missing.append(f"a true size: {title_of(hole.part)} is larger than the face it stands in")
        return None
    return Reach(max(area.low - taken.high, Fraction(0)), area.high if hole.optional else area.high - taken.low)


def _sides(reader: Reader, part: Subject, listed: frozenset[str], kinds: frozenset[str]) -> Iterator[Face]:
    for side in sides_of(part, listed, kinds):
        missing: list[str] = []
        across, along = size_of(reader, part, side.across, missing), size_of(reader, part, side.along, missing)
        name = f"{title_of(part)}, {side.name}"
        missing.extend(_absurd(name, across, along))
        area = across.times(along).scaled(side.many) if across is not None and along is not None else None
        steps = (Input(name, area, "area"),) if area is not None else ()
        area = None if missing else area
        yield Face(part, None, name, kind_of(part), across, along, area, (), steps, tuple(missing), side.many)


def _loose(reader: Reader, assembly: Subject, part: Subject) -> Face:
    """What a part takes out of a face that the plan does not name."""
    missing: list[str] = []
    across, along = size_of(reader, part, WIDE, missing), size_of(reader, part, HIGH, missing)
    area = across.times(along) if across is not None and along is not None else None
    return _taken(assembly, f"opening of {title_of(part)}", area.scaled(-1) if area else None, tuple(missing))


def _hidden(reader: Reader, assembly: Subject, part: Subject, placed: bool) -> Iterator[Face]:
    """What stands behind and beside a bench: tiled if the bench is built last, hidden if it is built first."""
    quiet: list[str] = []
    wide, high, deep = (size_of(reader, part, f"part.{side}", quiet) for side in ("width", "height", "depth"))
    if high is None:
        return
    if deep is not None:
        yield _taken(assembly, f"walls beside {title_of(part)}, or not", Reach(deep.high * high.high * -2, Fraction(0)))
    if wide is not None and not placed:
        yield _taken(assembly, f"wall behind {title_of(part)}, or not", Reach(-wide.high * high.high, Fraction(0)))


def _under(reader: Reader, assembly: Subject, parts: list[Subject]) -> Iterator[Face]:
    """What a bench anywhere in the room hides of its floor, if it is built before the tile."""
    quiet: list[str] = []
    for part in parts:
        if kind_of(part) == "bench":
            wide, deep = (size_of(reader, part, f"part.{side}", quiet) for side in ("width", "depth"))
            if wide is not None and deep is not None:
                area = Reach(-wide.high * deep.high, Fraction(0))
                yield _taken(assembly, f"floor under {title_of(part)}, or not", area)


def _taken(assembly: Subject, name: str, area: Reach | None, missing: tuple[str, ...] = ()) -> Face:
    steps = (Input(f"less {name}", Reach(-area.low, -area.low), "area"),) if area is not None else ()
    return Face(assembly, None, name, "hole", None, None, area, (), steps, missing, 1, True)
