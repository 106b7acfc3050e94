"""What the data says of a word: the value of a property through a fact that holds the word."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from speclint.facts.catalogue import Catalogue, Fact, quantity
from speclint.kernel.quantity import nearest
from speclint.kernel.values import MISSING, NOTHING, Absent, Among, Between, Known, Members, Single, Unknown

BY_ALL = "told by all"


def property_of(catalogue: Catalogue, fact: Fact, values: list[Single]) -> Single:
    """The property of the first operand whose words tell it; words that may yet come widen the answer.

    A figure that the data does not tell of a word stays unknown: silence of the data is no "no".
    """
    source = fact.source
    assert source is not None
    if len(values) == 1:
        word = values[0]
        if type(word) is Known:
            found = _told_by(catalogue, fact, source.operands[0]).get(str(word.value))
            return _silent(fact, word) if found is None else Known(found.value, found.text, word.span, word.origin)
        if type(word) is Absent:
            return Absent()
        if type(word) is Unknown and not _told_by_all(catalogue, fact):
            return NOTHING
    if len(values) == 1 and fact.sort == "flag" and isinstance(values[0], Among) and not values[0].beyond:
        return _mark_of_one(values[0], _told_by(catalogue, fact, source.operands[0]))
    possible: list[Known] = []
    open_yet = False
    there = False
    for operand, value in zip(source.operands, values, strict=True):
        if isinstance(value, Absent):
            continue
        there = True
        told = _told_by(catalogue, fact, operand)
        sure, maybe, rest = _split(value, told)
        here = [told[name]._replace(span=value.span, origin=value.origin) for name in (*sure, *maybe)]
        if sure and not rest:
            return _merged([*possible, *here], open_yet, fact)
        possible.extend(here)
        open_yet = open_yet or bool(sure or maybe)
    if not there:
        return Absent()
    if not possible and all(isinstance(value, (Known, Absent)) for value in values):
        return _silent(fact, values[-1])
    if not possible or (_last_unknown(values) and not _told_by_all(catalogue, fact)):
        return NOTHING
    return _merged(possible, True, fact)


def _silent(fact: Fact, word: Single) -> Single:
    """What it means that the data tells no such property of a word: a mark is not there, anything else is not known."""
    if fact.sort == "flag":
        return Known(False, span=word.span, origin=word.origin)
    return NOTHING


def _mark_of_one(value: Among, told: Mapping[str, Known]) -> Single:
    """A mark of one word out of several: known only where all of them have it, or none has."""
    marks = {name in told and told[name].value is True for name in value.members}
    return Known(marks.pop(), span=value.span, origin=value.origin) if len(marks) == 1 else NOTHING


def _last_unknown(values: list[Single]) -> bool:
    return not isinstance(values[-1], (Known, Among, Members, Absent))


def _told_by_all(catalogue: Catalogue, fact: Fact) -> bool:
    """Whether the figure lies within what the words say even where the word is not known: all of them tell it."""
    found = fact.memo.get(BY_ALL)
    if found is None:
        source = fact.source
        assert source is not None
        entry = catalogue.find(source.operands[-1])
        kind = catalogue.words.kinds.get(entry.detail) if entry and fact.sort == "quantity" else None
        told = _told_by(catalogue, fact, source.operands[-1])
        found = fact.memo[BY_ALL] = kind is not None and not kind.open and told.keys() >= kind.words.keys()
    return bool(found)


def _told_by(catalogue: Catalogue, fact: Fact, operand: str) -> Mapping[str, Known]:
    """What each word that an operand can be says of the property; worked out once."""
    told = fact.memo.get(operand)
    if told is None:
        entry, source = catalogue.find(operand), fact.source
        kind = catalogue.words.kinds.get(entry.detail) if entry else None
        words = kind.words.values() if kind else ()
        name = source.detail if source else ""
        told = {word.name: _known(catalogue, fact, word.properties[name]) for word in words if name in word.properties}
        fact.memo[operand] = told
    assert isinstance(told, dict)
    return told


def _split(value: Single, told: Mapping[str, Known]) -> tuple[tuple[str, ...], tuple[str, ...], bool]:
    """Words that are sure to be there and tell, words that may be there and tell, and whether others may be there."""
    if isinstance(value, Known):
        name = str(value.value)
        return ((name,), (), False) if name in told else ((), (), True)
    if isinstance(value, Among) and not value.beyond:
        found = tuple(sorted(value.members & told.keys()))
        return found, (), len(found) < len(value.members)
    if isinstance(value, Members):
        sure = tuple(sorted(value.has & told.keys()))
        maybe = () if value.closed else tuple(sorted(told.keys() - value.has - value.lacks))
        return (sure, (), False) if sure else ((), maybe, True)
    return (), tuple(sorted(told)), True


def _known(catalogue: Catalogue, fact: Fact, raw: Any) -> Known:
    text = str(raw)
    if fact.sort == "quantity":
        number = Fraction(text) if fact.detail == "count" else quantity(text, catalogue.words.units)
        return Known(number if fact.share_step is None else nearest(number, fact.share_step), text)
    return Known(text in ("yes", "True", "true") if fact.sort == "flag" else text, text)


def _merged(found: list[Known], open_yet: bool, fact: Fact) -> Single:
    """One value, a range of numbers or a choice of words, from what the words say; one yes of several marks counts."""
    distinct = list(dict.fromkeys(one.value for one in found))
    first = found[0]
    if len(distinct) == 1 and not open_yet:
        return first
    if fact.sort == "flag" and not open_yet:
        return next((one for one in found if one.value is True), first)
    numbers = [one for one in distinct if not isinstance(one, (str, bool))]
    if len(numbers) == len(distinct):
        return Between(min(numbers), max(numbers), span=first.span, origin=MISSING) if len(numbers) > 1 else first
    if all(isinstance(one, str) for one in distinct) and len(distinct) > 1:
        return Among(frozenset(str(one) for one in distinct), span=first.span, origin=MISSING)
    return first if len(distinct) == 1 else NOTHING
