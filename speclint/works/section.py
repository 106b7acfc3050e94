"""A cut through every assembly of a plan: its layers, notch, joints, falls, curbs and edges, as values to draw."""

from __future__ import annotations

from speclint.facts.subject import Subject
from speclint.plan.tree import Plan
from speclint.review.show import INCH
from speclint.works.build_lines import run_to_drain
from speclint.works.faces import UPRIGHT, faces_of
from speclint.works.parts import kind_of
from speclint.works.reading import Reach, Reader, flag, word, words
from speclint.works.section_layers import strata_of
from speclint.works.section_lines import Told
from speclint.works.section_values import Curb, Cut, Joint, Notch, Pan, Soft, Trim

_WOOD = "wood"
_CURB_KEYS = (
    "kind", "size", "place", "height above drain", "run to drain", "height below sides", "build", "top fall", "cap",
    "top", "inside face", "outside face", "anchors",
)  # fmt: skip


def cuts_of(plan: Plan, root: Subject, system: str = INCH) -> tuple[Cut, ...]:
    """The cut through every assembly in a room of a plan; its figures are in metres."""
    reader, told = Reader(root.catalogue, plan.root, system), Told(plan.root)
    return tuple(
        cut_of(reader, told, assembly)
        for room in root.collections.get("rooms", ())
        for assembly in room.collections.get("assemblies", ())
    )


def cut_of(reader: Reader, told: Told, assembly: Subject) -> Cut:
    """The cut through one assembly; its figures are in metres."""
    sorts = [word(one, "surface.sort") for one in assembly.collections.get("surfaces", ())]
    pan = _pan(reader, told, assembly) if "floor" in sorts or assembly.members("drains") else None
    parts = assembly.collections.get("parts", ())
    return Cut(
        address=assembly.address,
        upright=bool(sorts) and all(sort in UPRIGHT for sort in sorts),
        strata=strata_of(reader, told, assembly, pan.rise if pan is not None else None),
        insulation=reader.said(assembly, "insulation"),
        notch=_notch(reader, told, assembly),
        joint=_joint(reader, told, assembly),
        corner=_corner(reader, told, assembly),
        pan=pan,
        curbs=tuple(_curb(reader, told, assembly, one) for one in parts if kind_of(one) == "curb"),
        soft=tuple(
            _movement(reader, told, one, at) for at, one in enumerate(assembly.members("movement joints") or (), 1)
        ),
        trims=tuple(_trim(reader, told, one, at) for at, one in enumerate(assembly.collections.get("trims", ()), 1)),
        lines=(*told.headings.get(assembly.address, ()), *told.of(assembly, "surface", "flatness", "short flatness")),
    )


def _notch(reader: Reader, told: Told, assembly: Subject) -> Notch:
    facts = ("trowel.width", "trowel.depth", "trowel.land", "ridge.reach", "bed.thickness")
    width, depth, land, reach, bed = (reader.reach(assembly, fact) for fact in facts)
    lines = told.of(assembly, "trowel", "back-butter", "coverage", "setting", "lift")
    said, shape = reader.said(assembly, "trowel"), word(assembly, "trowel.shape")
    return Notch("trowel", said, shape, width, depth, land, reach, bed, lines)


def _joint(reader: Reader, told: Told, assembly: Subject) -> Joint:
    facts = ("joint.width", "ridge.in-joint", "grout.open-depth")
    width, ridge, room = (reader.reach(assembly, fact) for fact in facts)
    said = [reader.said(assembly, key) for key in ("joint", "grout", "joint clearing")]
    keys = ("joint", "spacers", "joint clearing", "grout", "grout color", "sealer", "lippage limit", "levelling")
    return Joint("joint", said[0], said[1], said[2], width, ridge, room, told.of(assembly, *keys))


def _corner(reader: Reader, told: Told, assembly: Subject) -> Soft:
    said = reader.said(assembly, "change of plane") or reader.said(assembly, "sealant")
    lines = told.of(assembly, "change of plane", "sealant", "bond breaker", "tub joint")
    width, backer = reader.reach(assembly, "change-of-plane.width"), flag(assembly, "change-of-plane.backer") is True
    return Soft("corner", said, word(assembly, "change-of-plane.fill"), width, None, None, backer, lines)


def _movement(reader: Reader, told: Told, joint: Subject, at: int) -> Soft:
    facts = ("movement-joint.width", "movement-joint.depth", "movement-joint.spacing")
    width, depth, spacing = (reader.reach(joint, fact) for fact in facts)
    backer, fill = flag(joint, "movement-joint.backer") is True, word(joint, "movement-joint.fill")
    said = reader.line_of(joint)
    return Soft(f"movement-{at}", said, fill, width, depth, spacing, backer, told.item(joint, "temperature range"))


def _trim(reader: Reader, told: Told, trim: Subject, at: int) -> Trim:
    kind, high = word(trim, "trim.kind"), reader.reach(trim, "trim.height")
    return Trim(f"trim-{at}", reader.line_of(trim), kind, high, told.item(trim))


def _pan(reader: Reader, told: Told, assembly: Subject) -> Pan:
    drains = assembly.members("drains") or ()
    drain = drains[0] if drains else None
    fall, run = reader.reach(assembly, "slope.fall"), _run(reader, assembly)
    near = reader.reach(assembly, "slope.nearest-run")
    if near is None and drain is not None:
        near = reader.reach(drain, "drain.shortest-run")
    linear = drain is not None and flag(drain, "drain.linear") is True
    return Pan(
        id="slope",
        said=reader.said(assembly, "slope"),
        drain=reader.line_of(drain) if drain is not None else "",
        clamps=drain is not None and flag(drain, "drain.clamps") is True,
        outlet=reader.reach(drain, "drain.outlet") if drain is not None else None,
        gravel=drain is not None and "gravel" in word(drain, "drain.weep-guard"),
        fall=fall,
        run=run,
        near=near,
        rise=fall.times(run) if fall is not None and run is not None else None,
        walled=_walled(assembly),
        plane="one plane" in words(assembly, "slope.form") or linear,
        lines=told.of(assembly, "slope", "flood test planned"),
        drain_lines=told.of(assembly, "drain"),
    )


def _walled(assembly: Subject) -> bool:
    """Whether the plan tells of a wall in the room."""
    room = assembly.outer.collections.get("assemblies", ()) if assembly.outer is not None else ()
    surfaces = [surface for one in room for surface in one.collections.get("surfaces", ())]
    return any(word(one, "surface.sort") in UPRIGHT for one in surfaces)


def _run(reader: Reader, assembly: Subject) -> Reach | None:
    floors = [face for face in faces_of(reader, assembly) if face.surface is not None and face.sort == "floor"]
    return run_to_drain(reader, assembly, floors[0] if floors else None)


def _curb(reader: Reader, told: Told, assembly: Subject, part: Subject) -> Curb:
    facts = ("part.height", "part.depth", "part.height-above-drain", "part.fall")
    high, deep, above, fall = (reader.reach(part, fact) for fact in facts)
    covers = tuple((side, word(part, f"part.{side}-cover")) for side in ("top", "inside", "outside"))
    over = [one for one in assembly.members("layers") or () if flag(one, "layer.over-curb") is True]
    barrier = reader.line_of(over[0]) if over else "membrane" if any("membrane" in two for _, two in covers) else ""
    build = word(part, "part.build")
    return Curb(
        id=f"curb-{part.name}",
        name=part.name,
        build=reader.said(part, "build"),
        family=_WOOD if flag(part, "part.wood-build") is True else build,
        high=high or reader.reach(part, "part.rough-height"),
        rough=high is None,
        deep=deep,
        above_drain=above,
        fall=fall,
        cap=word(part, "part.cap"),
        covers=covers,
        barrier=barrier,
        lines=(*told.headings.get(part.address, ()), *told.of(part, *_CURB_KEYS)),
    )
