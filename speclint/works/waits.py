"""How long a step waits, by what the plan tells and by the least that is known; what neither tells is asked."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from speclint.calc import cure
from speclint.facts.subject import Subject
from speclint.kernel.faults import OutOfRange
from speclint.works.reading import Reach, Reader, computed
from speclint.works.steps import Span

LONGEST = 3660 * 86400
"""Seconds, ten years: a longer wait was misread."""
TOLD, LEAST, STRETCHED, OPEN = "told", "least", "stretched", "not told"


class Ask(NamedTuple):
    """A question that keeps a date open, and who can answer it."""

    text: str
    answers: str


class Length(NamedTuple):
    """A wait in whole seconds, how it was reached, and what is asked where it may be longer."""

    seconds: int
    by: str
    asks: tuple[Ask, ...] = ()

    @property
    def sure(self) -> bool:
        """Whether it is no longer than that."""
        return not self.asks


NONE = Length(0, TOLD)


def length_of(reader: Reader, span: Span, assemblies: Iterable[Subject]) -> Length:
    """The longest wait of some assemblies, with the questions of all of them."""
    lengths = [_length(reader, span, assembly) for assembly in assemblies] if not span.none else []
    if not lengths:
        return NONE
    longest = max(lengths, key=lambda one: (one.seconds, bool(one.asks)))
    return longest._replace(asks=tuple(dict.fromkeys(ask for one in lengths for ask in one.asks)))


def _length(reader: Reader, span: Span, assembly: Subject) -> Length:
    told = next((one for one in (reader.reach(assembly, fact) for fact in span.told) if one is not None), None)
    if told is not None and not 0 <= told.low <= told.high <= LONGEST:
        told = None
    least, asks = _least(reader, span, assembly)
    if (span.told or span.ask) and (told is None or not told.exact):
        asks = (*asks, _question(reader, span))
    if told is not None and (least is None or told.low >= least.low):
        return Length(_whole(told), TOLD, asks)
    if least is None:
        return Length(0, OPEN, asks)
    return Length(_whole(least), STRETCHED if least.low > reader.table(span.least).low else LEAST, asks)


def _least(reader: Reader, span: Span, assembly: Subject) -> tuple[Reach | None, tuple[Ask, ...]]:
    """The least by its table, longer in the cold; a place too cold for any cure is asked about."""
    if not span.least:
        return None, ()
    least = reader.table(span.least)
    at = reader.reach(assembly, "ambient.temperature") if span.cold else None
    if at is None:
        return least, ()
    reference, datum = reader.table("cure.cure-reference"), reader.table("cure.datum-safest")
    stop = reader.table("cure.stop-below-least")
    try:
        ends = {"stated": least, "stated_at": reference, "at": at, "datum": datum, "stop_below": stop}
        return computed(cure.waiting_time, **ends), ()
    except OutOfRange as fault:
        return least, (Ask(f"How is the place warmed? The {fault}.", "setter"),)


def _question(reader: Reader, span: Span) -> Ask:
    if span.ask:
        return Ask(span.ask, span.answers)
    entry = reader.catalogue.find(span.told[-1])
    asked = next((one for one in (reader.catalogue.find(fact) for fact in span.told) if one and one.ask), entry)
    assert asked is not None
    return Ask(asked.ask or f"How long is the {asked.means}?", asked.answers or "data sheet")


def _whole(reach: Reach) -> int:
    """Whole minutes, upwards, without what a float adds to a whole one."""
    return -int(-(round(reach.low, 3)) // 60) * 60
