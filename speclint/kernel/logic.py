"""Strong three-valued logic over value sets: True if so for every member, False if for none, else None."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from operator import eq, ge, gt, le, lt, ne
from typing import Any

from speclint.kernel.quantity import whole
from speclint.kernel.values import (
    Absent,
    Among,
    Between,
    Known,
    Members,
    Number,
    Single,
    Unknown,
    bounds,
    number_of,
    weakest,
)

Truth = bool | None
COMPARISONS: dict[str, Callable[[Any, Any], bool]] = {
    "=": eq,
    "!=": ne,
    "<": lt,
    "<=": le,
    ">": gt,
    ">=": ge,
}
MIRRORED = {"=": "=", "!=": "!=", "<": ">", "<=": ">=", ">": "<", ">=": "<="}


def negate(truth: Truth) -> Truth:
    """Not; unknown stays unknown."""
    return None if truth is None else not truth


def both(truths: Iterable[Truth]) -> Truth:
    """And over any number of truths: one no decides."""
    seen: Truth = True
    for truth in truths:
        if truth is False:
            return False
        if truth is None:
            seen = None
    return seen


def either(truths: Iterable[Truth]) -> Truth:
    """Or over any number of truths: one yes decides."""
    return negate(both(negate(truth) for truth in truths))


def compare(sign: str, left: Single, right: Single) -> Truth:
    """Decide ``left sign right`` over all members of both.

    A comparison with what is absent is no; ``!=`` is the opposite of ``=``.
    """
    if type(left) is Known and type(right) is Known:
        return _plain(sign, left.value, right.value)
    if sign == "!=":
        return negate(compare("=", left, right))
    if type(left) is Absent or type(right) is Absent:
        return False
    if type(left) is Unknown or type(right) is Unknown:
        return None
    if isinstance(left, (Among, Members)) or isinstance(right, (Among, Members)) or _is_word(left) or _is_word(right):
        return _words(sign, left, right)
    return _ranges(sign, left, right)


def one_of(value: Single, words: frozenset[str]) -> Truth:
    """Whether a word is one of several."""
    if type(value) is Known:
        return value.value in words
    if type(value) is Absent:
        return False
    if type(value) is Among:
        if value.members.isdisjoint(words) and not value.beyond:
            return False
        return True if value.members <= words and not value.beyond else None
    return None


def has_any(value: Single, words: tuple[str, ...]) -> Truth:
    """Whether a set of words holds at least one of several; a single word is a set of one.

    A word that nobody wrote is unknown unless the set is closed.
    """
    if type(value) is not Members:
        return one_of(value, frozenset(words))
    if not value.has.isdisjoint(words):
        return True
    return False if value.closed or value.lacks.issuperset(words) else None


def _plain(sign: str, left: object, right: object) -> Truth:
    if isinstance(left, str) != isinstance(right, str):
        return sign == "!="
    return COMPARISONS[sign](left, right)


def _is_word(value: Single) -> bool:
    return type(value) is Known and isinstance(value.value, str)


def _words(sign: str, left: Single, right: Single) -> Truth:
    if sign != "=":
        return None
    a, b = _members(left), _members(right)
    if a is None or b is None:
        return None
    if a.isdisjoint(b):
        return False
    return True if len(a) == len(b) == 1 else None


def _members(value: Single) -> frozenset[str] | None:
    if type(value) is Among:
        return None if value.beyond else value.members
    return frozenset({str(value.value)}) if type(value) is Known else None


def _ranges(sign: str, left: Single, right: Single) -> Truth:
    a, b = bounds(left), bounds(right)
    if a is None or b is None:
        return None
    if sign in (">", ">="):
        sign, a, b = MIRRORED[sign], b, a
    a_low, a_high, a_low_open, a_high_open = a
    b_low, b_high, b_low_open, b_high_open = b
    if sign == "=":
        if _below(a_high, b_low, a_high_open or b_low_open) or _below(b_high, a_low, b_high_open or a_low_open):
            return False
        return True if None is not a_low == a_high == b_low == b_high else None
    strict = sign == "<"
    # yes: even the highest left is below the lowest right; no: the lowest left is above the highest right
    if _below(a_high, b_low, a_high_open or b_low_open or not strict):
        return True
    return False if _below(b_high, a_low, b_high_open or a_low_open or strict) else None


def _below(first: Number | None, second: Number | None, touching: bool) -> bool:
    if first is None or second is None:
        return False
    return first <= second if touching else first < second


def combine(sign: str, left: Single, right: Single) -> Single:
    """Interval arithmetic ``+ - * /``; what is absent makes the result absent, an open end stays open."""
    if type(left) is Absent or type(right) is Absent:
        return Absent()
    origin = weakest((left.origin, right.origin))
    a, b = bounds(left), bounds(right)
    if a is None or b is None or (sign == "/" and _holds_zero(b[0], b[1])):
        return Unknown(origin=origin)
    if sign in ("+", "-"):
        low, high = _sum(sign, a[:2], b[:2])
    else:
        low, high = _product(sign, a[:2], b[:2])
    if low is not None and low == high:
        return Known(low, origin=origin)
    if low is None and high is None:
        return Unknown(origin=origin)
    x, y = number_of(left), number_of(right)
    number = None if x is None or y is None else _exact(sign, x, y)
    return Between(low, high, origin=origin, number=number)


def _holds_zero(low: Number | None, high: Number | None) -> bool:
    return (low is None or low <= 0) and (high is None or high >= 0)


def _exact(sign: str, x: Number, y: Number) -> Number:
    if sign == "+":
        return x + y
    if sign == "-":
        return x - y
    return x * y if sign == "*" else whole(Fraction(x) / Fraction(y))


def _sum(
    sign: str, a: tuple[Number | None, Number | None], b: tuple[Number | None, Number | None]
) -> tuple[Number | None, Number | None]:
    first, last = b if sign == "+" else (b[1], b[0])
    low = None if a[0] is None or first is None else _exact(sign, a[0], first)
    high = None if a[1] is None or last is None else _exact(sign, a[1], last)
    return low, high


def _product(
    sign: str, a: tuple[Number | None, Number | None], b: tuple[Number | None, Number | None]
) -> tuple[Number | None, Number | None]:
    ends = [(x, y) for x in a for y in b]
    results = [_exact(sign, x, y) for x, y in ends if x is not None and y is not None]
    if len(results) == len(ends):
        return min(results), max(results)
    positive = a[0] is not None and a[0] >= 0 and b[0] is not None and b[0] >= 0
    if not positive:
        return None, None
    return _open_product(sign, a, b)


def _open_product(
    sign: str, a: tuple[Number | None, Number | None], b: tuple[Number | None, Number | None]
) -> tuple[Number | None, Number | None]:
    # both factors are not negative, so a product rises with both and a quotient falls with the second
    first, last = b if sign == "*" else (b[1], b[0])
    low = None if a[0] is None or first is None else _exact(sign, a[0], first)
    high = None if a[1] is None or last is None else _exact(sign, a[1], last)
    return (0 if low is None else low), high
