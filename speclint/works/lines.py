"""The lines of a takeoff: what, how much of it, in which packs, how it was reached, and what is not known."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

from speclint.works.reading import ZERO, Reach


class Input(NamedTuple):
    """One figure that a quantity rests on: its name, and SI figures of a dimension."""

    name: str
    figure: Reach
    dimension: str


class Pack(NamedTuple):
    """How goods are ordered: the pack's name (``bag``), what one holds in words, and packs as an exact number."""

    name: str
    holds: str
    number: Reach


class Line(NamedTuple):
    """One quantity of one place.

    ``net`` is what the work takes, in SI units of ``dimension``; None where it is not known. ``packs`` is the same with
    waste and loss, in packs, not yet rounded. ``missing`` names every fact that was not told and bears on the line.
    """

    place: str
    item: str
    specification: str
    net: Reach | None
    dimension: str
    packs: Pack | None
    inputs: tuple[Input, ...]
    formula: str
    because: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def at_least(self) -> bool:
        """Whether part of the quantity is not in it."""
        return bool(self.missing) and self.net is not None


class Total(NamedTuple):
    """One item of the whole order: net of all places, and whole packs from least to greatest."""

    item: str
    specification: str
    net: Reach | None
    dimension: str
    pack: str
    holds: str
    ordered: tuple[int, int] | None
    places: tuple[str, ...]
    missing: tuple[str, ...]


class Takeoff(NamedTuple):
    """The lines of every place, and the order of all of them; ``left_out`` says what was not taken off and why."""

    lines: tuple[Line, ...]
    order: tuple[Total, ...]
    left_out: tuple[str, ...]
    system: str


def summed(lines: Iterable[Line], left_out: tuple[str, ...], system: str) -> Takeoff:
    """The lines with the order: equal items of equal specification and pack are added, and rounded up once."""
    every = tuple(lines)
    packs: dict[tuple[str, str], str] = {}
    for line in every:
        if line.packs is not None:
            packs.setdefault((line.item, line.specification), line.packs.name + line.packs.holds)
    groups: dict[tuple[str, str, str], list[Line]] = {}
    for line in every:
        # what is not known has no pack: it stands with what is known of the same goods, never as an order of its own
        pack = line.packs.name + line.packs.holds if line.packs else packs.get((line.item, line.specification), "")
        groups.setdefault((line.item, line.specification, pack), []).append(line)
    return Takeoff(every, tuple(_total(group) for group in groups.values()), left_out, system)


def _total(group: list[Line]) -> Total:
    known = [line.net for line in group if line.net is not None]
    packs = [line.packs for line in group if line.packs is not None]
    number = _sum(pack.number for pack in packs)
    missing = dict.fromkeys(f"{line.place}: {one}" for line in group for one in line.missing)
    return Total(
        item=group[0].item,
        specification=group[0].specification,
        net=_sum(known) if known else None,
        dimension=group[0].dimension,
        pack=packs[0].name if packs else "",
        holds=packs[0].holds if packs else "",
        ordered=(_up(number.low), _up(number.high)) if packs else None,
        places=tuple(dict.fromkeys(line.place for line in group)),
        missing=tuple(missing),
    )


def _sum(reaches: Iterable[Reach]) -> Reach:
    found = ZERO
    for one in reaches:
        found = found.plus(one)
    return found


_DUST = Fraction(1, 10**9)
"""Packs: what a computation in floats may add to a whole number."""


def _up(number: Fraction) -> int:
    return -int(-(number - _DUST) // 1)
