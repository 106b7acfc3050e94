"""Laying out a run of tile: where it starts, the cuts at both ends, the marks of a story pole.

A field is wall to wall less both perimeter gaps. A module is one tile and one joint. A rest between a tile
and a module is a full tile with a slightly wide end joint.
"""

from itertools import chain
from typing import NamedTuple

from speclint.calc.guard import between, not_negative, positive, whole, whole_down
from speclint.calc.units import Count, Metres, Ratio
from speclint.kernel.faults import OutOfRange

_MOST = 100_000
"""More tiles than this in one run was misread."""
_ROWS = 1_000
_REACH = 1e3
"""Metres: a longer field was misread."""
_HAIR = 1e-9
"""Metres of float dust: a rest thinner than this is none."""


class Row(NamedTuple):
    """One run of tile: end pieces in metres (0 where there is none), full tiles between, extra width at
    the ends.
    """

    field: Metres
    tile: Metres
    joint: Metres
    first: Metres
    full: Count
    last: Metres
    first_gap: Metres
    last_gap: Metres

    def pieces(self) -> tuple[tuple[Metres, Metres], ...]:
        """Start and length of every piece from the first end, in metres."""
        start, placed = self.first_gap, []
        for length in chain((self.first,), (self.tile for _ in range(self.full)), (self.last,)):
            if length > 0:
                placed.append((start, length))
                start += length + self.joint
        return tuple(placed)

    def smallest_cut(self) -> Metres:
        """Smallest end piece in metres; the tile itself where both ends are full."""
        return min((piece for piece in (self.first, self.last) if piece > 0), default=self.tile)


def row_from(field: Metres, tile: Metres, joint: Metres, first_rest: Metres) -> Row:
    """The run whose first joint begins `first_rest` from its first end, from 0 to a module.

    A rest of one tile starts with a full tile. Raises OutOfRange for no field, no tile, a negative joint, a
    field no wider than a joint, a rest past a module, or more than a hundred thousand tiles. Source:
    arithmetic.
    """
    _checked(field, tile, joint)
    module = tile + joint
    between("length", 0, module, first_rest=first_rest)
    rest = min(first_rest, field)
    first = min(rest, tile) if rest > _HAIR else 0.0
    left = field - rest - joint
    if left <= _HAIR:
        return Row(field, tile, joint, first, 0, 0.0, rest - first, field - rest)
    full = whole_down(left / module)
    last_rest = left - full * module
    last = min(last_rest, tile) if last_rest > _HAIR else 0.0
    first_gap = rest - first if first else rest + joint
    last_gap = last_rest - last if last else max(0.0, last_rest + joint)
    return Row(field, tile, joint, first, full, last, first_gap, last_gap)


def end_rest(field: Metres, tile: Metres, joint: Metres, centre: str) -> Metres:
    """Rest in metres at both ends of a centred run, 0 to below a module.

    Half the field, less half a joint (centre "joint") or less half a tile and a joint (centre "tile"), less
    all whole modules in it. Raises OutOfRange for a field too short to centre so, or another centre. Source:
    arithmetic; ANSI A108.02 4.3.2 asks for centred, balanced work.
    """
    _checked(field, tile, joint)
    if centre not in {"joint", "tile"}:
        raise OutOfRange(f"centre is {centre!r:.40}; it must be joint or tile")
    half = (field - joint) / 2 if centre == "joint" else (field - tile) / 2 - joint
    if half < 0:
        raise OutOfRange(f"field is {field:g} m; it is too short for a {centre} on its centre")
    rest = half - whole_down(half / (tile + joint)) * (tile + joint)
    return rest if rest > _HAIR else 0.0


def centred_row(field: Metres, tile: Metres, joint: Metres, centre: str) -> Row:
    """The run centred on a "joint" or on a "tile", both end rests alike. Raises OutOfRange as `end_rest`."""
    return row_from(field, tile, joint, end_rest(field, tile, joint, centre))


def better_centre(field: Metres, tile: Metres, joint: Metres) -> str:
    """Say "joint" or "tile", whichever centre leaves the larger rest at the ends.

    The two rests differ by half a module, so the larger is at least that, and never under half a tile. A rest
    of nothing counts as a whole module: the ends are full tiles. Raises OutOfRange for a field shorter than a
    tile and two joints. Source: derived.
    """
    _checked(field, tile, joint)
    between("length", tile + 2 * joint, _REACH, field=field)
    rests = {name: end_rest(field, tile, joint, name) or tile + joint for name in ("joint", "tile")}
    return max(rests, key=lambda name: rests[name])


def offset_rows(row: Row, offset: Ratio, repeat: Count) -> tuple[Row, ...]:
    """The distinct rows of an offset pattern, the given row first; each begins an offset of a module further
    on.

    Offset is a share of the module, repeat the number of rows after which the pattern comes round (3 for a
    third). Raises OutOfRange for an offset outside 0 to 1 or a repeat outside 1 to 1000. Source: arithmetic.
    """
    between("ratio", 0, 1, offset=offset)
    whole(1, repeat=repeat)
    between("count", 1, _ROWS, repeat=repeat)
    _checked(row.field, row.tile, row.joint)
    not_negative("length", first=row.first, first_gap=row.first_gap)
    module = row.tile + row.joint
    start = row.first + row.first_gap if row.first else 0.0
    rests = ((start + turn * offset * module) % module for turn in range(int(repeat)))
    return tuple(row_from(row.field, row.tile, row.joint, rest) for rest in rests)


def _checked(field: float, tile: float, joint: float) -> None:
    positive("length", field=field, tile=tile)
    not_negative("length", joint=joint)
    if field <= joint + _HAIR:
        raise OutOfRange(f"field is {field:g} m; it must be wider than a joint, {joint:g} m")
    if field / (tile + joint) > _MOST:
        raise OutOfRange(f"tile is {tile:g} m; at most {_MOST} are laid out in a field of {field:g} m")
