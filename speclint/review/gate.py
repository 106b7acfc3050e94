"""Whether a report stops the work: one pure decision, so that a table can test it."""

from __future__ import annotations

from typing import NamedTuple

from speclint.packs.rule import WEIGHTS
from speclint.review.report import DIFFER, FAILS, KNOWN, Finding, Question, Report

GOES, STOPS = 0, 1
EARLY = frozenset({"design", "submitted", "rough-in"})
"""Stages at which an open question stops nothing unless it is asked to: there is still time to answer it."""


class Bar(NamedTuple):
    """What stops: the least weight, and whether questions stop at every stage or from which stage on."""

    stop_at: str = "callback"
    questions: bool = False
    early: frozenset[str] = EARLY


USUAL = Bar()


def exit_code(report: Report, bar: Bar = USUAL) -> int:
    """0 when the work may go on, 1 when it stops.

    It stops on a line that nobody could read; on what was recorded as found and is mended or withdrawn and not yet
    struck off; and on whatever ``stopping`` names. Records still to come stop nothing. A fragment is judged where a
    plan includes it, so only its unreadable lines and what was recorded of it stop.
    """
    if report.unread or any(one.state != KNOWN for one in report.as_found):
        return STOPS
    return STOPS if any(stopping(report, bar)) else GOES


def stopping(report: Report, bar: Bar = USUAL) -> tuple[tuple[Finding, ...], tuple[Question, ...]]:
    """The findings and questions that stop: of the least weight or more, not let through, not known as found.

    Findings ``does not meet`` stop at every stage; questions and sources that differ only once they are asked for.
    """
    if report.fragment:
        return (), ()
    least = WEIGHTS.index(bar.stop_at)
    ask = bar.questions or report.stage not in bar.early
    findings = tuple(
        one
        for one in report.findings
        if WEIGHTS.index(one.weight) >= least
        and not (one.variance or one.known)
        and (one.outcome == FAILS or (one.outcome == DIFFER and ask))
    )
    asked = (one for one in report.questions if ask and not one.known and WEIGHTS.index(one.weight) >= least)
    return findings, tuple(asked)


def worst(codes: tuple[int, ...]) -> int:
    """The exit code of many plans: a fault of the program (70) over what could not run (2) over stops (1) over 0."""
    return max(codes, default=GOES)
