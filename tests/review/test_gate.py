"""The gate as a table: what stops, at which stage, by which options."""

from __future__ import annotations

import pytest

from speclint.review.gate import Bar, exit_code, worst
from speclint.review.report import Report
from tests.forms.reports import (
    BROKEN,
    COMING,
    LAPSED,
    LET_THROUGH,
    LINER,
    PIECE,
    QUESTIONS,
    REMARK,
    SIDES,
    finding,
    report,
)

HEAVY, LIGHT = QUESTIONS[0], QUESTIONS[3]
DEEP = HEAVY._replace(weight="tear-out")

TABLE: list[tuple[str, Report, str, bool, int]] = [
    ("nothing to say", report(), "callback", False, 0),
    ("a callback at design", report(findings=(finding(),)), "callback", False, 1),
    ("a callback in service", report(findings=(finding(),), stage="in service"), "callback", False, 1),
    ("a callback below the mark", report(findings=(finding(),)), "tear-out", False, 0),
    ("a tear-out at the highest mark", report(findings=(LINER,)), "tear-out", False, 1),
    ("a remark at the usual mark", report(findings=(REMARK,)), "callback", False, 0),
    ("a remark where remarks stop", report(findings=(REMARK,)), "remark", False, 1),
    ("let through by a variance", report(findings=(LET_THROUGH,)), "callback", False, 0),
    ("a lapsed variance and its finding", report(findings=(finding(),), variances=(LAPSED,)), "callback", False, 1),
    ("a lapsed variance alone", report(variances=(LAPSED,)), "callback", False, 0),
    ("an unreadable line", BROKEN, "callback", False, 1),
    ("an unreadable line at the highest mark", BROKEN, "tear-out", False, 1),
    ("an unreadable line in a fragment", PIECE._replace(unread=BROKEN.unread), "callback", False, 1),
    ("a fragment", PIECE, "callback", True, 0),
    ("a record to come", report(to_come=(COMING,), stage="before tile"), "remark", True, 0),
    *[
        (f"a question at {stage}", report(questions=(HEAVY,), stage=stage), "callback", False, code)
        for stage, code in (
            ("design", 0),
            ("submitted", 0),
            ("rough-in", 0),
            ("before membrane", 1),
            ("before tile", 1),
            ("before grout", 1),
            ("closeout", 1),
            ("in service", 1),
        )
    ],
    ("a question at design, asked to stop", report(questions=(HEAVY,)), "callback", True, 1),
    ("a light question, asked to stop", report(questions=(LIGHT,)), "callback", True, 0),
    ("a light question where remarks stop", report(questions=(LIGHT,), stage="closeout"), "remark", False, 1),
    ("a callback question below the mark", report(questions=(HEAVY,), stage="closeout"), "tear-out", False, 0),
    ("a tear-out question", report(questions=(DEEP,), stage="closeout"), "tear-out", False, 1),
    ("sources differ at design", report(findings=(SIDES,)), "callback", False, 0),
    ("sources differ, asked to stop", report(findings=(SIDES,)), "callback", True, 1),
    ("sources differ before tile", report(findings=(SIDES,), stage="before tile"), "callback", False, 1),
    (
        "sources differ before tile, let through",
        report(findings=(SIDES._replace(variance="designer"),), stage="before tile"),
        "callback",
        False,
        0,
    ),
]


@pytest.mark.parametrize(
    ("one", "stop_at", "on_questions", "code"), [row[1:] for row in TABLE], ids=[row[0] for row in TABLE]
)
def test_gate(one: Report, stop_at: str, on_questions: bool, code: int) -> None:
    """Each row: report, least weight, whether questions stop at every stage, exit code."""
    assert exit_code(one, Bar(stop_at, on_questions)) == code


@pytest.mark.parametrize(("codes", "code"), [((), 0), ((0, 0), 0), ((0, 1), 1), ((1, 2, 0), 2), ((2, 70, 1), 70)])
def test_the_worst_of_many_files_counts(codes: tuple[int, ...], code: int) -> None:
    """70 over 2 over 1 over 0."""
    assert worst(codes) == code
