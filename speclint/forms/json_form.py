"""The report as JSON, for programs: everything, in a fixed order; its shape is ``shared/schemas/report.json``."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from speclint import __version__
from speclint.forms.cites import cite_words
from speclint.forms.safe import safe
from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.packs.rule import Cite
from speclint.review.edit import Edit
from speclint.review.report import Coming, Finding, Place, Question, Recorded, Report, VarianceState

if TYPE_CHECKING:
    from speclint.review.working import Working

SCHEMA_VERSION = "1.1"

Plain = dict[str, Any]


def json_form(reports: Sequence[Report], not_read: Sequence[tuple[str, str]] = ()) -> str:
    """All reports of a run as one JSON object in ASCII; the same reports give the same bytes.

    ``not_read`` names the files that could not be opened, with the reason, so that no reader takes silence for a pass.
    """
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "notRead": [{"file": safe(file), "message": safe(why)} for file, why in not_read],
        "plans": [report_value(report) for report in reports],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def report_value(report: Report) -> Plain:
    """One report as plain values; every text in it is safe to print."""
    return {
        "file": safe(report.file),
        "plan": safe(report.plan),
        "fragment": report.fragment,
        "stage": safe(report.stage),
        "stageStated": report.stage_stated,
        "asOf": safe(report.as_of),
        "summary": report.summary,
        "rules": report.rules,
        "packs": [{"name": safe(a), "version": safe(b), "hash": safe(c)} for a, b, c in report.packs],
        "outcomes": [{"outcome": outcome, "count": number} for outcome, number in report.outcomes],
        "unreadable": [_problem(problem) for problem in report.unread],
        "findings": [{**finding_value(finding), **_alternates(finding)} for finding in report.findings],
        "questions": [question_value(question) for question in report.questions],
        "toCome": [_coming(coming) for coming in report.to_come],
        "variances": [_variance(state) for state in report.variances],
        "decisions": _texts(report.decisions),
        "notes": _texts(report.notes),
        "takenAsAbsent": _texts(report.taken_as_absent),
        "assumed": _texts(report.assumed),
        "cautions": _texts(report.cautions),
        "asFound": [_recorded(one) for one in report.as_found],
        "said": safe(report.said),
        "workings": [_working(one) for one in report.workings],
        "met": [{"rule": safe(rule), "address": safe(address)} for rule, address in report.passed],
    }


def _working(one: Working) -> Plain:
    return {
        "fact": safe(one.fact),
        "address": _texts(one.address),
        "means": safe(one.means),
        "inputs": [{"name": safe(name), "text": safe(figure)} for name, figure in one.inputs],
        "formula": safe(one.formula),
        "result": safe(one.result),
    }


def _texts(texts: Sequence[str]) -> list[str]:
    return [safe(text) for text in texts]


def span_value(span: Span) -> Plain:
    """A place as plain values."""
    return {
        "file": safe(span.file),
        "line": span.line,
        "column": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }


def _place(place: Place) -> Plain:
    return {"address": _texts(place.address), "span": span_value(place.span)}


def _problem(problem: Problem) -> Plain:
    return {"span": span_value(problem.span), "message": safe(problem.message)}


def _cite(cite: Cite) -> Plain:
    return {
        "standard": safe(cite.standard),
        "edition": safe(cite.edition),
        "clause": safe(cite.clause),
        "basis": safe(cite.basis),
        "confidence": safe(cite.confidence),
        "bearsOn": safe(cite.bears_on),
        "text": cite_words(cite),
    }


def finding_value(finding: Finding) -> Plain:
    """A finding as plain values."""
    return {
        "rule": safe(finding.rule),
        "also": _texts(finding.also),
        "pack": safe(finding.pack),
        "outcome": finding.outcome,
        "weight": finding.weight,
        "message": safe(finding.message),
        "wouldPass": safe(finding.passes),
        "span": span_value(finding.span),
        "words": safe(finding.words),
        "places": [_place(place) for place in finding.places],
        "acts": safe(finding.acts),
        "settles": safe(finding.settles),
        "mayBeVariedBy": _texts(finding.varied_by),
        "specPart": finding.spec_part,
        "cites": [_cite(cite) for cite in finding.cites],
        "restsOn": _texts(finding.rests_on),
        "admits": safe(", ".join(finding.admits)),
        "sides": [{"source": safe(source), "outcome": safe(outcome)} for source, outcome in finding.sides],
        "variance": safe(finding.variance),
        "known": finding.known,
        "working": _texts(finding.working),
    }


def _alternates(finding: Finding) -> Plain:
    """What would pass instead of what a finding points at."""
    lines = [[_edit(edit) for edit in edits] for edits in finding.instead]
    return {"instead": lines, "squeezedBy": safe(finding.squeezed[0])}


def _edit(edit: Edit) -> Plain:
    return {"span": span_value(edit.span), "line": safe(edit.text), "fresh": edit.fresh}


def question_value(question: Question) -> Plain:
    """A question as plain values."""
    return {
        "fact": safe(question.fact),
        "text": safe(question.text),
        "answers": safe(question.answers),
        "weight": question.weight,
        "frees": _texts(question.frees),
        "places": [_place(place) for place in question.places],
        "due": safe(question.due),
        "known": question.known,
    }


def _recorded(one: Recorded) -> Plain:
    return {
        "state": one.state,
        "rule": safe(one.rule),
        "address": _texts(one.address),
        "number": one.ordinal,
        "why": safe(one.why),
    }


def _coming(coming: Coming) -> Plain:
    return {
        "record": safe(coming.record),
        "due": safe(coming.due),
        "rules": _texts(coming.rules),
        "places": [_place(place) for place in coming.places],
        "settles": safe(coming.settles),
    }


def _variance(state: VarianceState) -> Plain:
    return {
        "state": state.state,
        "rule": safe(state.rule),
        "address": safe(state.address),
        "grantedBy": safe(state.role),
        "because": safe(state.because),
        "until": safe(state.until),
        "why": safe(state.why),
        "span": span_value(state.span),
    }
