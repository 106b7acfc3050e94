"""The quantities of a plan, room by room, and of all plans together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from speclint.facts.build import build_subjects
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import Subject
from speclint.plan.tree import Plan
from speclint.review.show import INCH, system_of
from speclint.works.batches import batches
from speclint.works.build_lines import build_lines
from speclint.works.edge_lines import band_lines, between_lines, sealant_lines
from speclint.works.faces import faces_of
from speclint.works.lines import Line, Takeoff, summed
from speclint.works.mortar_lines import grout_line, mortar_line, sealer_lines
from speclint.works.reading import Reach, Reader
from speclint.works.tile_lines import tile_lines
from speclint.works.trim_lines import trim_lines

_FIRST = (
    "tile, by the cut plan",
    "or tile, by area and waste",
    "tile, by area and waste",
    "tile left with the owner",
    "spacers",
    "levelling clips",
    "mortar",
    "grout",
)


def takeoff(plans: Iterable[Plan], catalogue: Catalogue) -> Takeoff:
    """The lines of every room of every plan, and one order for all of them in the units of the first."""
    every = tuple(plans)
    lines: list[Line] = []
    left_out: list[str] = []
    systems: list[str] = []
    for plan in every:
        if plan.fragment:
            left_out.append(f"{plan.file}: no plan line, so it is part of another plan and not taken off alone")
            continue
        root = build_subjects(plan, catalogue)
        systems.append(system_of(root))
        name = plan.root.name if len(every) > 1 else ""
        lines.extend(_of_plan(Reader(catalogue, plan.root, systems[0]), root, name))
        if plan.problems:
            number = f"{len(plan.problems)} lines are" if len(plan.problems) > 1 else "one line is"
            left_out.append(f"{plan.file}: {number} not read, so what stands there is not in the quantities")
        if not root.collections.get("rooms"):
            left_out.append(f"{plan.file}: no room, so there is nothing to take off")
    return summed(lines, tuple(left_out), systems[0] if systems else INCH)


def _of_plan(reader: Reader, root: Subject, plan: str) -> Iterator[Line]:
    for room in root.collections.get("rooms", ()):
        place = f"{plan} / {room.name}" if plan else room.name
        many = reader.reach(room, "room.count")
        for line in _of_room(reader, room, place):
            yield _times(line, many) if many is not None and many.low > 1 else line


def _of_room(reader: Reader, room: Subject, place: str) -> Iterator[Line]:
    """Tile, mortar and grout of all assemblies together; layers and edges assembly by assembly."""
    assemblies = room.collections.get("assemblies", ())
    faces = {id(assembly): faces_of(reader, assembly) for assembly in assemblies}
    every = [face for assembly in assemblies for face in faces[id(assembly)]]
    lines: list[Line] = []
    for batch in batches(reader, place, every, "tile", "pattern", "tile carton"):
        lines.extend(tile_lines(reader, batch))
    lines.extend(
        mortar_line(reader, batch) for batch in batches(reader, place, every, "mortar", "trowel", "mortar bag")
    )
    for batch in batches(reader, place, every, "grout", "tile", "joint", "grout bag"):
        lines.append(grout_line(reader, batch))
    yield from sorted(lines, key=lambda one: _FIRST.index(one.item))
    for batch in batches(reader, place, every, "sealer", "tile", "joint"):
        yield from sealer_lines(reader, batch)
    for assembly in assemblies:
        yield from build_lines(reader, place, assembly, faces[id(assembly)])
        yield from band_lines(reader, place, assembly, faces[id(assembly)])
    for assembly in assemblies:
        yield from sealant_lines(reader, place, assembly, faces[id(assembly)])
        yield from trim_lines(reader, place, assembly, faces[id(assembly)])
    yield from between_lines(reader, place, [(assembly, faces[id(assembly)]) for assembly in assemblies])


def _times(line: Line, many: Reach) -> Line:
    """The line of several equal rooms."""
    number = Reach(Fraction(many.low), Fraction(many.high))
    packs = line.packs._replace(number=line.packs.number.times(number)) if line.packs is not None else None
    net = line.net.times(number) if line.net is not None else None
    because = (*line.because, f"{int(many.high)} equal rooms")
    return line._replace(net=net, packs=packs, because=because)
