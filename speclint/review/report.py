"""The report on one plan as frozen values: what every form of output is made from."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.packs.rule import Cite

if TYPE_CHECKING:
    from speclint.review.edit import Edit
    from speclint.review.working import Working

REVISE = "revise"
OPEN = "open questions"
NOTED = "exceptions noted"
CLEAR = "no exceptions"

MEETS = "meets"
FAILS = "does not meet"
NOT_SHOWN = "not shown"
DOES_NOT_APPLY = "does not apply"
TO_COME = "to come"
DIFFER = "sources differ"

KNOWN, MENDED, WITHDRAWN = "known", "mended", "withdrawn"


class Place(NamedTuple):
    """Where a finding stands: the address of its subject, and the line that it points at."""

    address: tuple[str, ...]
    span: Span


class Finding(NamedTuple):
    """One rule not met (or with sources that differ) at one line, with every place that the line serves.

    ``message`` says what was read and what is needed; ``passes`` what would pass; ``rests_on`` what was assumed or
    taken as absent; ``admits`` failing members where the plan merely leaves it open; ``variance`` an agreed exception;
    ``choice`` is the line that leaves it open and ``also`` names further rules that it offends;
    ``section`` is the address of the section that holds the line; ``known`` says it was recorded as found.
    ``instead`` holds, where that was asked for, the changes of the plan that each clear the finding; ``squeezed`` the
    rule that keeps others from doing so, and the line that it keeps out.
    """

    rule: str
    pack: str
    outcome: str
    weight: str
    message: str
    passes: str
    span: Span
    words: str
    places: tuple[Place, ...]
    acts: str
    settles: str
    varied_by: tuple[str, ...]
    spec_part: int
    cites: tuple[Cite, ...]
    rests_on: tuple[str, ...] = ()
    admits: tuple[str, ...] = ()
    sides: tuple[tuple[str, str], ...] = ()
    variance: str = ""
    working: tuple[str, ...] = ()
    section: tuple[str, ...] = ()
    known: bool = False
    choice: Span | None = None
    also: tuple[str, ...] = ()
    instead: tuple[tuple[Edit, ...], ...] = ()
    squeezed: tuple[str, str] = ("", "")


class Question(NamedTuple):
    """One missing fact, asked once: its weight is that of the heaviest rule it keeps open."""

    fact: str
    text: str
    answers: str
    weight: str
    frees: tuple[str, ...]
    places: tuple[Place, ...]
    due: str = ""
    section: tuple[str, ...] = ()
    known: bool = False


class Coming(NamedTuple):
    """A record that is not yet due: the rules it will show, and the stage from which it is missing."""

    record: str
    due: str
    rules: tuple[str, ...]
    places: tuple[Place, ...]
    settles: str = ""


class VarianceState(NamedTuple):
    """An agreed exception as it stands: ``granted``, ``lapsed``, ``void`` or ``unused``, and why."""

    state: str
    rule: str
    address: str
    role: str
    because: str
    until: str
    why: str
    span: Span


class Recorded(NamedTuple):
    """A finding or question of the file of those as found, as it stands now: ``known``, ``mended`` or ``withdrawn``."""

    state: str
    rule: str
    address: tuple[str, ...]
    ordinal: int
    why: str


class Report(NamedTuple):
    """Everything a review has to say of one plan, in a fixed order.

    ``said`` is an office's word for the summary; ``workings`` stand here only where they were asked for.
    """

    file: str
    plan: str
    stage: str
    stage_stated: bool
    summary: str
    findings: tuple[Finding, ...]
    questions: tuple[Question, ...]
    to_come: tuple[Coming, ...]
    variances: tuple[VarianceState, ...]
    decisions: tuple[str, ...]
    notes: tuple[str, ...]
    unread: tuple[Problem, ...]
    taken_as_absent: tuple[str, ...]
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]
    outcomes: tuple[tuple[str, int], ...]
    rules: int
    packs: tuple[tuple[str, str, str], ...]
    as_of: str
    fragment: bool = False
    passed: tuple[tuple[str, str], ...] = ()
    as_found: tuple[Recorded, ...] = ()
    said: str = ""
    workings: tuple[Working, ...] = ()


def heaviest(weights: tuple[str, ...]) -> str:
    """The heaviest of some weights; a remark if there is none."""
    order = ("remark", "callback", "tear-out")
    return max(weights, key=order.index, default="remark")
