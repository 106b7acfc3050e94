"""What a finding is, whatever line it stands on and however it is worded: its rule, file, address and number there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from speclint.plan.tree import same
from speclint.review.report import Finding, Question, Report

UNREADABLE = "unreadable-line"
QUESTION = "question "


class Mark(NamedTuple):
    """The parts that tell one finding from every other."""

    rule: str
    file: str
    address: tuple[str, ...]
    ordinal: int

    @property
    def print(self) -> str:
        """The parts as a short hash that stays when lines move or sentences change."""
        from hashlib import blake2b

        text = "\0".join((self.rule, self.file, *(same(name) for name in self.address), str(self.ordinal)))
        return blake2b(text.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def marked(report: Report, file: str) -> Iterator[tuple[Finding, Mark]]:
    """Every finding of a report with its mark; ``file`` is the plan's path from the root of the repository."""
    return _numbered(report.findings, file)


def marked_questions(report: Report, file: str) -> Iterator[tuple[Question, Mark]]:
    """Every question of a report with its mark."""
    seen: dict[tuple[str, tuple[str, ...]], int] = {}
    for question in report.questions:
        address = question.places[0].address if question.places else ()
        name = f"{QUESTION}{question.fact}"
        ordinal = seen[(name, address)] = seen.get((name, address), 0) + 1
        yield question, Mark(name, file, address, ordinal)


def _numbered(findings: Iterable[Finding], file: str) -> Iterator[tuple[Finding, Mark]]:
    seen: dict[tuple[str, tuple[str, ...]], int] = {}
    for finding in findings:
        address = finding.places[0].address if finding.places else ()
        ordinal = seen[(finding.rule, address)] = seen.get((finding.rule, address), 0) + 1
        yield finding, Mark(finding.rule, file, address, ordinal)


def kept_marks(report: Report, file: str) -> Iterator[tuple[Finding | Question, Mark]]:
    """Every finding and question with the marks by which it is recorded as found: rules and section, names folded."""
    seen: dict[tuple[str, tuple[str, ...]], int] = {}
    every: list[tuple[str, Finding | Question]] = [
        (rule, one) for one in report.findings for rule in (one.rule, *one.also)
    ]
    every += [(f"{QUESTION}{one.fact}", one) for one in report.questions]
    for rule, one in every:
        address = tuple(same(name) for name in one.section)
        ordinal = seen[(rule, address)] = seen.get((rule, address), 0) + 1
        yield one, Mark(rule, file, address, ordinal)
