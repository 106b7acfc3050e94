"""What the reviews of the told jobs name: run ``python -m tests.field_cases.scoreboard`` to print it.

A cause is found (a finding of one of its rules), asked (a question or a record to come keeps one of them open), asked broadly (only
questions on which more than five rules hang lead to it, so the cause itself is hardly named), or not named. A plan is falsely accused by
each rule that faults what it states rightly; a remark on what it leaves open faults nothing stated.
"""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from speclint.files.plans import load_plan
from speclint.packs.yaml_text import read_yaml
from speclint.review.report import Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit

HERE = Path(__file__).resolve().parent
FOUND, ASKED, BROADLY, NOT_NAMED = "found", "asked", "broadly", "not named"
FEW = 5


class Cause(NamedTuple):
    """One cause of a failed job, or one point that an inspector of a specification would raise."""

    words: str
    told: str
    rules: frozenset[str]
    wanted: str
    why_not: str


class Case(NamedTuple):
    """A told job: its causes or points, the rules that must not be found, and those found all the same today."""

    name: str
    folder: str
    causes: tuple[Cause, ...]
    correct: frozenset[str]
    accused: frozenset[str]


class Score(NamedTuple):
    """How the review of one case stands; ``named`` goes beside its causes."""

    case: Case
    named: tuple[str, ...]
    accused: tuple[str, ...]
    findings: int
    questions: int
    unread: tuple[str, ...]


def told_cases() -> tuple[Case, ...]:
    """The cases of ``expected.yaml``, by name."""
    path = HERE / "expected.yaml"
    told: dict[str, Any] = read_yaml(path.read_text(encoding="utf-8"), path.name).data
    return tuple(_case(name, told[name]) for name in sorted(told))


def _case(name: str, told: dict[str, Any]) -> Case:
    causes = [
        Cause(one["cause"], one["told"], frozenset(one["named by"]), one["as"], one.get("why not", ""))
        for one in [*told.get("causes", ()), *told.get("points", ())]
    ]
    folder = "failed" if "causes" in told else "specified"
    return Case(name, folder, tuple(causes), frozenset(told["correct"]), frozenset(told.get("accused", ())))


@cache
def scored(case: Case) -> Score:
    """The review of the plan of a case, held against what is expected of it."""
    report = _report(case)
    named = tuple(_way(cause.rules, report) for cause in case.causes)
    unread = tuple(str(problem) for problem in report.unread)
    accused = tuple(sorted({finding.rule for finding in report.findings if not finding.admits} & case.correct))
    return Score(case, named, accused, len(report.findings), len(report.questions), unread)


def _way(rules: frozenset[str], report: Report) -> str:
    if any(rules.intersection((finding.rule, *finding.also)) for finding in report.findings):
        return FOUND
    asked = [len(question.frees) for question in report.questions if rules.intersection(question.frees)]
    coming = any(rules.intersection(record.rules) for record in report.to_come)
    if coming or any(freed <= FEW for freed in asked):
        return ASKED
    return BROADLY if asked else NOT_NAMED


def _report(case: Case) -> Report:
    kit = shipped_kit()
    return review(load_plan(str(HERE / case.folder / f"{case.name}.wetspec"), kit), kit, Options(as_of="2026-06-01"))


def scoreboard() -> str:
    """A table with a line for each plan, its causes not named below it, and the sums at the end."""
    scores = [scored(case) for case in told_cases()]
    lines = [_row("plan", FOUND, ASKED, BROADLY, NOT_NAMED, "falsely accused", "findings", "questions")]
    for score in scores:
        lines.append(_row(score.case.name, *_counts([score])))
        lines += [
            f"    {way}: {cause.words}{_why(cause)}"
            for cause, way in zip(score.case.causes, score.named, strict=True)
            if way in (BROADLY, NOT_NAMED)
        ]
        lines += [f"    falsely accused: {rule}" for rule in score.accused]
    for folder, what in (("failed", "all failed jobs"), ("specified", "all specifications")):
        lines.append(_row(what, *_counts([score for score in scores if score.case.folder == folder])))
    return "\n".join([*lines, ""])


def _why(cause: Cause) -> str:
    return f" ({cause.why_not})" if cause.why_not else ""


def _counts(scores: list[Score]) -> tuple[int, ...]:
    ways = [way for score in scores for way in score.named]
    return (
        *(ways.count(way) for way in (FOUND, ASKED, BROADLY, NOT_NAMED)),
        sum(len(score.accused) for score in scores),
        sum(score.findings for score in scores),
        sum(score.questions for score in scores),
    )


def _row(name: str, *cells: object) -> str:
    return f"{name:<34}" + "".join(
        f"{cell!s:>{width}}" for cell, width in zip(cells, (7, 7, 9, 11, 17, 10, 11), strict=True)
    )


if __name__ == "__main__":
    sys.stdout.write(scoreboard())
