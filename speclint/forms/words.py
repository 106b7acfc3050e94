"""Sentences that every form shares: the summary, what a weight costs at a stage, and counts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from speclint.forms.safe import safe
from speclint.review.report import Finding, Report

WEIGHTS = ("tear-out", "callback", "remark")  # heaviest first
BUILT = frozenset({"before grout", "closeout", "in service"})
COSTS = {
    "tear-out": "would have to come out once built",
    "callback": "likely to bring a call back",
    "remark": "workmanship and advice",
}
PERSON = "What is shown here is for a competent person to decide."


def cost_words(weight: str, stage: str) -> str:
    """What a weight means for work at this stage."""
    if weight == "tear-out" and stage in BUILT:
        return "would come out again"
    return COSTS.get(weight, "")


def counted(number: int, one: str, many: str = "") -> str:
    """``1 question``, ``3 questions``."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def pack_names(report: Report) -> str:
    """The packs with their versions, such as ``packs practice 1.0, ansi 1.0``."""
    if not report.packs:
        return "no packs"
    names = ", ".join(f"{name} {version}" for name, version, _ in report.packs)
    return safe(f"{'pack' if len(report.packs) == 1 else 'packs'} {names}")


def pack_marks(report: Report) -> str:
    """The packs with version and the first digits of the hash of their content."""
    return safe(", ".join(f"{name} {version} ({mark[:12]})" for name, version, mark in report.packs)) or "no packs"


def among(report: Report) -> str:
    """How many rules the summary speaks for."""
    return f"among {counted(report.rules, 'rule')} of {pack_names(report)}"


def stage_words(report: Report) -> str:
    """The stage, and whether the plan said it."""
    return f"stage {'said to be' if report.stage_stated else 'taken as'} {safe(report.stage)}"


def sentence(text: str) -> str:
    """A text as a sentence: with one full stop at its end."""
    told = safe(text).strip()
    if told and told[-1] not in ".?!":
        told += "."
    return told


def phrase(text: str) -> str:
    """A text as a phrase: without its full stop."""
    told = safe(text).strip()
    return told[:-1] if told.endswith(".") and not told.endswith("..") else told


def open_findings(report: Report) -> tuple[Finding, ...]:
    """The findings that no agreed exception lets through."""
    return tuple(finding for finding in report.findings if not finding.variance)


def of_weight(findings: Iterable[Finding], weight: str) -> tuple[Finding, ...]:
    """The findings of one weight in their order."""
    return tuple(finding for finding in findings if finding.weight == weight)


def listed(names: Sequence[str], most: int = 12) -> str:
    """Names with commas; beyond ``most`` the rest is counted."""
    left = len(names) - most
    return safe(", ".join(names[:most])) + (f" and {left} more" if left > 0 else "")
