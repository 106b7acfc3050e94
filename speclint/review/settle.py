"""From a decision to the outcome that a person is told: stages, records, routes and weights."""

from __future__ import annotations

from typing import NamedTuple

from speclint.engine.outcomes import Decision
from speclint.facts.subject import Subject
from speclint.kernel.values import ASSUMED, Absent, Between, Known
from speclint.packs.rule import Rule
from speclint.plan.moments import day_range
from speclint.review.report import DOES_NOT_APPLY, FAILS, MEETS, NOT_SHOWN, TO_COME
from speclint.review.stages import Stages

STRICT_FROM = "rough-in"
CLOSEOUT = "closeout"
PAPERS, PAPER_ROUTE, PAPER_RULE, PAPER_KIND = "papers", "paper.route", "paper.rule", "paper.kind"
PAPER_UNTIL = "paper.until"


class Settled(NamedTuple):
    """One rule on one subject as told: the outcome, its weight, and for a question what it asks besides facts.

    ``alike`` are further subjects that the rule cannot tell from it.
    """

    rule: Rule
    subject: Subject
    decision: Decision
    outcome: str
    weight: str
    ask: str = ""
    route: str = ""
    alike: tuple[Subject, ...] = ()

    @property
    def subjects(self) -> tuple[Subject, ...]:
        """Every subject that the outcome holds of."""
        return (self.subject, *self.alike)

    @property
    def told(self) -> tuple[Subject, ...]:
        """The subjects that it is told of by name: a part that stands as what it is part of is told with that."""
        every = {id(one) for one in self.subjects}
        return tuple(one for one in self.subjects if id(one.outer) not in every)


def settle(rule: Rule, subject: Subject, decision: Decision, stages: Stages) -> Settled:
    """The told outcome of a decision."""
    outcome, weight, ask, route = decision.outcome, rule.weight, "", ""
    if outcome in (MEETS, DOES_NOT_APPLY):
        return Settled(rule, subject, decision, outcome, weight)
    if outcome == FAILS and decision.rests_on and weight == "tear-out":
        weight = "callback"
    stage = stages.of(subject)
    shown = _record_there(rule, subject)
    asks_for_record = bool(rule.due) and not shown and rule.reads_record
    if outcome == FAILS and decision.admits and not asks_for_record:
        return Settled(rule, subject, decision, FAILS, "remark")
    if rule.due and not shown and (outcome == NOT_SHOWN or asks_for_record):
        missed = outcome == FAILS
        outcome, weight = _missing_record(rule, stage, stages, weight, missed)
        ask = "record" if missed and outcome == NOT_SHOWN else ""
    elif outcome == NOT_SHOWN and not shown and _waits_for_record(rule, decision, stage, stages):
        outcome = TO_COME
    if outcome == FAILS and rule.route:
        outcome, route = _by_route(rule, subject, stages.day)
        ask = "route" if outcome == NOT_SHOWN else ""
    elif outcome == FAILS and rule.asks_only:
        outcome, ask = NOT_SHOWN, "confirm"
    return Settled(rule, subject, decision, outcome, weight, ask, route)


def _missing_record(rule: Rule, stage: str, stages: Stages, weight: str, missed: bool) -> tuple[str, str]:
    """A record that is not there: to come before it is due, then asked for; never a tear-out.

    At closeout a rule is not met that surely applies and asks for it (``missed``); what is open for want of another
    fact, or would only have been shown by it, stays not shown.
    """
    lighter = "callback" if weight == "tear-out" else weight
    if not stages.reached(stage, rule.due):
        return TO_COME, lighter
    return (FAILS if missed and stages.reached(stage, CLOSEOUT) else NOT_SHOWN), lighter


def _record_there(rule: Rule, subject: Subject) -> bool:
    if not rule.shown_by:
        return False
    view = subject.catalogue.views.get(rule.shown_by.replace(" ", "-"))
    return bool(view and subject.viewed(view))


def _waits_for_record(rule: Rule, decision: Decision, stage: str, stages: Stages) -> bool:
    """Whether only assumed ranges keep a rule open that a record will show, and the work is not yet handed over."""
    assumed = bool(decision.open_on) and all(root.origin == ASSUMED for root in decision.open_on)
    return assumed and bool(rule.shown_by) and not stages.reached(stage, CLOSEOUT)


def _by_route(rule: Rule, subject: Subject, day: str) -> tuple[str, str]:
    """With a paper that holds on the day the rule is met and says so; one that says none settles it the other way."""
    for paper in subject.members(PAPERS) or ():
        way = paper.get(PAPER_ROUTE)
        if not isinstance(way, Known) or _ended(paper, day):
            continue
        named = [proof.get(PAPER_RULE) for proof in paper.members("proofs") or ()]
        names = {str(value.value) for value in named if isinstance(value, Known)}
        if way.value == rule.route and (not names or rule.name in names):
            none = isinstance(paper.get(PAPER_KIND), Absent)
            return (FAILS if none else MEETS), f"{rule.route}: {paper.name}"
    return NOT_SHOWN, ""


def _ended(paper: Subject, day: str) -> bool:
    """Whether the last day of a paper is surely over."""
    until, today = paper.get(PAPER_UNTIL), day_range(day)
    last = until.value if isinstance(until, Known) else until.high if isinstance(until, Between) else None
    return today is not None and last is not None and not isinstance(last, str) and today[0] > last


def strict(stage: str, stages: Stages) -> bool:
    """Whether what a plan leaves open is by now asked for."""
    return stages.reached(stage, STRICT_FROM)
