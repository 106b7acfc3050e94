"""Code-quality JSON as one forge reads it: one array, each row with a fingerprint of its own."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from typing import Any

from speclint.forms.as_found import stopping_records
from speclint.forms.safe import safe
from speclint.kernel.span import Span
from speclint.review.identity import UNREADABLE, Mark, marked, marked_questions
from speclint.review.report import Report

SEVERITY = {"tear-out": "critical", "callback": "major", "remark": "info"}


def quality_form(
    reports: Sequence[Report], path: Callable[[str], str], not_read: Sequence[tuple[str, str]] = ()
) -> str:
    """Unreadable lines, findings without a variance, and questions (as ``minor``) of all reports."""
    rows = [_row(Mark("not-read", safe(path(file)), (), 1), why, "blocker", path(file), 1) for file, why in not_read]
    for report in reports:
        rows += _rows(report, path)
    return json.dumps(rows, indent=2, ensure_ascii=True) + "\n"


def _rows(report: Report, path: Callable[[str], str]) -> list[dict[str, Any]]:
    file = path(report.file)
    rows = [
        _row(Mark(UNREADABLE, safe(file), (), number), problem.message, "critical", *_at(problem.span, path))
        for number, problem in enumerate(report.unread)
    ]
    rows += [_row(one.mark, one.text, "critical", *_at(one.span, path)) for one in stopping_records(report, file)]
    if report.fragment:
        return rows
    rows += [
        _row(mark, one.message, SEVERITY[one.weight], *_at(one.span, path))
        for one, mark in marked(report, file)
        if not (one.variance or one.known)
    ]
    for question, mark in marked_questions(report, file):
        if question.known:
            continue
        span = question.places[0].span if question.places else Span(report.file, 1, 1, 1, 1)
        rows.append(_row(mark, f"not shown, {question.answers}: {question.text}", "minor", *_at(span, path)))
    return rows


def _at(span: Span, path: Callable[[str], str]) -> tuple[str, int]:
    return path(span.file), span.line


def _row(mark: Mark, text: str, severity: str, file: str, line: int) -> dict[str, Any]:
    return {
        "description": safe(text) or mark.rule,
        "check_name": mark.rule,
        "fingerprint": mark.print,
        "severity": severity,
        "location": {"path": safe(file), "lines": {"begin": line}},
    }
