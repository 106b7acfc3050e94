"""What runs along lines: sealant of soft joints, bands under them, seals at pipes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from speclint.calc.movement import joint_lines, sealant_volume
from speclint.facts.subject import Subject
from speclint.works.batches import NOT_TOLD, Batch, line
from speclint.works.corners import si_figure
from speclint.works.faces import Face
from speclint.works.lines import Input, Line, Pack
from speclint.works.parts import kind_of, size_of, title_of
from speclint.works.reading import ZERO, Reach, Reader, hull, tried, word, words

_SEAMED = frozenset({"banded", "fabric and liquid"})
_PLANES = "sealant at changes of plane"


def corner_runs(reader: Reader, faces: Iterable[Face], missing: list[str]) -> list[Input]:
    """Every line where planes meet: between walls, at their feet, and in and at the parts."""
    every = list(faces)
    found: list[Input] = []
    walls = [face for face in every if face.surface is not None and face.sort == "wall"]
    for face in walls:
        if face.width is None or face.height is None:
            missing.append(f"size of {face.name}")
        else:
            found.append(Input(f"foot of {face.name}", face.width, "run"))
    corners, high = _corners(walls), hull(face.height for face in walls if face.height is not None)
    if high is not None and corners.high > 0:
        found.append(Input("inside corners of walls", high.times(corners), "run"))
    for part in dict.fromkeys(face.section for face in every if face.surface is None and not face.takes):
        found.extend(_part_runs(reader, part, missing))
    return found


def _corners(walls: Iterable[Face]) -> Reach:
    """How many corners some walls of known height make with one another: in a row, or all round from four on."""
    number = sum(face.height is not None for face in walls)
    return Reach(Fraction(max(number - 1, 0)), Fraction(number if number > 3 else max(number - 1, 0)))


def between_lines(reader: Reader, place: str, build_ups: Sequence[tuple[Subject, tuple[Face, ...]]]) -> Iterator[Line]:
    """Sealant in the corners where walls of two assemblies of a room meet."""
    walls = [
        (section, [face for face in faces if face.surface is not None and face.sort == "wall"])
        for section, faces in build_ups
    ]
    walls = [one for one in walls if one[1] and "grout" not in words(one[0], "change-of-plane.fill")]
    every = [face for _, faces in walls for face in faces]
    within = [_corners(faces) for _, faces in walls]
    high, total = hull(face.height for face in every if face.height is not None), _corners(every)
    least = total.low - sum(one.low for one in within)
    if len(walls) < 2 or high is None or least <= 0:
        return
    runs = [Input("corners where two assemblies meet", high.times(Reach(least, max(least, total.high))), "run")]
    section = walls[0][0]
    said = reader.said(section, "change of plane") or reader.said(section, "sealant")
    batch = Batch(place, section, said or NOT_TOLD, tuple(every), None, (), ())
    missing = [] if said else [reader.means("change-of-plane.told-fill")]
    yield _sealant(reader, batch, _PLANES, runs, reader.reach(section, "change-of-plane.width"), None, missing)


def _part_runs(reader: Reader, part: Subject, missing: list[str]) -> Iterator[Input]:
    """Inside lines of a niche; lines of a bench or curb to floor and walls, with or without its ends."""
    kind = kind_of(part)
    if kind not in ("niche", "bench", "curb"):
        return
    wide, high, deep = (size_of(reader, part, f"part.{side}", missing) for side in ("width", "height", "depth"))
    if wide is None or high is None or deep is None:
        return
    if kind == "niche":
        yield Input(f"{title_of(part)}, inside", wide.plus(high).scaled(2).plus(deep.scaled(4)), "run")
        return
    foot = wide.scaled(2) if kind == "bench" else wide
    ends = high.plus(deep).scaled(2) if kind == "bench" else high.scaled(4).plus(deep.scaled(2))
    yield Input(f"{title_of(part)}, with or without its ends", Reach(foot.low, foot.high + ends.high), "run")


def added(runs: Iterable[Input]) -> Reach:
    """The sum of the figures of some inputs."""
    total = ZERO
    for one in runs:
        total = total.plus(one.figure)
    return total


def sealant_lines(reader: Reader, place: str, section: Subject, faces: tuple[Face, ...]) -> Iterator[Line]:
    """Sealant at changes of plane of a room, and in the soft joints across its faces."""
    missing: list[str] = []
    runs = corner_runs(reader, faces, missing)
    said = reader.said(section, "change of plane") or reader.said(section, "sealant")
    if "grout" in words(section, "change-of-plane.fill"):
        return
    batch = Batch(place, section, said or NOT_TOLD, faces, None, (), ())
    if not said:
        missing.append(reader.means("change-of-plane.told-fill"))
    if runs:
        width = reader.reach(section, "change-of-plane.width")
        yield _sealant(reader, batch, _PLANES, runs, width, None, missing)
    for joint in section.members("movement joints") or ():
        yield from _field(reader, batch, joint, faces)


def _sealant(
    reader: Reader,
    batch: Batch,
    item: str,
    runs: list[Input],
    width: Reach | None,
    depth: Reach | None,
    missing: list[str],
) -> Line:
    because: list[str] = []
    if width is None:
        width = reader.reach(batch.section, "joint.width")
        because.append("as wide as a tile joint, since no width is told")
    if depth is None and width is not None:
        share = reader.between("takeoff.sealant-depth-least", "takeoff.sealant-depth-most")
        depth = Reach(width.low * share.low, width.high * share.high)
        because.append("as deep as half to all of its width")
    length, loss = added(runs), reader.table("takeoff.sealant-loss")
    inputs, volume = [*runs, Input("loss", loss, "ratio")], None
    if width is None or depth is None:
        missing.append(reader.means("joint.width"))
    else:
        inputs += [Input("wide", width, "size"), Input("deep", depth, "size")]
        volume = tried(missing, sealant_volume, length=length, width=width, depth=depth, loss=loss)
    return line(
        batch,
        item,
        net=length,
        dimension="run",
        packs=Pack("cartridge", "300 ml", volume.over(reader.table("takeoff.sealant-cartridge"))) if volume else None,
        inputs=inputs,
        formula="length times width times depth, loss added",
        because=because,
        missing=missing,
    )


def _field(reader: Reader, batch: Batch, joint: Subject, faces: tuple[Face, ...]) -> Iterator[Line]:
    """Soft joints across the faces by their spacing each way."""
    spacing, missing, runs = reader.reach(joint, "movement-joint.spacing"), list[str](), list[Input]()
    if spacing is None or not spacing.exact:
        return
    for face in faces:
        if face.surface is None or face.width is None or face.height is None or face.area is None:
            continue
        across, along = (
            joint_lines(si_figure(side.high), si_figure(spacing.low)) for side in (face.width, face.height)
        )
        length = face.height.scaled(across).plus(face.width.scaled(along))
        if length.high > 0:
            runs.append(Input(f"{across} and {along} lines in {face.name}", length, "run"))
    if runs:
        width, depth = (reader.reach(joint, f"movement-joint.{side}") for side in ("width", "depth"))
        told = batch._replace(specification=reader.line_of(joint))
        yield _sealant(reader, told, "sealant in movement joints", runs, width, depth, missing)


def band_lines(reader: Reader, place: str, assembly: Subject, faces: tuple[Face, ...]) -> Iterator[Line]:
    """Band or fabric at corners of the membrane, and a seal for each pipe that has one."""
    for layer in assembly.members("layers") or ():
        if word(layer, "layer.role") != "membrane":
            continue
        sheet = word(layer, "layer.family") == "sheet membrane"
        if not sheet and not _SEAMED & {word(layer, "layer.seams"), word(layer, "layer.corners")}:
            continue
        missing: list[str] = []
        runs = corner_runs(reader, faces, missing)
        if runs:
            length, waste = added(runs), reader.table("takeoff.band-waste")
            yield line(
                Batch(place, assembly, reader.line_of(layer), faces, None, (), ()),
                "band at corners of the membrane",
                net=length,
                dimension="run",
                packs=Pack("roll", "10 m (33 ft)", length.more(waste).over(reader.table("takeoff.band-roll"))),
                inputs=(*runs, Input("laps", waste, "ratio")),
                formula="lines where planes meet, laps added; seams of sheets within a face come besides",
                missing=missing,
            )
    yield from _seals(place, assembly, faces)


def _seals(place: str, assembly: Subject, faces: tuple[Face, ...]) -> Iterator[Line]:
    kinds: dict[str, list[str]] = {}
    for item in assembly.collections.get("penetrations", ()):
        seal = word(item, "penetration.seal")
        if seal:
            kinds.setdefault(seal, []).append(word(item, "penetration.kind") or item.name)
    for seal, pipes in kinds.items():
        number = Reach(Fraction(len(pipes)), Fraction(len(pipes)))
        yield line(
            Batch(place, assembly, seal, faces, None, (), ()),
            "seal at pipes",
            net=number,
            dimension="count",
            packs=Pack("piece", "", number),
            inputs=tuple(Input(pipe, Reach(Fraction(1), Fraction(1)), "count") for pipe in pipes),
            formula="one for each pipe or fitting that the plan seals so",
        )
