"""Findings recorded as found: those still there are known; one that went is mended, or withdrawn and not cleared.

It is mended only where what the plan states says why: it is met, or no longer applies, by what is written. What became
a question or is to come, what stands only because a line is gone, and what lost its section, its plan or its rule, is
withdrawn. A list of repeated lines, such as a stack of layers, counts as written in whatever it still holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from speclint.engine.decide import decide, is_borne
from speclint.facts.build import walk
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import ASSUMED, TAKEN, Unknown
from speclint.packs.rule import Rule
from speclint.plan.tree import same
from speclint.review.identity import QUESTION, Mark, kept_marks
from speclint.review.judging import Subjects
from speclint.review.messages import pointed
from speclint.review.report import (
    DIFFER,
    DOES_NOT_APPLY,
    FAILS,
    KNOWN,
    MEETS,
    MENDED,
    NOT_SHOWN,
    TO_COME,
    WITHDRAWN,
    Recorded,
    Report,
)
from speclint.review.settle import Settled, settle, strict
from speclint.review.stages import Stages

_PAPER = f"{QUESTION}paper "
_WENT = "a line that it stood on is gone, and nothing written says why it would no longer apply"


class Standing(NamedTuple):
    """What a recorded finding that is gone is judged by: the rules, the subjects, and all that was settled of them."""

    rules: Mapping[str, Rule]
    root: Subject
    subjects: Subjects
    settled: tuple[Settled, ...]
    stages: Stages


def hold(report: Report, recorded: Iterable[Mark], standing: Standing) -> Report:
    """The report with its known findings and questions marked, and every recorded one told as it stands."""
    old = {_key(mark, standing.rules): mark for mark in recorded}
    made = () if report.fragment else kept_marks(report, "")  # of a fragment nothing is judged
    now = {_key(mark, standing.rules): one for one, mark in made}
    fresh = {id(now[key]) for key in now.keys() - old.keys()}
    known = {id(now[key]) for key in old.keys() & now.keys()} - fresh
    order = sorted(old.items())
    told = [_told(KNOWN, mark) if key in now else _gone(mark, standing, report.fragment) for key, mark in order]
    return report._replace(
        findings=tuple(one._replace(known=True) if id(one) in known else one for one in report.findings),
        questions=tuple(one._replace(known=True) if id(one) in known else one for one in report.questions),
        as_found=tuple(told),
    )


def lost(report: Report, recorded: Iterable[Mark], why: str) -> Report:
    """A report on a plan that is not there: all that was recorded of it is withdrawn."""
    return report._replace(as_found=tuple(_told(WITHDRAWN, mark, why) for mark in sorted(recorded)))


def _key(mark: Mark, rules: Mapping[str, Rule]) -> tuple[str, tuple[str, ...], int]:
    return (_name(mark.rule, rules), tuple(same(name) for name in mark.address), mark.ordinal)


def _name(rule: str, rules: Mapping[str, Rule]) -> str:
    """The present name of a rule that may have been recorded under a former one."""
    if rule in rules or rule.startswith(QUESTION):
        return rule
    return next((one.name for one in rules.values() if rule in one.formerly), rule)


def _told(state: str, mark: Mark, why: str = "") -> Recorded:
    return Recorded(state, mark.rule, mark.address, mark.ordinal, why)


def _gone(mark: Mark, standing: Standing, fragment: bool) -> Recorded:
    """A recorded finding that the review no longer makes."""
    if fragment:
        return _told(WITHDRAWN, mark, "the plan it was recorded of has no heading plan any more")
    sections = {_folded(section_of(one)) for one in walk(standing.root)}
    if mark.address not in sections:
        return _told(WITHDRAWN, mark, "its section is gone")
    if mark.rule.startswith(QUESTION) and not mark.rule.startswith(_PAPER):
        return _question(mark, standing)
    rule = standing.rules.get(_name(mark.rule.removeprefix(_PAPER), standing.rules))
    if rule is None:
        return _told(WITHDRAWN, mark, "no rule of the packs is named so")
    return _judged(mark, rule, standing)


def _question(mark: Mark, standing: Standing) -> Recorded:
    fact = mark.rule.removeprefix(QUESTION)
    for subject in walk(standing.root):
        value = subject.stated(fact) if _near(subject, mark) else None
        if value is not None and not isinstance(value, Unknown):
            return _told(MENDED, mark, "the plan answers it now")
    return _told(WITHDRAWN, mark, "it is asked no more, and the plan does not answer it")


def _judged(mark: Mark, rule: Rule, standing: Standing) -> Recorded:
    """By what the rule says now of the subjects at, within or around the section."""
    every = standing.subjects.get(rule.judges, ())
    near = [one for one in every if _folded(one)[: len(mark.address)] == mark.address]
    near = near or [one for one in every if _near(one, mark)]
    settled = {id(each): one for one in standing.settled if one.rule is rule for each in one.subjects}
    now = [(one, *_outcome(settled.get(id(one)))) for one in near]
    for state, why in ((NOT_SHOWN, "it is an open question now"), (TO_COME, "it waits for a record now")):
        if any(outcome == state for _, outcome, _ in now):
            return _told(WITHDRAWN, mark, why)
    others = [one for one in now if one[1] not in (FAILS, DIFFER)]
    if any(outcome == MEETS and route for _, outcome, route in others):
        return _told(MENDED, mark, "it is met by a recorded paper or decision")
    if any(_written(rule, subject, outcome, standing.stages) for subject, outcome, _ in others):
        met = any(outcome == MEETS for _, outcome, _ in others)
        return _told(MENDED, mark, "the plan meets it now" if met else "by what is written it no longer applies")
    return _told(WITHDRAWN, mark, _WENT)


def _outcome(settled: Settled | None) -> tuple[str, str]:
    """The outcome that was told of a subject, and its route; a rule that was passed by does not apply."""
    return (settled.outcome, settled.route) if settled else (DOES_NOT_APPLY, "")


def _written(rule: Rule, subject: Subject, outcome: str, stages: Stages) -> bool:
    """Whether what is written, and no line left out, brings this outcome."""
    closely = strict(stages.of(subject), stages)
    decision = decide(rule.judgement, subject, closely, rests=True)
    if settle(rule, subject, decision, stages).outcome != outcome:
        return True  # a decision in writing stands before the rule
    if not is_borne(rule.judgement, subject, closely):
        return False
    if pointed(rule, subject, decision).words:
        return True
    loose = any(root.origin in (TAKEN, ASSUMED) for root in decision.rests_on)
    silent = any(isinstance(subject.get(fact), Unknown) for fact in rule.points_at)
    return outcome == MEETS and not (loose or silent)


def _near(subject: Subject, mark: Mark) -> bool:
    """Whether a subject lies at, within or around a section."""
    here = _folded(subject)
    shorter = min(len(here), len(mark.address))
    return here[:shorter] == mark.address[:shorter]


def _folded(subject: Subject) -> tuple[str, ...]:
    return tuple(same(name) for name in subject.address)
