"""One run of tile from end to end, exact: pieces, joints and gaps add up to the face to the last digit."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.calc.layout import end_rest, row_from
from speclint.works.corners import si_figure

Gaps = tuple[Fraction, Fraction]
"""Open joints at the first and at the last end of a face, in metres."""


class Run(NamedTuple):
    """A run over a face of ``length``: an end piece (0 where there is none), full tiles, the other end piece.

    Metres, exact. ``first_gap`` and ``last_gap`` are what stays open between the pieces and the ends of the face.
    """

    length: Fraction
    tile: Fraction
    joint: Fraction
    first: Fraction
    full: int
    last: Fraction
    first_gap: Fraction
    last_gap: Fraction

    def lengths(self) -> tuple[Fraction, ...]:
        """Every piece in order."""
        ends = ((self.first,) if self.first else ()), ((self.last,) if self.last else ())
        return (*ends[0], *((self.tile,) * self.full), *ends[1])

    def pieces(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """Start and length of every piece from the first end of the face."""
        at, found = self.first_gap, []
        for length in self.lengths():
            found.append((at, length))
            at += length + self.joint
        return tuple(found)

    def cuts(self) -> tuple[Fraction, ...]:
        """The end pieces that are cut."""
        return tuple(piece for piece in (self.first, self.last) if 0 < piece < self.tile)

    def least(self) -> Fraction:
        """The smallest end piece; the tile where both ends are full."""
        return min(self.cuts(), default=self.tile)


def run_from(length: Fraction, gaps: Gaps, tile: Fraction, joint: Fraction, rest: Fraction) -> Run:
    """The run whose first joint begins ``rest`` from the gap at the first end; raises OutOfRange as `row_from`."""
    field = length - sum(gaps)
    row = row_from(*[si_figure(one) for one in (field, tile, joint, min(rest, tile + joint))])
    rest = min(rest, field)
    first = min(rest, tile) if row.first > 0 else Fraction(0)
    last_rest = field - rest - joint - row.full * (tile + joint)
    last = min(last_rest, tile) if row.last > 0 else Fraction(0)
    first_gap = gaps[0] + (rest - first if first else rest + joint)
    number = row.full + (first > 0) + (last > 0)
    used = first_gap + first + row.full * tile + last + max(0, number - 1) * joint
    return Run(length, tile, joint, first, row.full, last, first_gap, length - used)


def centred_run(length: Fraction, gaps: Gaps, tile: Fraction, joint: Fraction, centre: str) -> Run:
    """The run centred on a ``joint`` or a ``tile``; raises OutOfRange where the face is too short for that."""
    field, module = length - sum(gaps), tile + joint
    half = (field - joint) / 2 if centre == "joint" else (field - tile) / 2 - joint
    rest = Fraction(end_rest(si_figure(field), si_figure(tile), si_figure(joint), centre))
    return run_from(length, gaps, tile, joint, half - round((half - rest) / module) * module)


def full_from(length: Fraction, gaps: Gaps, tile: Fraction, joint: Fraction, end: str) -> Run:
    """The run with a full tile at its ``first`` or ``last`` end, or the one piece where the face holds no more."""
    field, module = length - sum(gaps), tile + joint
    if end == "first" or field <= module:
        return run_from(length, gaps, tile, joint, min(tile, field))
    return run_from(length, gaps, tile, joint, (field - module) % module)


def shifted(run: Run, gaps: Gaps, offset: Fraction, repeat: int) -> tuple[Run, ...]:
    """The distinct rows of an offset pattern, the given one first."""
    module = run.tile + run.joint
    rest = run.first + (run.first_gap - gaps[0]) if run.first else Fraction(0)
    turns = ((rest + turn * offset * module) % module for turn in range(repeat))
    return (run, *(run_from(run.length, gaps, run.tile, run.joint, each) for each in tuple(turns)[1:]))
