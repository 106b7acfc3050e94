"""What is known of a fact: one value, a range, a choice, several at once, absence, or nothing.

Numbers are exact integers or fractions of the base unit of their dimension; words are strings; yes and no are
booleans. Every value set keeps where it was read, the text as written, and its origin, so that an outcome can
say on what it rests.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple, TypeAlias

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
