"""One line a thing, as the GNU coding standards write messages: ``file:line:column: message``."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.forms.as_found import stopping_records
from speclint.forms.phrases import counted, phrase
from speclint.forms.place import exact_words
from speclint.forms.safe import safe
from speclint.forms.words import pack_marks, stage_words
from speclint.kernel.span import Span
from speclint.review.report import DIFFER, Coming, Finding, Question, Report


def lines_form(report: Report) -> str:
    """The report as lines: unread lines, findings, questions and records to come by place, then one summary line.

    Nothing is wrapped or coloured; every line is a place, then a message that begins with a small letter.
    """
    told = [(problem.span, f"unreadable: {phrase(problem.message)}") for problem in report.unread]
    told.extend((_first(report.file), one.text) for one in stopping_records(report, report.file))
    if not report.fragment:
        told.extend((finding.span, _finding(finding)) for finding in report.findings)
        told.extend(_question(question, report.file) for question in report.questions)
        told.extend(_coming(coming, report.file) for coming in report.to_come)
        told.extend(
            (state.span, f"variance {state.state}, {state.rule}: {phrase(state.why or state.because)}")
            for state in report.variances
        )
    told.sort(key=lambda row: row[0].order)
    told.append((_first(report.file), _summary(report)))
    return "".join(f"{exact_words(span)}: {_one_line(message)}\n" for span, message in told)


def _first(file: str) -> Span:
    return Span(file, 1, 1, 1, 1)


def _one_line(message: str) -> str:
    """A message without blanks at its ends, and never without a word."""
    return " ".join(safe(message).split()).rstrip(".:")


def _finding(finding: Finding) -> str:
    names = f"{finding.weight}, {finding.rule}"
    said = phrase(finding.message)
    if finding.outcome == DIFFER:
        sides = "; ".join(f"{source}: {outcome}" for source, outcome in finding.sides)
        return f"{DIFFER}, {names}: {said}" + (f" ({sides})" if sides else "")
    if finding.known:
        return f"known as found, {names}: {said}"
    if finding.variance:
        return f"let through by variance, {names}: {said}"
    return f"{names}: {said}" + (_elsewhere(finding.places) if len(finding.places) > 1 else "")


def _elsewhere(places: Iterable[object]) -> str:
    number = len(tuple(places)) - 1
    return f" (and at {counted(number, 'more place')})"


def _question(question: Question, file: str) -> tuple[Span, str]:
    span = question.places[0].span if question.places else _first(file)
    more = _elsewhere(question.places) if len(question.places) > 1 else ""
    known = "known as found, " if question.known else ""
    return span, f"{known}question, {question.weight}, {question.answers}: {phrase(question.text)}{more}"


def _coming(coming: Coming, file: str) -> tuple[Span, str]:
    span = coming.places[0].span if coming.places else _first(file)
    due = f", due {coming.due}" if coming.due else ""
    return span, f"to come, {coming.record}{due}: shows {', '.join(coming.rules)}"


def _summary(report: Report) -> str:
    if report.fragment:
        return "fragment: read, not judged alone"
    rules = f"{counted(report.rules, 'rule')} of {pack_marks(report)}"
    return f"summary: {phrase(report.said or report.summary)} among {rules}; {stage_words(report)}"
