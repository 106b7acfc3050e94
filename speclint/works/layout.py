"""The layout of every surface of a plan: ways along and up, courses, story pole, openings, pieces."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.kernel.faults import OutOfRange
from speclint.works.around import Around, Fitting, around, fittings_of, placed
from speclint.works.faces import UPRIGHT, Face, faces_of
from speclint.works.outlined import Corner, within
from speclint.works.parts import title_of
from speclint.works.pieces import Box, Count, Piece, count, lay
from speclint.works.reading import LONGEST, ZERO, Reach, Reader, flag
from speclint.works.setting import NOMINAL, Setting, setting_of
from speclint.works.ways import Side, Way, ways_across, ways_up


class Opening(NamedTuple):
    """An opening with its box, and what the tile round it keeps; ``optional``: tile may go behind it."""

    name: str
    box: Box
    around: Around
    optional: bool = False


class SurfaceLayout(NamedTuple):
    """The layout of one surface, in metres; ``ways`` is empty and ``missing`` says why where it cannot be laid out.

    ``across`` and ``up`` are ranked ways, the first of each is drawn. ``turned`` are those with the tile turned.
    ``marks`` are the tops of the courses above the foot of the surface. ``corners`` are those of a face that is no
    rectangle.
    """

    address: tuple[str, ...]
    name: str
    upright: bool
    width: Fraction
    height: Fraction
    setting: Setting | None
    across: tuple[Way, ...]
    up: tuple[Way, ...]
    turned: tuple[Way, ...]
    marks: tuple[Fraction, ...]
    openings: tuple[Opening, ...]
    fittings: tuple[Fitting, ...]
    pieces: tuple[Piece, ...]
    counted: Count | None
    notes: tuple[str, ...]
    missing: tuple[str, ...]
    corners: tuple[Corner, ...] = ()


def layouts_of(reader: Reader, root: Subject) -> tuple[SurfaceLayout, ...]:
    """The layout of every surface of every assembly in a room of a plan."""
    return tuple(
        layout_of(reader, face)
        for room in root.collections.get("rooms", ())
        for assembly in room.collections.get("assemblies", ())
        for face in faces_of(reader, assembly)
        if face.surface is not None and not face.again
    )


def layout_of(reader: Reader, face: Face) -> SurfaceLayout:
    """The layout of one surface; what is not told or not possible is named in it."""
    missing: list[str] = []
    width, height = (
        _side(face.width, "width", face.name, missing),
        _side(face.height, "height or length", face.name, missing),
    )
    setting = setting_of(reader, face.section, missing)
    if width is None or height is None or setting is None:
        return _without(face, width, height, setting, tuple(missing))
    try:
        return _laid(reader, face, width, height, setting)
    except OutOfRange as fault:
        return _without(face, width, height, setting, (str(fault),))


def _side(told: Reach | None, which: str, name: str, missing: list[str]) -> Fraction | None:
    if told is None or not told.exact:
        missing.append(f"{which} of {name}" + ("" if told is None else " as one figure"))
        return None
    if not 0 < told.low <= LONGEST:
        missing.append(f"a true {which}: {name} was misread, measure it again")
        return None
    return told.low


def _without(
    face: Face, width: Fraction | None, height: Fraction | None, setting: Setting | None, missing: tuple[str, ...]
) -> SurfaceLayout:
    none = Fraction(0)
    return SurfaceLayout(
        face.surface.address if face.surface is not None else (), face.name, face.sort in UPRIGHT, width or none,
        height or none, setting, (), (), (), (), (), (), (), None, (), missing,
    )  # fmt: skip


def _laid(reader: Reader, face: Face, width: Fraction, height: Fraction, setting: Setting) -> SurfaceLayout:
    assert face.surface is not None
    upright = face.sort in UPRIGHT
    along, rise = _sides(reader, face, width, height, setting)
    across = ways_across(along)
    up = ways_up(rise) if upright else ways_across(rise)
    run, course = across[0], up[0].runs[0]
    boxes, loose = placed(face, width)
    openings = tuple(
        Opening(title_of(hole.part), box, around(box, run.runs, course, setting.least_share), hole.optional)
        for hole, box in boxes
    )
    shape = face.outline if face.outline is not None and not face.outline.plain else None
    pieces = lay(run.runs, course, tuple(box for hole, box in boxes if not hole.optional))
    pieces = within(shape, pieces) if shape is not None else pieces
    notes = [*_notes(setting, face), *(f"{title_of(one.part)} is not placed: say from left and up" for one in loose)]
    if not pieces:
        notes.append("too many pieces to list: counted by courses, without openings")
    return SurfaceLayout(
        address=face.surface.address,
        name=face.name,
        upright=upright,
        width=width,
        height=height,
        setting=setting,
        across=across,
        up=up,
        turned=_turned(reader, face, width, height, setting),
        marks=tuple(foot + length for foot, length in course.pieces()),
        openings=openings,
        fittings=fittings_of(reader, face, run.runs, course),
        pieces=pieces,
        counted=count(run.runs, course, pieces, reader.table("layout.kerf").low),
        notes=tuple(notes),
        missing=(),
        corners=shape.corners if shape is not None else (),
    )


def _sides(reader: Reader, face: Face, width: Fraction, height: Fraction, setting: Setting) -> tuple[Side, Side]:
    """Along the courses and up them, with an open joint at each end that meets another face."""
    gap, upright = setting.gap, face.sort in UPRIGHT
    top = gap if not upright or _to_ceiling(reader, face, height) else Fraction(0)
    change, share = reader.table("takeoff.joint-change-most").low, setting.least_share
    if setting.joint_tolerance is not None:
        change = setting.joint_tolerance
    plain = (Fraction(0), 1, change, setting.least_joint, share)
    along = Side(width, (gap, gap), setting.along, setting.joint, setting.offset, setting.repeat, change, *plain[3:])
    return along, Side(height, (gap, top), setting.high, setting.joint, *plain)


def _to_ceiling(reader: Reader, face: Face, height: Fraction) -> bool:
    ceiling = reader.reach(face.section, "room.ceiling-height")
    return flag(face.section, "finish.to-ceiling") is True or (ceiling is not None and height >= ceiling.low)


def _turned(reader: Reader, face: Face, width: Fraction, height: Fraction, setting: Setting) -> tuple[Way, ...]:
    """The best ways along and up with the tile turned by a right angle; none for square tile or staggered courses."""
    if setting.along == setting.high or setting.offset:
        return ()
    try:
        along, rise = _sides(reader, face, width, height, setting._replace(along=setting.high, high=setting.along))
        up = ways_up(rise) if face.sort in UPRIGHT else ways_across(rise)
        return ways_across(along)[0], up[0]
    except OutOfRange:
        return ()


def _notes(setting: Setting, face: Face) -> list[str]:
    notes = [NOMINAL] if setting.nominal else []
    if setting.along != setting.high:
        notes.append("the long side is taken to lie along the courses")
    if setting.gap_from_joint:
        notes.append("the joint at corners and edges is taken as wide as a tile joint")
    if face.sort in UPRIGHT:
        foot = "the rim, which is the foot of the face" if face.foot != ZERO else "the foot of the face"
        notes.append(f"heights count from {foot}: set the first line level from its lowest point")
    if face.outline is not None and not face.outline.plain:
        notes.append("laid out over the whole width and length; pieces outside the outline are left out")
    return notes
