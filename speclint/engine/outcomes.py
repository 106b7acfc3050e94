"""What a rule judges by, and what comes out: judgements and decisions as values."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from speclint.engine.candidates import picked
from speclint.engine.closures import compile_condition, literal
from speclint.engine.nodes import Node
from speclint.engine.reading import Condition, Subject
from speclint.kernel.values import DEMANDED, Between, Known, Single, ValueSet

MEETS = "meets"
DOES_NOT_MEET = "does not meet"
NOT_SHOWN = "not shown"
DOES_NOT_APPLY = "does not apply"
SOURCES_DIFFER = "sources differ"


class Variant(NamedTuple):
    """A limit by one edition or source: its label, when it holds (None: always) and its literal.

    Without a label it is the one that holds where no labelled one surely does.
    """

    label: str
    when: Node | None
    value: Node


class Judgement:
    """What one rule applies to and demands, and its limits, as checked nodes; compiled at first use."""

    __slots__ = ("_made", "applies", "demands", "limits")

    def __init__(
        self,
        demands: Node,
        applies: Node | None = None,
        limits: Mapping[str, Sequence[Variant]] | None = None,
    ) -> None:
        """Keep the nodes; nothing is compiled yet."""
        self.applies = applies
        self.demands = demands
        self.limits = {name: tuple(Variant(*one) for one in each) for name, each in (limits or {}).items()}
        self._made: Made | None = None

    @property
    def made(self) -> Made:
        """The closures, made once."""
        if self._made is None:
            fixed = _fixed(self.limits)
            self._made = Made(
                None if self.applies is None else compile_condition(self.applies),
                compile_condition(self.demands),
                {name: tuple(_made_variant(one) for one in each) for name, each in self.limits.items()},
                fixed,
                {outcome: Decision(outcome, limits=fixed or {}) for outcome in (MEETS, DOES_NOT_APPLY)},
            )
        return self._made


class MadeVariant(NamedTuple):
    """A variant ready to run."""

    label: str
    when: Condition | None
    value: Known


class Made(NamedTuple):
    """The closures of a judgement; ``fixed`` holds limits without variants, ``plain`` the easy decisions."""

    applies: Condition | None
    demands: Condition
    limits: Mapping[str, tuple[MadeVariant, ...]]
    fixed: Mapping[str, Single] | None
    plain: Mapping[str, Decision]


class Root(NamedTuple):
    """A fact or collection that a question may ask for, or on which an outcome rests."""

    subject: Subject
    fact: str
    origin: str

    @property
    def key(self) -> tuple[str, tuple[str, ...], str]:
        """Kind, address and fact, which tell roots apart."""
        return (self.subject.kind, self.subject.address, self.fact)


class Admitted(NamedTuple):
    """A value the plan admits under which the demand fails."""

    subject: Subject
    fact: str
    value: ValueSet


class Decision(NamedTuple):
    """The outcome of a rule on a subject and all that is needed to tell it.

    ``admits`` is not empty where `does not meet` holds only for some of what the plan leaves open (a remark);
    ``picks`` and ``at_number`` reproduce the evaluation that is told; ``variants`` holds label and outcome of
    each variant of the limits if there are several; ``rests_on`` holds assumed or taken facts that bear it.
    """

    outcome: str
    open_on: tuple[Root, ...] = ()
    picks: tuple[tuple[str, int], ...] = ()
    at_number: bool = False
    admits: tuple[Admitted, ...] = ()
    variants: tuple[tuple[str, str], ...] = ()
    rests_on: tuple[Root, ...] = ()
    limits: Mapping[str, Single] = {}

    def value(self, subject: Subject, fact: str) -> ValueSet:
        """The value of a fact in the case that the decision tells: as admitted, picked, or at its number."""
        for one in self.admits:
            if (one.subject.kind, one.subject.address, one.fact) == (subject.kind, subject.address, fact):
                return picked(one.value, dict(self.picks))
        value = picked(subject.get(fact), dict(self.picks))
        if self.at_number and type(value) is Between and value.number is not None and value.origin == DEMANDED:
            return Known(value.number, value.text, value.span, DEMANDED)
        return value


def _made_variant(variant: Variant) -> MadeVariant:
    when = None if variant.when is None else compile_condition(variant.when)
    return MadeVariant(variant.label, when, literal(variant.value))


def _fixed(limits: Mapping[str, tuple[Variant, ...]]) -> Mapping[str, Single] | None:
    if any(len(each) != 1 or each[0].when is not None for each in limits.values()):
        return None
    return {name: literal(each[0].value) for name, each in limits.items()}
