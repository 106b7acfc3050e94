"""What a submittal review has to say, as values: requirements with what was handed in, items, papers, the package."""

from __future__ import annotations

from typing import NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.review.report import Finding, Question

SPECIFIED, SUBSTITUTION, EQUAL = "as specified", "substitution", "equal"


class Requirement(NamedTuple):
    """One property of one item: what is specified and what was handed in, side by side, and the outcome.

    ``clause`` is the standard by number, ``settles`` the paper that would settle what is not shown, ``why`` a reason
    in a few words, ``decided`` a recorded decision that lets it stand.
    """

    means: str
    specified: str
    submitted: str
    outcome: str
    place: Span | None
    clause: str = ""
    settles: str = ""
    why: str = ""
    decided: str = ""
    key: str = ""


class Item(NamedTuple):
    """One thing that was handed in for one place: its requirements, what it newly breaks and opens, and one word."""

    name: str
    goods: str
    address: tuple[str, ...]
    offered: str
    span: Span
    requirements: tuple[Requirement, ...]
    breaks: tuple[Finding, ...] = ()
    opens: tuple[Question, ...] = ()
    summary: str = ""
    said: str = ""


class Missing(NamedTuple):
    """A line of the specification for which nothing was handed in, or a paper that it demands."""

    what: str
    words: str
    address: tuple[str, ...]
    span: Span
    settles: str = ""


class Package(NamedTuple):
    """The whole review of a submittal; ``said`` is an office's word for the summary."""

    file: str
    plan: str
    data: str
    as_of: str
    items: tuple[Item, ...]
    not_handed_in: tuple[Missing, ...]
    papers: tuple[Missing, ...]
    breaks: tuple[Finding, ...]
    unread: tuple[Problem, ...]
    rules: int
    packs: tuple[tuple[str, str, str], ...]
    summary: str = ""
    said: str = ""
