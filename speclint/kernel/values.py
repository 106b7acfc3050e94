"""What is known of a fact: one value, a range, a choice, several at once, absence, or nothing.

Numbers are exact integers or fractions of the base unit of their dimension; words are strings; yes and no are
booleans. Every value set keeps where it was read, the text as written, and its origin, so that an outcome can
say on what it rests.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import NamedTuple, TypeAlias, cast

from speclint.kernel.span import Span

Number: TypeAlias = int | Fraction
Plain: TypeAlias = int | Fraction | str | bool

STATED = "stated"  # written in the plan
MEASURED = "measured"  # read off the work and written in a record
DEMANDED = "demanded"  # the plan leaves it open on purpose: at least, A or B, contractor's choice
ASSUMED = "assumed"  # an honest range of the catalogue where the plan says nothing
TAKEN = "taken as absent"  # the catalogue takes silence as absence
MISSING = "missing"  # nothing is known


class Known(NamedTuple):
    """Exactly one value."""

    value: Plain
    text: str = ""
    span: Span | None = None
    origin: str = STATED


class Between(NamedTuple):
    """A number within a range; an end of None is infinite; ``number`` is the figure an open demand names."""

    low: Number | None
    high: Number | None
    low_open: bool = False
    high_open: bool = False
    text: str = ""
    span: Span | None = None
    origin: str = DEMANDED
    number: Number | None = None


class Among(NamedTuple):
    """One of several words, all of them possible; ``beyond`` says that words not listed are possible too."""

    members: frozenset[str]
    text: str = ""
    span: Span | None = None
    origin: str = DEMANDED
    beyond: bool = False


class Members(NamedTuple):
    """A set of words as a fact: those in it, those not; of any other nothing is known unless closed."""

    has: frozenset[str]
    lacks: frozenset[str] = frozenset()
    closed: bool = False
    text: str = ""
    span: Span | None = None
    origin: str = STATED


class Absent(NamedTuple):
    """Known not to be there."""

    text: str = ""
    span: Span | None = None
    origin: str = STATED


class Unknown(NamedTuple):
    """Everything its kind allows; ``told`` when the plan has words there that give no value."""

    text: str = ""
    span: Span | None = None
    origin: str = MISSING
    told: bool = False


class Cases(NamedTuple):
    """A written choice (``together`` false: any one may come) or a plurality (true: all of them occur)."""

    group: str
    members: tuple[ValueSet, ...]
    together: bool = False
    text: str = ""
    span: Span | None = None
    origin: str = DEMANDED


Single: TypeAlias = Known | Between | Among | Members | Absent | Unknown
ValueSet: TypeAlias = Single | Cases

NOTHING = Unknown()
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


def over_corners(
    function: Callable[..., Number], arguments: Iterable[tuple[Single, str]], origin: str
) -> Single:
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
