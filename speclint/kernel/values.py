"""Value sets, and what can be asked of any of them; the types themselves stand in ``sets``."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import cast

from speclint.kernel.sets import (
    ASSUMED,
    DEMANDED,
    MEASURED,
    MISSING,
    NOTHING,
    STATED,
    TAKEN,
    Absent,
    Among,
    Between,
    Cases,
    Known,
    Members,
    Number,
    Plain,
    Single,
    Unknown,
    ValueSet,
)

__all__ = [
    "ASSUMED",
    "DEMANDED",
    "MEASURED",
    "MISSING",
    "NOTHING",
    "STATED",
    "TAKEN",
    "Absent",
    "Among",
    "Between",
    "Cases",
    "Known",
    "Members",
    "Number",
    "Plain",
    "Single",
    "Unknown",
    "ValueSet",
    "bounds",
    "is_stated",
    "member",
    "number_of",
    "over_corners",
    "weakest",
]

_WEAKEST_FIRST = (MISSING, ASSUMED, MEASURED, DEMANDED, TAKEN)


def weakest(origins: Iterable[str]) -> str:
    """The origin that says least, which is the origin of what is computed from all of them."""
    seen = set(origins)
    return next((origin for origin in _WEAKEST_FIRST if origin in seen), STATED)


def number_of(value: Single) -> Number | None:
    """The figure that stands for a value once it has to be one: the only one, or that of an open demand."""
    if type(value) is Known and not isinstance(value.value, str):
        return value.value
    return value.number if type(value) is Between else None


def is_stated(value: Single) -> bool | None:
    """Whether the plan wrote something here: a value, a demand or ``none``."""
    kind = type(value)
    if kind is Unknown:
        return True if value.told else (False if value.span is None else None)  # type: ignore[union-attr]
    # `about 3/8 in` is an assumed range, yet somebody wrote it
    return value.origin not in (ASSUMED, TAKEN) or value.span is not None


def bounds(value: Single) -> tuple[Number | None, Number | None, bool, bool] | None:
    """The lowest and highest number admitted, and whether each is left out; None if not a number."""
    if type(value) is Known:
        number = value.value
        return None if isinstance(number, str) else (number, number, False, False)
    if type(value) is Between:
        return value.low, value.high, value.low_open, value.high_open
    if type(value) is Unknown:
        return None, None, False, False
    return None


def over_corners(function: Callable[..., Number], arguments: Iterable[tuple[Single, str]], origin: str) -> Single:
    """The range of a function monotone in each argument (``up``, ``down``), by its values at corners."""
    lows: list[Number] = []
    highs: list[Number] = []
    numbers: list[Number] = []
    for value, direction in arguments:
        ends = bounds(value)
        if ends is None or ends[0] is None or ends[1] is None:
            return NOTHING
        first, last = (ends[0], ends[1]) if direction == "up" else (ends[1], ends[0])
        lows.append(first)
        highs.append(last)
        number = number_of(value)
        if number is not None:
            numbers.append(number)
    low, high = function(*lows), function(*highs)
    if low == high:
        return Known(low, origin=origin)
    number = function(*numbers) if len(numbers) == len(lows) else None
    return Between(low, high, origin=origin, number=number)


def member(value: ValueSet, index: int = 0) -> Single:
    """One member of a choice or plurality; any other value set is its own only member."""
    found: object = value.members[index] if isinstance(value, Cases) else value
    return cast(Single, found)
