"""Comparisons of words over value sets: by an order, by what covers what."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TypeAlias

from speclint.kernel.logic import COMPARISONS
from speclint.kernel.values import Absent, Among, Known, Members, Single

Pair: TypeAlias = "Callable[[str, str], bool | None]"


def by_order(sign: str, words: Sequence[str]) -> Pair:
    """Compares two words by their places in an order; unknown where one has none."""
    order = {word: rank for rank, word in enumerate(words)}

    def judge(a: str, b: str) -> bool | None:
        return COMPARISONS[sign](order[a], order[b]) if a in order and b in order else None

    return judge


def by_cover(relations: Mapping[str, tuple[Collection[str], Collection[str]]]) -> Pair:
    """Whether a word covers another, from what each covers and excludes; unknown where nothing is told."""
    related = {word: (frozenset(covers), frozenset(excludes)) for word, (covers, excludes) in relations.items()}
    nothing: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset())

    def judge(a: str, b: str) -> bool | None:
        covers, excludes = related.get(a, nothing)
        return True if a == b or b in covers else (False if b in excludes else None)

    return judge


def covering(judge: Pair, left: Single, right: Single) -> bool | None:
    """Whether the left word, or at least one word of a set, covers the right one."""
    if type(left) is not Members:
        return pairwise(judge, left, right)
    truths = [pairwise(judge, Known(word), right) for word in sorted(left.has)]
    if True in truths:
        return True
    return None if None in truths or not left.closed else False


def pairwise(judge: Pair, left: Single, right: Single) -> bool | None:
    """What a judgement of two words says of every pair; unknown if pairs differ or words are not known."""
    if type(left) is Absent or type(right) is Absent:
        return False
    truths = {judge(a, b) for a in _words(left) for b in _words(right)}
    return truths.pop() if len(truths) == 1 else None


def _words(value: Single) -> tuple[str, ...]:
    if type(value) is Known:
        return (str(value.value),)
    return tuple(value.members) if type(value) is Among and not value.beyond else ()
