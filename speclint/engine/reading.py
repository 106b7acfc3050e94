"""What an evaluation reads and leaves behind: subjects, the environment, the trace of what kept it open."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Protocol, TypeAlias

from speclint.kernel.faults import EngineDefect
from speclint.kernel.values import DEMANDED, Absent, Between, Cases, Known, Single, Unknown, ValueSet


class Subject(Protocol):
    """What a rule is decided on; it keeps its facts, looks for them outwards, and knows what they rest on."""

    @property
    def kind(self) -> str:
        """The sort of subject, such as the rule's ``judges`` names it."""

    @property
    def address(self) -> tuple[str, ...]:
        """The names that lead to it; kind and address together are unique."""

    def get(self, fact: str) -> ValueSet:
        """The value of a fact, the same object at every call."""

    def members(self, collection: str) -> tuple[Subject, ...] | None:
        """The subjects in a collection; None where it is not known whether there are any."""

    def roots(self, fact: str) -> tuple[tuple[Subject, str, str], ...]:
        """The facts a fact finally rests on that are not exactly stated: owner, name, origin."""


Open: TypeAlias = tuple[Subject, str, str]  # subject, fact or collection, origin ("" for a fact: to be traced)
Condition: TypeAlias = "Callable[[Env], bool | None]"
Value: TypeAlias = "Callable[[Env], Single]"


class Env:
    """One evaluation: the subject, the limits and picks in force, and what the evaluation leaves behind."""

    __slots__ = ("at_number", "limits", "open_on", "picks", "read", "subject", "wanted")

    def __init__(
        self,
        subject: Subject,
        limits: Mapping[str, Single],
        picks: Mapping[str, int] | None = None,
        at_number: bool = False,
    ) -> None:
        """Nothing is traced yet; set ``read`` to a list to have every read fact kept."""
        self.subject = subject
        self.limits = limits
        self.picks = {} if picks is None else picks
        self.at_number = at_number
        self.wanted: dict[str, tuple[Subject, str, Cases]] = {}
        self.open_on: list[Open] = []
        self.read: list[tuple[Subject, str]] | None = None


def read_fact(env: Env, name: str) -> Single:
    """A fact under the picks in force; a choice not yet picked is wanted, and unknown till then."""
    subject = env.subject
    value = subject.get(name)
    if env.read is not None:
        env.read.append((subject, name))
    if type(value) is Known:
        return value
    while type(value) is Cases:
        pick = env.picks.get(value.group)
        if pick is None:
            env.wanted.setdefault(value.group, (subject, name, value))
            return Unknown(origin=value.origin, told=True)
        if pick >= len(value.members):
            raise EngineDefect(f"`{name}` has fewer alternatives than another fact of the choice {value.group!r}")
        value = value.members[pick]
    if env.at_number and type(value) is Between and value.number is not None and value.origin == DEMANDED:
        return Known(value.number, value.text, value.span, DEMANDED)
    return value  # type: ignore[return-value]


def traced(env: Env, truth: bool | None, mark: int, facts: tuple[str, ...]) -> bool | None:
    """Take the trace back to ``mark`` if decided, else add the facts that are not exact (all if all are)."""
    trace = env.open_on
    if truth is not None:
        del trace[mark:]
        return truth
    for fact in facts:
        if type(read_fact(env, fact)) not in (Known, Absent):
            trace.append((env.subject, fact, ""))
    if len(trace) == mark:
        trace.extend((env.subject, fact, "") for fact in facts)
    return None
