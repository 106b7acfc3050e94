"""SARIF 2.1.0 (OASIS, with errata 01), so that a code host shows findings beside the lines of a plan.

What a variance lets through, and what is known as found, is no result but stands in the run's properties; a question
is a result of kind ``open``.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from speclint import __version__
from speclint.forms.as_found import NAMES, stopping_records
from speclint.forms.cites import cites_words
from speclint.forms.phrases import sentence
from speclint.forms.place import address_words, line_to_write
from speclint.forms.safe import safe
from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.packs.rule import Pack, Rule
from speclint.review.edit import Edit
from speclint.review.identity import UNREADABLE, Mark, marked, marked_questions
from speclint.review.report import KNOWN, Finding, Place, Question, Report

Plain = dict[str, Any]
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
LEVELS = {"tear-out": "error", "callback": "warning", "remark": "note"}
PROBLEM = {"tear-out": "error", "callback": "warning", "remark": "recommendation"}
OPEN_QUESTION = "open-question"
OWN = {
    UNREADABLE: "A line that could not be read.",
    OPEN_QUESTION: "A fact that the plan does not tell.",
    NAMES["mended"]: "A finding recorded as found that is mended and not yet struck off.",
    NAMES["withdrawn"]: "A finding recorded as found that went without being mended.",
}
MOST = 1000  # code points of a description


def sarif_form(
    reports: Sequence[Report],
    packs: Sequence[Pack],
    path: Callable[[str], str],
    not_read: Sequence[tuple[str, str]] = (),
) -> str:
    """One log with one run; ``path`` gives a file's path from the root of the repository, with slashes.

    ``not_read`` is told as a notification of a run that was not successful, so that no gate takes it for clean.
    """
    rules = {rule.name: rule for pack in packs for rule in pack.rules}
    told = [row for report in reports for row in _results(report, path)]
    names = sorted({row["ruleId"] for row in told})
    for row in told:
        row["ruleIndex"] = names.index(row["ruleId"])
    run: Plain = {
        "tool": {"driver": _driver(names, rules, packs)},
        "automationDetails": {"id": "speclint/" + "+".join(pack.name for pack in packs) + "/"},
        "columnKind": "unicodeCodePoints",
        "invocations": [_invocation(not_read)],
        "results": told,
        "properties": {
            "variances": [row for report in reports for row in _variances(report)],
            "knownAsFound": [row for report in reports for row in _known(report, path)],
        },
    }
    return json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, indent=2, ensure_ascii=True) + "\n"


def _driver(names: Sequence[str], rules: Mapping[str, Rule], packs: Sequence[Pack]) -> Plain:
    return {
        "name": "speclint",
        "semanticVersion": __version__,
        "rules": [_rule(name, rules.get(name)) for name in names],
        "properties": {"packs": [{"name": pack.name, "version": pack.version, "hash": pack.hash} for pack in packs]},
    }


def _rule(name: str, rule: Rule | None) -> Plain:
    title = sentence(name.replace("-", " "))
    if rule is None:
        said = OWN.get(name, "A rule that is not loaded.")
        return _described(name, title, said, said, "warning", ())
    asks = f"Asks that {' '.join(rule.demands_text.split())}."
    settled = rule.settles or "a change of the plan"
    help_text = f"{asks} By: {cites_words(rule.cites)}. Acts: {rule.acts}. Settled by: {settled}."
    return _described(name, title, asks, help_text, PROBLEM[rule.weight], (rule.pack, rule.topic, rule.weight))


def _described(name: str, title: str, full: str, help_text: str, severity: str, tags: Sequence[str]) -> Plain:
    return {
        "id": name,
        "shortDescription": {"text": safe(title)[:MOST]},
        "fullDescription": {"text": safe(full)[:MOST]},
        "help": {"text": safe(help_text)[:MOST]},
        "properties": {"tags": list(tags), "precision": "high", "problem.severity": severity},
    }


def _results(report: Report, path: Callable[[str], str]) -> list[Plain]:
    file = path(report.file)
    found = [_unread(problem, number, path) for number, problem in enumerate(report.unread)]
    for one in stopping_records(report, file):
        found.append(_result(one.name, "error", "fail", one.text, one.span, one.mark, path))
    if report.fragment:
        return found
    found += [_finding(one, mark, path) for one, mark in marked(report, file) if not (one.variance or one.known)]
    asked = (pair for pair in marked_questions(report, file) if not pair[0].known)
    return found + [_question(one, mark, path, report) for one, mark in asked]


def _finding(finding: Finding, mark: Mark, path: Callable[[str], str]) -> Plain:
    would = f" Would pass: {finding.passes}" if finding.passes else ""
    row = _result(finding.rule, LEVELS[finding.weight], "fail", finding.message + would, finding.span, mark, path)
    if len(finding.places) > 1:
        row["relatedLocations"] = [_related(place, path) for place in finding.places[1:]]
    fixes = [_fix(edits, path) for edits in finding.instead if not any(edit.fresh for edit in edits)]
    if fixes:
        row["fixes"] = fixes
    return row


def _fix(edits: Sequence[Edit], path: Callable[[str], str]) -> Plain:
    """Lines that would pass instead, as replacements of the lines that stand there."""
    changes: list[Plain] = []
    for edit in edits:
        where = _physical(edit.span, path)
        replaced = {"deletedRegion": where["region"], "insertedContent": {"text": safe(edit.text)}}
        changes.append({"artifactLocation": where["artifactLocation"], "replacements": [replaced]})
    told = "; ".join(line_to_write(edit.text) for edit in edits)
    return {"description": {"text": f"Write instead: {told}"}, "artifactChanges": changes}


def _question(question: Question, mark: Mark, path: Callable[[str], str], report: Report) -> Plain:
    span = question.places[0].span if question.places else Span(report.file, 1, 1, 1, 2)
    text = f"{question.answers}: {question.text}" if question.answers else question.text
    return _result(OPEN_QUESTION, "none", "open", text, span, mark, path)


def _unread(problem: Problem, number: int, path: Callable[[str], str]) -> Plain:
    mark = Mark(UNREADABLE, safe(path(problem.span.file)), (), number)
    return _result(UNREADABLE, "error", "fail", problem.message, problem.span, mark, path)


def _result(rule: str, level: str, kind: str, text: str, span: Span, mark: Mark, path: Callable[[str], str]) -> Plain:
    return {
        "ruleId": rule,
        "level": level,
        "kind": kind,
        "message": {"text": safe(text) or rule},
        "locations": [{"physicalLocation": _physical(span, path), **_logical(mark.address)}],
        "partialFingerprints": {"primaryLocationLineHash": mark.print},
    }


def _related(place: Place, path: Callable[[str], str]) -> Plain:
    return {"physicalLocation": _physical(place.span, path), "message": {"text": address_words(place.address)}}


def _logical(address: Sequence[str]) -> Plain:
    return {"logicalLocations": [{"fullyQualifiedName": address_words(address)}]} if address else {}


def _physical(span: Span, path: Callable[[str], str]) -> Plain:
    end = max(span.end_column, span.column + 1) if span.end_line == span.line else span.end_column
    region = {"startLine": span.line, "startColumn": span.column, "endLine": span.end_line, "endColumn": end}
    return {"artifactLocation": {"uri": _uri(path(span.file))}, "region": region}


def _uri(path: str) -> str:
    from urllib.parse import quote

    return quote(safe(path), safe="/._-~")


def _variances(report: Report) -> list[Plain]:
    return [
        {"state": one.state, "rule": safe(one.rule), "address": safe(one.address), "until": safe(one.until)}
        for one in report.variances
    ]


def _known(report: Report, path: Callable[[str], str]) -> list[Plain]:
    file = safe(path(report.file))
    known = (one for one in report.as_found if one.state == KNOWN)
    return [{"file": file, "rule": safe(one.rule), "address": address_words(one.address)} for one in known]


def _invocation(not_read: Sequence[tuple[str, str]]) -> Plain:
    notes = [{"level": "error", "message": {"text": safe(f"{file}: {why}")}} for file, why in not_read]
    return {"executionSuccessful": not not_read, **({"toolExecutionNotifications": notes} if notes else {})}
