"""Computed facts: what the catalogue says a fact is made from, done over value sets."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import reduce
from typing import cast

from speclint.facts.catalogue import Catalogue, Fact, Source
from speclint.facts.functions import function_of
from speclint.facts.properties import property_of
from speclint.facts.sets_of_words import held, words_over
from speclint.facts.subject import EXTREMES, FIRST, HELD, WORDS, Subject, chosen
from speclint.kernel.logic import combine
from speclint.kernel.quantity import nearest, whole
from speclint.kernel.values import (
    ASSUMED,
    DEMANDED,
    MISSING,
    NOTHING,
    TAKEN,
    Absent,
    Between,
    Cases,
    Known,
    Number,
    Single,
    Unknown,
    ValueSet,
    bounds,
    member,
)

SIGNS = {"sum of": "+", "difference of": "-", "product of": "*", "quotient of": "/"}
SCALE = "scale"


def compute(subject: Subject, fact: Fact) -> ValueSet:
    """The value set of a computed fact for a subject; choices among its operands stay choices."""
    source = fact.source
    assert source is not None
    if source.way == "count of":
        items = subject.members(source.operands[0])
        return NOTHING if items is None else Known(len(items))
    if source.way in EXTREMES:
        return _over_items(subject, source.way == EXTREMES[0], *source.operands)
    if source.way == WORDS:
        return words_over(subject, *source.operands)
    if source.way == FIRST:
        return subject.get(chosen(subject, source.operands))
    values = [subject.get(operand) for operand in source.operands]
    return _over_cases(values, lambda singles: _single(subject.catalogue, fact, singles))


def _over_items(subject: Subject, larger: bool, collection: str, fact: str) -> ValueSet:
    """The largest or smallest of a fact over the items of a collection; absent where there are none."""
    items = subject.members(collection)
    if items is None:
        return NOTHING
    values = [member(item.get(fact)) for item in items]
    return reduce(lambda a, b: _extreme(a, b, larger), values) if values else Absent(origin=TAKEN)


def _over_cases(values: list[ValueSet], make: Callable[[list[Single]], Single]) -> ValueSet:
    """Apply a function of single values; one written choice passes through it member by member."""
    if Cases not in map(type, values):
        return make(cast("list[Single]", values))
    groups = {value.group: value for value in values if isinstance(value, Cases)}
    if len(groups) > 1:
        return Unknown(origin=DEMANDED)
    case = next(iter(groups.values()))
    members = tuple(make([member(value, index) for value in values]) for index in range(len(case.members)))
    return Cases(case.group, members, case.together, case.text, case.span, case.origin)


def _single(catalogue: Catalogue, fact: Fact, values: list[Single]) -> Single:
    source = fact.source
    assert source is not None
    if source.way == "property":
        return property_of(catalogue, fact, values)
    if source.way == HELD:
        return held(*values)
    if source.way == "function":
        return _worst_origin(function_of(catalogue, fact, values), values)
    if source.way in ("larger of", "smaller of"):
        return reduce(lambda a, b: _extreme(a, b, source.way == "larger of"), values)
    result = reduce(lambda a, b: combine(SIGNS[source.way], a, b), values)
    return _worst_origin(_scaled(catalogue, fact, result), values)


def _scaled(catalogue: Catalogue, fact: Fact, result: Single) -> Single:
    """A product or quotient of base units in the base unit of its own dimension, to the fact's step."""
    source = fact.source
    assert source is not None
    if source.way not in ("product of", "quotient of") or not isinstance(result, (Known, Between)):
        return result
    scale = fact.memo.get(SCALE)
    if scale is None:
        scale = fact.memo[SCALE] = _scale(catalogue, fact, source)
    return _each(result, lambda number: nearest(number * scale, fact.step) if fact.step else whole(number * scale))


def _scale(catalogue: Catalogue, fact: Fact, source: Source) -> Fraction:
    """By what a product or quotient of base units is multiplied to stand in the base unit of its own dimension."""
    dimensions = catalogue.words.units.dimensions
    scale = Fraction(dimensions[fact.detail].si)
    for place, operand in enumerate(source.operands):
        entry = catalogue.find(operand)
        si = dimensions[entry.detail].si if entry is not None and entry.detail in dimensions else Fraction(1)
        scale = scale * si if place and source.way == "quotient of" else scale / si
    return scale


def _each(value: Known | Between, change: Callable[[Number], Number]) -> Single:
    if isinstance(value, Known):
        assert not isinstance(value.value, str)
        return value._replace(value=change(value.value))
    low, high = value.low, value.high
    return value._replace(low=None if low is None else change(low), high=None if high is None else change(high))


def _extreme(a: Single, b: Single, larger: bool) -> Single:
    """The larger or smaller of two numbers; of one that is not known, still what the other leaves possible."""
    first, second = bounds(a), bounds(b)
    if first is None or second is None:
        return b if isinstance(a, Absent) else a
    if isinstance(a, Known) and isinstance(b, Known):
        one, other = first[0] or 0, second[0] or 0
        return a if (one >= other) is larger else b
    choose = max if larger else min
    low = _end(choose, first[0], second[0], larger)
    high = _end(choose, first[1], second[1], not larger)
    return _worst_origin(Between(low, high), [a, b])


def _end(choose: Callable[[Number, Number], Number], a: Number | None, b: Number | None, known: bool) -> Number | None:
    """An end of an extreme: where ``known``, one open end leaves the other's."""
    if a is None or b is None:
        return (b if a is None else a) if known else None
    return choose(a, b)


def _worst_origin(result: Single, values: list[Single]) -> Single:
    """A computed value rests on its least certain operand."""
    origins = {value.origin for value in values if not isinstance(value, Known) or value.origin == ASSUMED}
    for origin in (MISSING, "unreadable", "by others", "unknown", "taken as absent", ASSUMED, DEMANDED):
        if origin in origins:
            return result._replace(origin=origin)
    return result
