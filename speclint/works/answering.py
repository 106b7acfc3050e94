"""Whether what is claimed of a product answers what is demanded: yes for all that it may be, no for none, else open."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

from speclint.engine.words import pairwise
from speclint.facts.catalogue import Catalogue, Fact
from speclint.kernel.logic import Truth, both, compare, has_any
from speclint.kernel.quantity import nearest
from speclint.kernel.values import (
    DEMANDED,
    Absent,
    Among,
    Between,
    Cases,
    Known,
    Members,
    Single,
    Unknown,
    ValueSet,
    bounds,
)
from speclint.plan.vocabulary import Kind
from speclint.review.show import METRIC_ENDS

REGION = "region"


class Answer(NamedTuple):
    """Whether a claim answers a demand (None: not shown), and why not in a few words, where there is more to say."""

    truth: Truth
    why: str = ""


YES, NO, OPEN = Answer(True), Answer(False), Answer(None)


def answers(fact: Fact, demanded: Single, claimed: ValueSet, catalogue: Catalogue) -> Answer:
    """Whether a claim answers one demand; of a product that comes in several kinds, each of them must."""
    if isinstance(claimed, Cases):
        return _all([answers(fact, demanded, member, catalogue) for member in _singles(claimed)])
    if isinstance(demanded, Unknown):
        return _left_open(demanded, claimed)
    if isinstance(demanded, Absent):
        return NO if _is_there(claimed) else OPEN if isinstance(claimed, Unknown) else YES
    if isinstance(claimed, Unknown):
        return OPEN
    if isinstance(claimed, Absent):
        return NO
    if fact.sort in ("word", "words"):
        return _by_words(fact, demanded, claimed, catalogue.words.kinds[fact.detail])
    if fact.sort == "text":
        return YES if _folded(demanded) == _folded(claimed) else Answer(None, "compare the two by eye")
    if fact.sort == "flag":
        return Answer(compare("=", claimed, demanded))
    return Answer(_by_figures(fact, demanded, claimed))


def alike_names(first: ValueSet, second: ValueSet, within: Fraction) -> bool:
    """Whether two figures in different units lie so near that they may be the names of one size."""
    if not (isinstance(first, Known) and isinstance(second, Known)):
        return False
    a, b = first.value, second.value
    if isinstance(a, str) or isinstance(b, str) or not a or not b:
        return False
    return abs(Fraction(a) - Fraction(b)) <= within * Fraction(a)


def _singles(value: Cases) -> Iterable[Single]:
    return (member for member in value.members if not isinstance(member, Cases))


def _all(found: list[Answer]) -> Answer:
    truths = {one.truth for one in found}
    if len(truths) == 1:
        return found[0]
    return Answer(None, "it comes in several kinds, and not all of them answer")


def _left_open(demanded: Unknown, claimed: Single) -> Answer:
    if demanded.origin == DEMANDED:
        return OPEN if isinstance(claimed, Unknown) else YES
    why = f'the specification says only "{demanded.text}"' if demanded.told else "the specification does not say"
    return Answer(None, why)


def _is_there(claimed: Single) -> bool:
    return not isinstance(claimed, (Unknown, Absent)) and getattr(claimed, "value", True) is not False


def _folded(value: Single) -> str:
    return " ".join(str(getattr(value, "value", value.text)).casefold().split())


def _by_words(fact: Fact, demanded: Single, claimed: Single, kind: Kind) -> Answer:
    if isinstance(demanded, Members):
        wanted = [has_any(claimed, (word,)) for word in sorted(demanded.has)]
        barred = [_not(has_any(claimed, (word,))) for word in sorted(_ruled_out(demanded))]
        untold = [word for word, truth in zip(sorted(demanded.has), wanted, strict=True) if truth is not True]
        return Answer(both([*wanted, *barred]), f"{', '.join(untold)} is not told of it" if untold else "")
    if isinstance(claimed, Members):
        return Answer(has_any(claimed, (str(getattr(demanded, "value", "")),)))
    if isinstance(demanded, Among):
        truths = [_word(fact, Known(word), claimed, kind) for word in sorted(demanded.members)]
        if True in truths:
            return YES
        if demanded.beyond:
            return Answer(None, "it is offered as an equal, and nobody has accepted it")
        return NO if all(one is False for one in truths) else _region(demanded, claimed, kind)
    truth = _word(fact, demanded, claimed, kind)
    return Answer(truth) if truth is not None else _region(demanded, claimed, kind)


def _ruled_out(demanded: Members) -> frozenset[str]:
    """Words that the demand itself forbids, not those that its own words rule out among themselves."""
    return frozenset(word for word in demanded.lacks if f"not {word}".casefold() in demanded.text.casefold())


def _not(truth: Truth) -> Truth:
    return None if truth is None else not truth


def _word(fact: Fact, demanded: Single, claimed: Single, kind: Kind) -> Truth:
    related = any(word.covers or word.excludes for word in kind.words.values())

    def judge(have: str, need: str) -> Truth:
        word = kind.words[have]
        if have == need or need in word.covers:
            return True
        if have in kind.order and need in kind.order and fact.better != "only":
            return (kind.order.index(have) >= kind.order.index(need)) is (fact.better == "more")
        if need in word.excludes or have in kind.words[need].excludes:
            return False
        return None if related else False

    return pairwise(judge, claimed, demanded)


def _region(demanded: Single, claimed: Single, kind: Kind) -> Answer:
    """What to say where the vocabulary tells nothing of two words: most often they are classes of two regions."""
    here = {kind.words[word].properties.get(REGION) for word in _names(demanded)}
    there = {kind.words[word].properties.get(REGION) for word in _names(claimed)}
    if here and there and None not in here | there and here.isdisjoint(there):
        return Answer(None, "a class of another region proves nothing here; their tests differ")
    return OPEN


def _names(value: Single) -> tuple[str, ...]:
    if isinstance(value, Known):
        return (str(value.value),)
    return tuple(sorted(value.members)) if isinstance(value, Among) else ()


def _by_figures(fact: Fact, demanded: Single, claimed: Single) -> Truth:
    """By the side that the catalogue calls better; a figure that only will do need agree within what is measured."""
    only = isinstance(demanded, Known) and fact.better == "only"
    found = None if only else _within(fact, demanded, claimed)
    if only or (found is not True and _metric(demanded) != _metric(claimed)):
        return _within(fact, _to_step(fact, demanded), _to_step(fact, claimed))
    return found


def _within(fact: Fact, demanded: Single, claimed: Single) -> Truth:
    need = bounds(demanded)
    if need is None or bounds(claimed) is None:
        return None
    low, high, low_open, high_open = need
    if isinstance(demanded, Known) and fact.better != "only":
        low, high = (low, None) if fact.better == "more" else (None, high)
    above = True if low is None else compare(">" if low_open else ">=", claimed, Known(low))
    below = True if high is None else compare("<" if high_open else "<=", claimed, Known(high))
    return both([above, below])


def _to_step(fact: Fact, value: Single) -> Single:
    """A figure or range to the fact's resolution, as when the other side is written in other units."""
    if not fact.step or not isinstance(value, (Known, Between)):
        return value
    if isinstance(value, Known):
        return value if isinstance(value.value, str) else value._replace(value=nearest(value.value, fact.step))
    ends = [None if end is None else nearest(end, fact.step) for end in (value.low, value.high)]
    return value._replace(low=ends[0], high=ends[1])


def _metric(value: Single) -> bool:
    return value.text.rstrip().casefold().endswith(METRIC_ENDS)
