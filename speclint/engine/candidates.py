"""Members of a value set that are worth trying to show that a plan admits what fails."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from speclint.kernel.quantity import whole
from speclint.kernel.values import Among, Between, Cases, Known, Number, Single, ValueSet

# parts of a range, and multiples of its one end beyond it, in the order in which they are tried
_INSIDE = (Fraction(0), Fraction(1), Fraction(1, 64), Fraction(63, 64), Fraction(1, 2))
_BEYOND = (Fraction(0), Fraction(1, 64), Fraction(1, 2), Fraction(1), Fraction(15), Fraction(255))


def picked(value: ValueSet, picks: Mapping[str, int]) -> ValueSet:
    """The value under the picks given; a choice not picked stays one."""
    while type(value) is Cases and value.group in picks:
        value = value.members[picks[value.group]]
    return value


def candidates(value: ValueSet) -> tuple[Single, ...]:
    """Some members of an open value, the ends first; of a set of words all of them, of anything else none."""
    if type(value) is Among:
        return tuple(Known(word, origin=value.origin) for word in sorted(value.members))
    if type(value) is not Between:
        return ()
    return tuple(Known(number, origin=value.origin) for number in _numbers(value) if _within(number, value))


def _numbers(value: Between) -> tuple[Number, ...]:
    if value.low is not None and value.high is not None:
        low, reach = Fraction(value.low), Fraction(value.high) - Fraction(value.low)
        return tuple(whole(low + reach * part) for part in _INSIDE)
    end = value.low if value.low is not None else value.high
    if end is None:
        return ()
    away = 1 if value.high is None else -1
    size = abs(Fraction(end)) or Fraction(1)
    return tuple(whole(end + away * size * part) for part in _BEYOND)


def _within(number: Number, value: Between) -> bool:
    above = value.low is None or number > value.low or (number == value.low and not value.low_open)
    below = value.high is None or number < value.high or (number == value.high and not value.high_open)
    return above and below
