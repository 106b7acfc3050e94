"""JUnit XML by the strict common schema: a suite a plan, a case a rule and address, the place in the failure's text."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple
from xml.etree import ElementTree

from speclint.forms.as_found import stopping_records
from speclint.forms.place import address_words
from speclint.forms.safe import safe
from speclint.kernel.span import Span
from speclint.review.identity import UNREADABLE, marked, marked_questions
from speclint.review.report import Report


class Case(NamedTuple):
    """One case: its name, how it ended (passed, failure, error or skipped), and what is said."""

    name: str
    ended: str
    said: str
    sort: str
    span: Span | None


def junit_form(
    reports: Sequence[Report], path: Callable[[str], str], not_read: Sequence[tuple[str, str]] = (), loose: bool = False
) -> str:
    """All reports as one document; ``loose`` adds the file and line that some hosts link on and the schema refuses."""
    root = ElementTree.Element("testsuites", name="speclint")
    for report in reports:
        _suite(root, path(report.file), list(_cases(report, path(report.file))), path, loose)
    for file, why in not_read:
        _suite(root, path(file), [Case("read", "error", why, "not read", None)], path, loose)
    ElementTree.indent(root)
    return '<?xml version="1.0" encoding="utf-8"?>\n' + ElementTree.tostring(root, encoding="unicode") + "\n"


def _cases(report: Report, file: str) -> Iterator[Case]:
    for number, problem in enumerate(report.unread, 1):
        yield Case(f"{UNREADABLE} {number}", "failure", problem.message, "unreadable", problem.span)
    for record in stopping_records(report, file):
        yield Case(
            _name(record.mark.rule, record.mark.address, record.mark.ordinal),
            "failure",
            record.text,
            record.state,
            None,
        )
    if report.fragment:
        return
    for finding, mark in marked(report, file):
        name = _name(mark.rule, mark.address, mark.ordinal)
        if finding.known:
            yield Case(name, "skipped", f"known as found: {finding.message}", "known", finding.span)
        elif finding.variance:
            yield Case(name, "skipped", f"let through by variance: {finding.variance}", "variance", finding.span)
        else:
            yield Case(name, "failure", finding.message, finding.weight, finding.span)
    for question, mark in marked_questions(report, file):
        span = question.places[0].span if question.places else None
        said = f"{'known as found, ' if question.known else ''}not shown, {question.answers}: {question.text}"
        yield Case(_name(mark.rule, mark.address, mark.ordinal), "skipped", said, question.weight, span)
    for rule, address in report.passed:
        yield Case(f"{safe(rule)} at {safe(address)}", "passed", "", "", None)


def _name(rule: str, address: Sequence[str], ordinal: int) -> str:
    return f"{safe(rule)} at {address_words(address)}" + (f" ({ordinal})" if ordinal > 1 else "")


def _suite(
    root: ElementTree.Element, file: str, cases: Sequence[Case], path: Callable[[str], str], loose: bool
) -> None:
    count = {ended: str(sum(case.ended == ended for case in cases)) for ended in ("failure", "error", "skipped")}
    suite = ElementTree.SubElement(
        root,
        "testsuite",
        name=safe(file),
        tests=str(len(cases)),
        failures=count["failure"],
        errors=count["error"],
        skipped=count["skipped"],
    )
    for case in cases:
        element = ElementTree.SubElement(suite, "testcase", classname=safe(file), name=case.name)
        place = f"{safe(path(case.span.file))}:{case.span.line}:{case.span.column}" if case.span else ""
        if loose and case.span:
            element.set("file", safe(path(case.span.file)))
            element.set("line", str(case.span.line))
        if case.ended == "skipped":
            ElementTree.SubElement(element, "skipped", message=safe(case.said))
        elif case.ended != "passed":
            told = ElementTree.SubElement(element, case.ended, message=safe(case.said), type=case.sort)
            told.text = f"{place}: {safe(case.said)}" if place else safe(case.said)
