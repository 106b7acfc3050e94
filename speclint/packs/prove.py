"""Puts the examples of a rule to the test, and asks whether they would notice if the rule were a little wrong."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple, Protocol

from speclint.engine.outcomes import DOES_NOT_MEET, NOT_SHOWN, Judgement
from speclint.engine.weaken import StepOf, weakened
from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.packs.rule import Example, Rule


class Judged(NamedTuple):
    """How a rule ended on an example's text; ``problems`` say what of the text was not read.

    ``missing`` holds the root facts that keep the rule open, ``asked`` those that are asked first.
    """

    outcome: str
    words: str = ""
    message: str = ""
    missing: frozenset[str] = frozenset()
    asked: frozenset[str] = frozenset()
    admits: str = ""
    problems: tuple[str, ...] = ()


class Judge(Protocol):
    """Decides a rule on the text of an example; handed in, so that packs need not know how a plan is read."""

    def __call__(self, text: str, rule: Rule, stage: str) -> Judged:
        """The worst outcome over all subjects that the rule judges."""

    def needless(self, text: str, rule: Rule, stage: str) -> tuple[str, ...]:
        """Facts of words without which the rule is not shown, although it ends alike for every word of them."""


def prove(rule: Rule, judge: Judge, step_of: StepOf) -> tuple[Problem, ...]:
    """What is wrong with a rule's examples, or what none of them would notice; ``step_of`` is a fact's resolution."""
    return prove_examples(rule, judge) or prove_weakened(rule, judge, step_of)


def prove_examples(rule: Rule, judge: Judge) -> tuple[Problem, ...]:
    """Every example that ends otherwise than it says, and every fact that is asked for without need (semantics 6)."""
    problems: list[Problem] = []
    for example in rule.examples:
        told = judge(example.text, rule, example.stage)
        problems.extend(Problem(_place(rule, example), each) for each in _departures(example, told))
        for fact in judge.needless(example.text, rule, example.stage):
            why = f"{rule.name} ends alike for every word of {fact} here, but is not shown without it: ask for less"
            problems.append(Problem(_place(rule, example), why))
    return tuple(dict.fromkeys(problems))


def prove_weakened(rule: Rule, judge: Judge, step_of: StepOf) -> tuple[Problem, ...]:
    """Every way to weaken the rule that no example notices."""
    problems: list[Problem] = []
    for note, judgement in weakened(rule.judgement, step_of):
        if not notices(rule, judgement, judge):
            problems.append(Problem(rule.span, f"no example of {rule.name} notices: {note}"))
    return tuple(problems)


def notices(rule: Rule, judgement: Judgement, judge: Judge) -> bool:
    """Whether some example of a rule ends otherwise than it says once the rule judges by another judgement."""
    changed = rule._replace(judgement=judgement)
    return any(_departures(one, judge(one.text, changed, one.stage)) for one in rule.examples)


def _place(rule: Rule, example: Example) -> Span:
    return example.span or rule.span


def _departures(example: Example, told: Judged) -> Iterable[str]:
    """How an outcome departs from what an example says; the first that matters is enough where the outcome differs."""
    if told.problems:
        return [f"the example is not read: {each}" for each in told.problems]
    if told.outcome != example.ends:
        extra = f", asking for {', '.join(sorted(told.missing))}" if told.outcome == NOT_SHOWN and told.missing else ""
        extra = f": {told.message}" if told.outcome == DOES_NOT_MEET else extra
        return [f'the example should end "{example.ends}", and ends "{told.outcome}"{extra}']
    found: list[str] = []
    for verb, wanted, got in (
        ("points at", example.points_at, told.words),
        ("says", example.message, told.message),
        ("also admits", example.admits, told.admits),
    ):
        if wanted and wanted != got:
            found.append(f'the example {verb} "{got}" and not "{wanted}"')
    wanted_facts = frozenset(example.missing)
    if wanted_facts and wanted_facts not in (told.missing, told.asked):
        got = ", ".join(sorted(told.missing)) or "nothing"
        found.append(f"the example asks for {got} and not for {', '.join(sorted(wanted_facts))}")
    return found
