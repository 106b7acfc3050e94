"""Workflow commands that a runner turns into notes beside the lines; every text in them is escaped."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from speclint.forms.as_found import stopping_records
from speclint.forms.safe import safe
from speclint.kernel.span import Span
from speclint.review.identity import UNREADABLE
from speclint.review.report import Report

COMMANDS = {"tear-out": "error", "callback": "warning", "remark": "notice"}


def annotations_form(
    reports: Sequence[Report], path: Callable[[str], str], not_read: Sequence[tuple[str, str]] = ()
) -> str:
    """One command a line for unreadable lines, findings without a variance, and questions (as notices)."""
    lines = [f"::error title=not read::{_text(f'{file}: {why}')}" for file, why in not_read]
    for report in reports:
        lines += [_command("error", UNREADABLE, one.message, one.span, path) for one in report.unread]
        for record in stopping_records(report, path(report.file)):
            lines.append(_command("error", record.name, record.text, record.span, path))
        if report.fragment:
            continue
        lines += [
            _command(COMMANDS[one.weight], f"{one.rule} ({one.weight})", one.message, one.span, path)
            for one in report.findings
            if not (one.variance or one.known)
        ]
        for question in (one for one in report.questions if not one.known):
            span = question.places[0].span if question.places else Span(report.file, 1, 1, 1, 1)
            title = f"question for {question.answers}" if question.answers else "question"
            lines.append(_command("notice", title, question.text, span, path))
    return "".join(f"{line}\n" for line in lines)


def _command(name: str, title: str, text: str, span: Span, path: Callable[[str], str]) -> str:
    places = {"file": path(span.file), "line": span.line, "endLine": span.end_line}
    if span.line == span.end_line:
        places |= {"col": span.column, "endColumn": span.end_column}
    properties = ",".join(f"{key}={_property(str(value))}" for key, value in (*places.items(), ("title", title)))
    return f"::{name} {properties}::{_text(text)}"


def _text(text: str) -> str:
    return safe(text).replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _text(text).replace(":", "%3A").replace(",", "%2C")
