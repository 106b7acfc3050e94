"""Ways to lay out one side of a face, ranked: cuts no smaller than half a tile first, then the larger, then fewer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import partial
from typing import NamedTuple

from speclint.calc.courses import absorbing_joint
from speclint.kernel.faults import OutOfRange
from speclint.works.corners import si_figure
from speclint.works.runs import Gaps, Run, centred_run, full_from, shifted


class Way(NamedTuple):
    """One way: its name, the distinct rows, the smallest cut, and why it stands where it does."""

    name: str
    runs: tuple[Run, ...]
    least: Fraction
    because: tuple[str, ...]
    asks: bool = False


class Side(NamedTuple):
    """What is laid out along one side of a face, in metres: ``change`` is how far a joint may be changed."""

    length: Fraction
    gaps: Gaps
    tile: Fraction
    joint: Fraction
    offset: Fraction
    repeat: int
    change: Fraction
    least_joint: Fraction
    least_share: Fraction

    @property
    def field(self) -> Fraction:
        """What lies between the open joints at both ends."""
        return self.length - sum(self.gaps)

    @property
    def field_small(self) -> bool:
        """Whether one tile is larger than the face."""
        return self.field < self.tile


_STARTS = {
    "joint on the center line": partial(centred_run, centre="joint"),
    "tile on the center line": partial(centred_run, centre="tile"),
    "full tile at the left end": partial(full_from, end="first"),
    "full tile at the right end": partial(full_from, end="last"),
}
_COURSES = {
    "full tile at the foot": partial(full_from, end="first"),
    "full tile at the top": partial(full_from, end="last"),
    "both ends alike, joint in the middle": partial(centred_run, centre="joint"),
    "both ends alike, tile in the middle": partial(centred_run, centre="tile"),
}


def ways_across(side: Side) -> tuple[Way, ...]:
    """The ways along the courses; raises OutOfRange where there is none."""
    return _ranked(side, _STARTS, balanced=True)


def ways_up(side: Side) -> tuple[Way, ...]:
    """The ways of the courses up a wall: from a full tile at the foot while the top keeps the least share of a tile."""
    return _ranked(side, _COURSES, balanced=False)


def _ranked(side: Side, starts: Mapping[str, Callable[..., Run]], balanced: bool) -> tuple[Way, ...]:
    found: list[tuple[tuple[int | Fraction, ...], Way]] = []
    fault: OutOfRange | None = None
    for place, (name, start) in enumerate(starts.items()):
        try:
            run = start(side.length, side.gaps, side.tile, side.joint)
            way = _way(name, shifted(run, side.gaps, side.offset, side.repeat), side)
        except OutOfRange as error:
            fault = fault or error
            continue
        small = way.least < side.least_share * side.tile
        order = (small, -way.least, place) if balanced or small else (small, place, -way.least)
        found.append((order, way))
    if not found:
        raise fault or OutOfRange("there is no way to lay out this face")
    ranked = _distinct([way for _, way in sorted(found, key=lambda one: one[0])], balanced)
    absorbed = _absorbed(side) if ranked[0].least < side.tile else None
    return (*ranked, *((absorbed,) if absorbed is not None else ()))


def _way(name: str, runs: tuple[Run, ...], side: Side) -> Way:
    least = min(run.least() for run in runs)
    cuts = [cut for run in runs for cut in run.cuts()]
    because: list[str] = []
    if not cuts:
        because.append("no cut at either end")
    elif least >= side.least_share * side.tile:
        because.append(f"no cut under {_share(side)}")
    elif side.offset:
        because.append("an offset leaves a small cut in some course: the larger the smallest, the better")
    else:
        because.append(f"leaves a cut under {_share(side)}")
    if cuts and all(run.first == run.last for run in runs):
        because.append("both ends alike")
    if any(_wide(run, side) for run in runs):
        because.append("an end is wider than a joint: move the tile or cut it")
    if side.field_small:
        because.append("the face is smaller than a tile: every piece is cut")
    return Way(name, runs, least, tuple(because))


def _share(side: Side) -> str:
    return "half a tile" if side.least_share * 2 == 1 else "the least cut that the plan allows"


def _wide(run: Run, side: Side) -> bool:
    """Whether an end stays open by more than a joint beyond its own gap."""
    return run.first_gap - side.gaps[0] > side.joint or run.last_gap - side.gaps[1] > side.joint


def _distinct(ways: list[Way], mirrored: bool) -> tuple[Way, ...]:
    """Without ways that lay the same rows again; along straight courses a mirrored way is the same."""
    seen: set[frozenset[tuple[Fraction, Fraction]]] = set()
    kept: list[Way] = []
    for way in ways:
        ends = ((run.first % run.tile, run.last % run.tile) for run in way.runs)
        mark = frozenset((min(one), max(one)) if mirrored and len(way.runs) == 1 else one for one in ends)
        if mark not in seen:
            seen.add(mark)
            kept.append(way)
    return tuple(kept)


def _absorbed(side: Side) -> Way | None:
    """Whole tiles with every joint changed a little; None where the change is more than may be asked for."""
    field, module = side.field, side.tile + side.joint
    if side.offset or field < 2 * module:
        return None
    tiles = round((field + side.joint) / module)
    try:
        needed = Fraction(absorbing_joint(si_figure(field), si_figure(side.tile), tiles))
    except OutOfRange:
        return None
    exact = (field - tiles * side.tile) / (tiles - 1)
    if exact == side.joint or abs(needed - side.joint) > side.change or exact < side.least_joint:
        return None
    run = Run(side.length, side.tile, exact, Fraction(0), tiles, Fraction(0), *side.gaps)
    because = ("no cut at either end", "every joint is changed: the designer agrees first")
    return Way("whole tiles, the joints take up the rest", (run,), side.tile, because, asks=True)
