"""Whether a report stops the work: one pure decision, so that a table can test it."""

from __future__ import annotations

from speclint.packs.rule import WEIGHTS
from speclint.review.report import DIFFER, FAILS, Report

GOES, STOPS = 0, 1
EARLY = frozenset({"design", "submitted", "rough-in"})
"""Stages at which an open question stops nothing unless it is asked to: there is still time to answer it."""


def exit_code(report: Report, stop_at: str = "callback", stop_on_questions: bool = False) -> int:
    """0 when the work may go on, 1 when it stops.

    It stops on a line that nobody could read; on a finding ``does not meet`` of the weight ``stop_at`` or more, at
    every stage, unless a variance lets it through; and on open questions (and on sources that differ) of that weight
    from stage ``before membrane`` on, or at every stage with ``stop_on_questions``. Records still to come stop
    nothing. A fragment is judged where a plan includes it, so only its unreadable lines stop.
    """
    if report.unread:
        return STOPS
    if report.fragment:
        return GOES
    least = WEIGHTS.index(stop_at)
    ask = stop_on_questions or report.stage not in EARLY
    for finding in report.findings:
        if WEIGHTS.index(finding.weight) < least or finding.variance:
            continue
        if finding.outcome == FAILS or (finding.outcome == DIFFER and ask):
            return STOPS
    heavy = any(WEIGHTS.index(question.weight) >= least for question in report.questions)
    return STOPS if ask and heavy else GOES


def worst(codes: tuple[int, ...]) -> int:
    """The exit code of many plans: a fault of the program (70) over what could not run (2) over stops (1) over 0."""
    return max(codes, default=GOES)
