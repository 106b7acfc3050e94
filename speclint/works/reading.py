"""What a plan says, as exact SI figures from least to greatest, and the words it says it in."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Any, NamedTuple

from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import Subject
from speclint.kernel.faults import OutOfRange
from speclint.kernel.values import Absent, Among, Between, Cases, Known, Members, Single, ValueSet
from speclint.plan.tree import Node, same
from speclint.review.show import INCH
from speclint.works.corners import over_corners

LONGEST = Fraction(1000)
"""Metres: a face longer than this was misread."""


class Reach(NamedTuple):
    """A figure in SI units from least to greatest, both exact; equal where it is known."""

    low: Fraction
    high: Fraction

    @property
    def exact(self) -> bool:
        """Whether it is one figure."""
        return self.low == self.high

    def plus(self, other: Reach) -> Reach:
        """The sum of two."""
        return Reach(self.low + other.low, self.high + other.high)

    def times(self, other: Reach) -> Reach:
        """The product of two."""
        ends = [one * two for one in self for two in other]
        return Reach(min(ends), max(ends))

    def over(self, other: Reach) -> Reach:
        """The quotient of two, the second above nothing."""
        return Reach(self.low / other.high, self.high / other.low)

    def more(self, share: Reach) -> Reach:
        """The figure with a share of it added."""
        return self.times(Reach(1 + share.low, 1 + share.high))

    def scaled(self, factor: Fraction | int) -> Reach:
        """A multiple; a negative factor turns the ends round."""
        low, high = sorted((self.low * factor, self.high * factor))
        return Reach(low, high)


ZERO = Reach(Fraction(0), Fraction(0))


class Reader:
    """Reads the facts of subjects, the tables of coefficients, and the lines of a plan as they were written."""

    def __init__(self, catalogue: Catalogue, root: Node, system: str = INCH) -> None:
        """Keep the catalogue, every line of the plan by its section, and the system of units that it is told in."""
        self.catalogue = catalogue
        self.system = system
        self.lines: dict[tuple[str, ...], Mapping[str, str]] = {}
        self.items: dict[Any, str] = {}
        self._gather(root)

    def _gather(self, node: Node) -> None:
        self.lines[node.address] = {entry.key: _value_text(entry.key, entry.text) for entry in node.entries}
        self.items.update({entry.span: _value_text(entry.key, entry.text) for entry in node.entries})
        for child in node.children:
            if child.kind in ("room", "assembly", "part"):
                self._gather(child)

    def reach(self, subject: Subject, fact: str) -> Reach | None:
        """A quantity of a subject in SI units; None where it is not known or not there."""
        return self.in_si(subject.get(fact), fact)

    def in_si(self, value: ValueSet, fact: str) -> Reach | None:
        """A value set as a figure in SI units."""
        entry = self.catalogue.find(fact)
        dimension = self.catalogue.words.units.dimensions.get(entry.detail) if entry is not None else None
        ends = _ends(value)
        if ends is None:
            return None
        size = Fraction(dimension.si) if dimension is not None else Fraction(1)
        return Reach(ends.low / size, ends.high / size)

    def table(self, name: str) -> Reach:
        """A coefficient of the tables in SI units."""
        cell = self.catalogue.tables[name]
        dimension = self.catalogue.words.units.dimensions.get(cell.dimension)
        figure = Fraction(cell.value.value) / (Fraction(dimension.si) if dimension is not None else 1)
        return Reach(figure, figure)

    def between(self, low: str, high: str) -> Reach:
        """Two coefficients of the tables as the ends of a range."""
        return Reach(self.table(low).low, self.table(high).high)

    def means(self, fact: str) -> str:
        """What a fact is, in words."""
        entry = self.catalogue.find(fact)
        return entry.means if entry is not None else fact

    def said(self, subject: Subject, key: str) -> str:
        """The line of a key as the plan writes it, here or further out."""
        at: Subject | None = subject
        while at is not None:
            line = self.lines.get(at.address, {}).get(key)
            if line:
                return line
            at = at.outer
        return ""

    def line_of(self, item: Subject) -> str:
        """The line of a repeated key as the plan writes it."""
        return self.items.get(item.span, item.name)


def word(subject: Subject, fact: str) -> str:
    """The one word of a fact, or nothing where it is not one known word."""
    value = subject.get(fact)
    return str(value.value) if isinstance(value, Known) and isinstance(value.value, str) else ""


def words(subject: Subject, fact: str) -> frozenset[str]:
    """Every word that a fact has or may have."""
    value = subject.get(fact)
    found: set[str] = set()
    for each in value.members if isinstance(value, Cases) else (value,):
        if isinstance(each, Known):
            found.add(str(each.value))
        elif isinstance(each, Members):
            found |= each.has
        elif isinstance(each, Among):
            found |= each.members
    return frozenset(found)


def flag(subject: Subject, fact: str) -> bool | None:
    """Yes, no, or not known."""
    value = subject.get(fact)
    if isinstance(value, Known) and isinstance(value.value, bool):
        return value.value
    return False if isinstance(value, Absent) else None


def computed(function: Callable[..., Any], **ends: Reach | str) -> Reach:
    """A computation over ranges; raises OutOfRange as the function does."""
    return Reach(*over_corners(function, **ends))


def tried(missing: list[str], function: Callable[..., Any], **ends: Reach | str) -> Reach | None:
    """A computation over ranges; where it is out of its limits, the reason is added to what is missing."""
    try:
        return computed(function, **ends)
    except OutOfRange as fault:
        missing.append(str(fault))
        return None


def hull(reaches: Iterable[Reach]) -> Reach | None:
    """The least range that holds all of some; None for none."""
    found = list(reaches)
    return Reach(min(one.low for one in found), max(one.high for one in found)) if found else None


def _ends(value: ValueSet) -> Reach | None:
    if isinstance(value, Cases):
        found = [_ends(one) for one in value.members]
        return hull(one for one in found if one is not None) if all(found) else None
    return _single(value)


def _single(value: Single) -> Reach | None:
    if isinstance(value, Known) and not isinstance(value.value, (str, bool)):
        return Reach(Fraction(value.value), Fraction(value.value))
    if isinstance(value, Between):
        low = value.low if value.low is not None else value.number
        high = value.high if value.high is not None else value.number
        if low is not None and high is not None:
            return Reach(Fraction(low), Fraction(high))
    return None


def _value_text(key: str, text: str) -> str:
    """A line without its key: what follows a colon or two blanks, or the key as it is spelt."""
    plain = text.split(" #")[0].strip() if '"' not in text else text.strip()
    for gap in ("  ", ": ", "\t"):
        head, found, rest = plain.partition(gap)
        if found and len(head.split()) <= len(key.split()) + 2 and not head[-1:].isdigit():
            return " ".join(rest.split())
    if same(plain).startswith(same(key)):
        return " ".join(plain.split()[len(key.split()) :])
    return " ".join(plain.split()[1:])
