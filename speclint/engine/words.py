"""Comparisons of words over value sets: by an order, by what covers what, by membership of a set."""

from __future__ import annotations

from collections.abc import Callable

from speclint.kernel.logic import has, one_of
from speclint.kernel.values import Absent, Among, Known, Members, Single


def has_any(value: Single, words: tuple[str, ...]) -> bool | None:
    """Whether a set of words holds at least one of several; a single word is a set of one."""
    if type(value) is not Members:
        return one_of(value, frozenset(words))
    truths = [has(value, word) for word in words]
    return True if True in truths else (None if None in truths else False)


def covering(judge: Callable[[str, str], bool | None], left: Single, right: Single) -> bool | None:
    """Whether the left word, or at least one word of a set, covers the right one."""
    if type(left) is not Members:
        return pairwise(judge, left, right)
    truths = [pairwise(judge, Known(word), right) for word in sorted(left.has)]
    if True in truths:
        return True
    return None if None in truths or not left.closed else False


def pairwise(judge: Callable[[str, str], bool | None], left: Single, right: Single) -> bool | None:
    """What a judgement of two words says of every pair; unknown if pairs differ or words are not known."""
    if type(left) is Absent or type(right) is Absent:
        return False
    truths = {judge(a, b) for a in _words(left) for b in _words(right)}
    return truths.pop() if len(truths) == 1 else None


def _words(value: Single) -> tuple[str, ...]:
    if type(value) is Known:
        return (str(value.value),)
    return tuple(value.members) if type(value) is Among and not value.beyond else ()
