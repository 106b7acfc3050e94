"""The main job: every rule decided on every subject it judges, settled, grouped, and summed up in one word."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from speclint.facts.build import build_subjects, walk
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import ASSUMED, TAKEN, Known
from speclint.packs.rule import Rule
from speclint.plan.tree import Plan, grow_plan
from speclint.review.as_found import Standing, hold
from speclint.review.cautions import cautions_for
from speclint.review.decisions import apply_decisions
from speclint.review.findings import findings_of, gathered
from speclint.review.gates import book_of
from speclint.review.identity import Mark
from speclint.review.judging import by_kind, judged
from speclint.review.kit import Kit
from speclint.review.notes import held_back, notes_of
from speclint.review.questions import questions
from speclint.review.report import (
    CLEAR,
    DIFFER,
    DOES_NOT_APPLY,
    FAILS,
    MEETS,
    NOT_SHOWN,
    NOTED,
    OPEN,
    REVISE,
    TO_COME,
    Coming,
    Finding,
    Place,
    Question,
    Report,
)
from speclint.review.rulings import apply_rulings
from speclint.review.settle import Settled
from speclint.review.show import system_of
from speclint.review.stages import STAGE_FACT, stages_of
from speclint.review.variances import apply_variances

BEARS_FACT = "seen.bears-on"
HEAVY = ("tear-out", "callback")


class Options(NamedTuple):
    """What a run sets for all plans: a stage that overrides theirs, the day for variances (``2026-04-02``), and
    whether the computations are told with it.

    ``roles`` are those in which named people and offices grant and decide, by their names as names compare.
    """

    stage: str = ""
    as_of: str = ""
    working: bool = False
    roles: Mapping[str, str] = {}


class Ground(NamedTuple):
    """What stands for one plan outside of it: findings recorded as found, and variances agreed; None: not asked for."""

    recorded: frozenset[Mark] | None = None
    agreed: frozenset[tuple[str, ...]] | None = None


PLAIN, BARE = Options(), Ground()


def review(plan: Plan, kit: Kit, options: Options = PLAIN, ground: Ground = BARE) -> Report:
    """The report on one plan."""
    root = build_subjects(plan, kit.catalogue)
    stages = stages_of(kit.vocabulary, options.stage, options.as_of)
    system = system_of(root)
    book, subjects = book_of(kit.packs, kit.catalogue), by_kind(root)
    rules = book.rules
    settled, passed_by = judged(book, subjects, stages)
    settled, decided = apply_rulings(*apply_decisions(settled, root, options.roles), root)
    day, roles = options.as_of, options.roles
    found, states = apply_variances(findings_of(settled, system), root, rules, day, walk, ground.agreed, roles)
    asked = questions((one for one in settled if one.outcome == NOT_SHOWN), system, _bearing(subjects))
    summary = summary_of(found, asked, bool(plan.problems), bool(subjects.get("assembly")), plan.fragment)
    report = Report(
        file=plan.file,
        plan=plan.root.name,
        stage=stages.of(root),
        stage_stated=bool(options.stage) or isinstance(root.stated(STAGE_FACT), Known),
        summary=held_back(summary, root, kit.packs),
        findings=gathered(found),
        questions=asked,
        to_come=_coming(settled),
        variances=states,
        decisions=decided,
        notes=notes_of(root, kit.packs),
        unread=tuple(sorted(plan.problems, key=lambda one: one.span.order)),
        taken_as_absent=_taken(subjects),
        assumed=_assumed(settled),
        cautions=cautions_for(kit.cautions, subjects),
        outcomes=tuple(sorted(_counted(settled, passed_by).items())),
        rules=len(rules),
        packs=tuple((pack.name, pack.version, pack.hash) for pack in kit.packs),
        as_of=options.as_of,
        fragment=plan.fragment,
        passed=_passed(settled),
    )
    if options.working:
        report = _with_working(report, root, system, rules)
    standing = Standing(rules, root, subjects, settled, stages)
    return report if ground.recorded is None else hold(report, ground.recorded, standing)


def _with_working(report: Report, root: Subject, system: str, rules: Mapping[str, Rule]) -> Report:
    from speclint.review.working import with_working

    return with_working(report, root, system, rules)


def missing_plan(file: str, kit: Kit, options: Options = PLAIN) -> Report:
    """The report on a plan that is not there any more."""
    return review(grow_plan(file, (), (), kit.vocabulary), kit, options)._replace(summary=REVISE, fragment=True)


def summary_of(
    findings: tuple[Finding, ...], asked: tuple[Question, ...], unread: bool, any_assembly: bool, fragment: bool
) -> str:
    """The one word for a plan."""
    open_findings = [one for one in findings if not one.variance]
    if unread or any(one.outcome == FAILS and one.weight in HEAVY for one in open_findings):
        return REVISE
    if fragment:
        return CLEAR
    differ = any(one.outcome == DIFFER and one.weight in HEAVY for one in open_findings)
    if differ or not any_assembly or any(one.weight in HEAVY for one in asked):
        return OPEN
    return NOTED if findings or asked else CLEAR


def _bearing(subjects: Mapping[str, tuple[Subject, ...]]) -> frozenset[str]:
    """What is asked about first, by all that records list as seen."""
    told = (one.get(BEARS_FACT) for one in subjects.get("seen", ()))
    return frozenset(head for value in told if isinstance(value, Known) for head in str(value.value).split())


def _counted(settled: Iterable[Settled], passed_by: int) -> Counter[str]:
    found: Counter[str] = Counter({DOES_NOT_APPLY: passed_by} if passed_by else {})
    for one in settled:
        found[one.outcome] += len(one.subjects)
    return found


def _passed(settled: Iterable[Settled]) -> tuple[tuple[str, str], ...]:
    met = (one for one in settled if one.outcome == MEETS)
    return tuple(sorted({(one.rule.name, " / ".join(subject.address)) for one in met for subject in one.subjects}))


def _places(group: Iterable[Settled]) -> tuple[Place, ...]:
    """The sections that some settled outcomes stand in, in the order of the text."""
    homes = {Place(home.address, home.span) for one in group for home in map(section_of, one.subjects)}
    return tuple(sorted(homes, key=lambda place: (place.span.order, place.address)))


def _coming(settled: Iterable[Settled]) -> tuple[Coming, ...]:
    groups: dict[tuple[str, str], list[Settled]] = {}
    for one in settled:
        if one.outcome == TO_COME:
            groups.setdefault((one.rule.shown_by or one.rule.settles, one.rule.due), []).append(one)
    return tuple(
        Coming(
            record=record,
            due=due,
            rules=tuple(sorted({one.rule.name for one in group})),
            places=_places(group),
            settles=group[0].rule.settles,
        )
        for (record, due), group in sorted(groups.items())
    )


def _taken(subjects: Mapping[str, tuple[Subject, ...]]) -> tuple[str, ...]:
    """The features of which the plan has no line and that a rule took as absent."""
    every = [subject for group in subjects.values() for subject in group]
    told = {fact.partition(".")[0] for subject in every for fact in subject.own}
    told |= {
        str(value.value).replace(" ", "-") for one in every for value in one.own.values() if isinstance(value, Known)
    }
    taken = {
        fact.partition(".")[0] for subject in every for fact, value in subject.cache.items() if value.origin == TAKEN
    }
    return tuple(sorted(head.replace("-", " ") for head in taken - told))


def _assumed(settled: Iterable[Settled]) -> tuple[str, ...]:
    """The ranges that were assumed where they bear on an outcome that is told."""
    found: set[str] = set()
    for one in settled:
        if one.outcome in (FAILS, NOT_SHOWN, TO_COME):
            for root in (*one.decision.open_on, *one.decision.rests_on):
                entry = one.subject.catalogue.find(root.fact)
                text = getattr(root.subject.get(root.fact), "text", "")
                if root.origin == ASSUMED and entry is not None and text:
                    found.add(f"{entry.means}: {text}")
    return tuple(sorted(found))
