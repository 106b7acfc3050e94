"""What every form says of a whole report: its rules and packs, its stage, and what a weight costs at it."""

from __future__ import annotations

from speclint.forms.phrases import counted
from speclint.forms.safe import safe
from speclint.review.report import Report

WEIGHTS = ("tear-out", "callback", "remark")  # heaviest first
_BUILT = frozenset({"before grout", "closeout", "in service"})
COSTS = {
    "tear-out": "would have to come out once built",
    "callback": "likely to bring a call back",
    "remark": "workmanship and advice",
}
PERSON = "What is shown here is for a competent person to decide."


def cost_words(weight: str, stage: str) -> str:
    """What a weight means for work at this stage."""
    if weight == "tear-out" and stage in _BUILT:
        return "would come out again"
    return COSTS.get(weight, "")


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
