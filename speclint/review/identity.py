"""What a finding is, whatever line it stands on and however it is worded: its rule, file, address and number there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import blake2b
from typing import NamedTuple

from speclint.plan.tree import same
from speclint.review.report import Finding, Question, Report

UNREADABLE = "unreadable-line"


class Mark(NamedTuple):
    """The parts that tell one finding from every other."""

    rule: str
    file: str
    address: tuple[str, ...]
    ordinal: int

    @property
    def print(self) -> str:
        """The parts as a short hash that stays when lines move or sentences change."""
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
        name = f"question {question.fact}"
        ordinal = seen[(name, address)] = seen.get((name, address), 0) + 1
        yield question, Mark(name, file, address, ordinal)


def _numbered(findings: Iterable[Finding], file: str) -> Iterator[tuple[Finding, Mark]]:
    seen: dict[tuple[str, tuple[str, ...]], int] = {}
    for finding in findings:
        address = finding.places[0].address if finding.places else ()
        ordinal = seen[(finding.rule, address)] = seen.get((finding.rule, address), 0) + 1
        yield finding, Mark(finding.rule, file, address, ordinal)
