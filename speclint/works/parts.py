"""The faces of a part and the holes it makes in the face it stands in or on."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.works.reading import Reach, Reader, word

WIDE, HIGH, DEEP = "part.width", "part.height", "part.depth"
HOLES = frozenset({"niche", "window", "opening", "band", "zone", "doorway"})
_FLAT = frozenset({"sill", "shelf", "ramp", "threshold", "tub deck"})


class Side(NamedTuple):
    """One sort of face of a part: its name, the facts of its two sides, and how many there are of it."""

    name: str
    across: str
    along: str
    many: int = 1


_SIDES: dict[str, tuple[Side, ...]] = {
    "niche": (Side("back", WIDE, HIGH), Side("top and bottom", WIDE, DEEP, 2), Side("sides", HIGH, DEEP, 2)),
    "window": (Side("head and sill", WIDE, DEEP, 2), Side("jambs", HIGH, DEEP, 2)),
    "opening": (Side("head and sill", WIDE, DEEP, 2), Side("jambs", HIGH, DEEP, 2)),
    "bench": (Side("top", WIDE, DEEP), Side("front", WIDE, HIGH)),
    "curb": (Side("top", WIDE, DEEP), Side("inside face", WIDE, HIGH), Side("outside face", WIDE, HIGH)),
    "half wall": (Side("faces", WIDE, HIGH, 2), Side("top", WIDE, DEEP), Side("end", DEEP, HIGH)),
    "column": (Side("wide faces", WIDE, HIGH, 2), Side("narrow faces", DEEP, HIGH, 2)),
    "step": (Side("tread", WIDE, DEEP), Side("riser", WIDE, HIGH)),
    **{kind: (Side("top", WIDE, DEEP),) for kind in sorted(_FLAT)},
    **{
        kind: (Side("face", WIDE, HIGH),) for kind in ("band", "zone", "tub apron", "jamb", "base", "ceiling", "soffit")
    },
}
_LISTED = {  # a surface of this sort stands for the face of the part
    "curb top": (("curb", "top"),),
    "curb face": (("curb", "inside face"), ("curb", "outside face")),
    "bench top": (("bench", "top"),),
    "bench face": (("bench", "front"),),
    "tub deck": (("tub deck", "top"),),
    "tub apron": (("tub apron", "face"),),
    "ceiling": (("ceiling", "face"),),
    "sill": (("window", "head and sill"), ("opening", "head and sill"), ("sill", "top")),
    "jamb": (("window", "jambs"), ("opening", "jambs"), ("jamb", "face")),
}


class Hole(NamedTuple):
    """A part in or on a face: its size, and where it stands if that is told; ``optional``: tile may go behind it."""

    part: Subject
    kind: str
    width: Reach | None
    height: Reach | None
    left: Reach | None
    up: Reach | None
    optional: bool = False


def kind_of(part: Subject) -> str:
    """The kind of a part, or nothing."""
    return word(part, "part.kind")


def title_of(part: Subject) -> str:
    """A part as people name it: ``niche "left niche"``."""
    kind = kind_of(part) or "part"
    return kind if part.name.casefold() == kind else f'{kind} "{part.name}"'


def sides_of(part: Subject, listed: frozenset[str], kinds: frozenset[str]) -> tuple[Side, ...]:
    """The sorts of face of a part, without those that stand in the plan as surfaces or parts of their own."""
    kind = kind_of(part)
    told = {side for sort in listed for of, side in _LISTED.get(sort, ()) if of == kind}
    if kind in ("window", "opening"):
        told |= ({"head and sill"} if "sill" in kinds else set()) | ({"jambs"} if "jamb" in kinds else set())
    return tuple(side for side in _SIDES.get(kind, ()) if side.name not in told)


def size_of(reader: Reader, part: Subject, fact: str, missing: list[str]) -> Reach | None:
    """One measure of a part; where it is not told, it is named as missing. A band is as high as its two edges say."""
    found = reader.reach(part, fact)
    if found is None and fact == HIGH and kind_of(part) in ("band", "zone"):
        found = reader.reach(part, "part.band-height")
    if found is None and fact == DEEP and kind_of(part) in _FLAT:
        found = reader.reach(part, HIGH)
    if found is None:
        missing.append(f"{reader.means(fact)} ({title_of(part)})")
    return found


def hole_of(reader: Reader, part: Subject) -> Hole | None:
    """What a part takes out of the face it stands in; None for one that stands on it and hides nothing."""
    kind = kind_of(part)
    if kind not in HOLES and kind != "bench":
        return None
    quiet: list[str] = []
    width, height = size_of(reader, part, WIDE, quiet), size_of(reader, part, HIGH, quiet)
    left, up = reader.reach(part, "part.from-left"), reader.reach(part, "part.foot-above-floor")
    if kind in ("band", "zone"):
        up = reader.reach(part, "part.band-from") or up
    if kind == "bench" and up is None:
        up = Reach(Fraction(0), Fraction(0))
    return Hole(part, kind, width, height, left, up, kind == "bench")


def stands_in(part: Subject, surface: Subject, alone: bool) -> bool:
    """Whether a part stands in a surface: by its name, or because it is the only one that it can stand in."""
    told, name = part.own.get("part.surface"), surface.own.get("surface.name")
    if isinstance(told, Known):
        return isinstance(name, Known) and str(told.value).casefold() == str(name.value).casefold()
    return alone
