"""The findings and questions of a page: grouped, numbered as everywhere, and listed again by other heads."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from speclint.forms.as_found import record_words
from speclint.forms.heads import ANYONE, HEADS, PARTS
from speclint.forms.phrases import counted, listed, phrase, sentence
from speclint.forms.place import place_words, several_places
from speclint.forms.safe import safe
from speclint.forms.text_findings import finding_fields, instead_fields
from speclint.forms.words import WEIGHTS, cost_words
from speclint.review.report import KNOWN, Finding, Place, Question, Report
from speclint.works.section_pins import numbered

View = dict[str, Any]
_LOOK_UP = {  # what answers a question without a person
    "tape measure": "To measure on the job",
    "box label": "To read on the box of tile",
    "bag": "To read on the bag or pail",
    "data sheet": "To read on the data sheet",
    "drawing": "To find on the drawings",
    "test sheet": "To read on the test sheet",
}
_LONG = 300
"""Findings and questions beyond which a browser need not lay out what is not in view."""
_COSTS = "weight"
GROUPS = (_COSTS, *HEADS)


def findings_view(report: Report, mark: str, group: str) -> View:
    """What the page tells of findings and questions; ``mark`` begins every id, ``group`` one of GROUPS."""
    every = () if report.fragment else numbered(report)
    groups = [
        {
            "id": f"{mark}-g{at}",
            "name": name,
            "said": _said(group, name, len(found), report.stage),
            "findings": [_finding(number, one, report.file, mark) for number, one in found],
        }
        for at, (name, found) in enumerate(_grouped(every, group), 1)
    ]
    letters = _letters(report, mark)
    others = [name for name in HEADS if name != group] if every else []
    return {
        "groups": groups,
        "indexes": [_index(every, name, mark, letters if name == "role" else []) for name in others],
        "letters": letters,
        "long": len(every) + len(report.questions) > _LONG,
        "recorded": _recorded(report),
        "counts": _counts(report, every, mark, groups, group),
    }


def _grouped(findings: Sequence[tuple[int, Finding]], group: str) -> list[tuple[str, list[tuple[int, Finding]]]]:
    first = WEIGHTS if group == _COSTS else tuple(PARTS.values()) if group == "spec-part" else ()
    found: dict[str, list[tuple[int, Finding]]] = {name: [] for name in first}
    for number, one in findings:
        head = one.weight if group == _COSTS else HEADS[group][1](one)
        found.setdefault(head, []).append((number, one))
    return [(name, rows) for name, rows in found.items() if rows]


def _said(group: str, name: str, number: int, stage: str) -> str:
    told = counted(number, "finding")
    return f"{told}, {cost_words(name, stage)}" if group == _COSTS else told


def _finding(number: int, finding: Finding, home: str, mark: str) -> View:
    address = finding.places[0].address if finding.places else ()
    words = [("written", finding.words)] if finding.words and phrase(finding.words) not in safe(finding.message) else []
    varied = [("may be varied by", ", ".join(finding.varied_by))] if finding.varied_by else []
    more = f" and {counted(len(finding.also), 'more')}" if finding.also else ""
    name = finding.rule.replace("-", " ")
    return {
        "id": f"{mark}-f{number}",
        "number": number,
        "title": f"{name[:1].upper()}{name[1:]}{more}",
        "weight": finding.weight,
        "tone": finding.weight,
        "outcome": finding.outcome,
        "where": place_words(Place(address, finding.span), home),
        "message": sentence(finding.message),
        "fields": [*words, *finding_fields(finding, home), *varied, *instead_fields(finding, home)],
    }


def _index(findings: Sequence[tuple[int, Finding]], group: str, mark: str, letters: Sequence[View]) -> View:
    """The numbers of the findings under each head, and the letter to whom the head names."""
    to = {one["answers"]: {"id": one["id"], "many": counted(len(one["questions"]), "question")} for one in letters}
    rows = [
        (name, [(number, f"{mark}-f{number}") for number, _ in found], to.pop(name, None))
        for name, found in _grouped(findings, group)
    ]
    rows += [(name, [], letter) for name, letter in to.items()]
    return {"id": f"{mark}-by-{group}", "name": HEADS[group][0], "rows": rows}


def _letters(report: Report, mark: str) -> list[View]:
    """The open questions of each who can answer them, as a letter."""
    found: dict[str, list[Question]] = {}
    for one in report.questions if not report.fragment else ():
        if not one.known:
            found.setdefault(one.answers, []).append(one)
    return [
        {
            "id": f"{mark}-l{at}",
            "answers": answers or ANYONE,
            "to": _LOOK_UP.get(answers, f"To the {answers}" if answers else f"To {ANYONE}"),
            "opening": _opening(len(questions), answers in _LOOK_UP),
            "questions": [_question(one, report.file) for one in questions],
        }
        for at, (answers, questions) in enumerate(found.items(), 1)
    ]


def _opening(many: int, looked_up: bool) -> str:
    what = "this" if many == 1 else f"{counted(many, 'thing')}"
    way = (
        "Nobody need be asked: it can be read or measured"
        if looked_up
        else "A short answer or the data sheet is enough"
    )
    return f"The plan does not tell {what}, and rules stay open until it does. {way}."


def _question(question: Question, home: str) -> View:
    frees = f"keeps open ({question.weight}): {listed(question.frees, 4)}" if question.frees else ""
    if question.due:
        frees += f"{'; ' if frees else ''}due {question.due}"
    where = several_places(question.places, 3, home) if question.places else ""
    return {"text": sentence(question.text), "where": where, "frees": frees}


def _recorded(report: Report) -> list[str]:
    stops = [sentence(record_words(one)) for one in report.as_found if one.state != KNOWN]
    known = [f"known: {one.rule}, {one.weight}: {sentence(one.message)}" for one in report.findings if one.known]
    return [*stops, *known, *(f"known question: {sentence(one.text)}" for one in report.questions if one.known)]


def _counts(
    report: Report, every: Sequence[tuple[int, Finding]], mark: str, groups: Sequence[View], group: str
) -> list[View]:
    """The numbers at the head of the page, each leading to what it counts."""
    if report.fragment:
        return []
    starts = {one["name"]: one["id"] for one in groups} if group == _COSTS else {}
    found = []
    for weight in WEIGHTS:
        number = sum(one.weight == weight for _, one in every)
        if number:
            found.append({"number": number, "name": weight, "target": starts.get(weight, f"{mark}-findings")})
    asked = sum(not one.known for one in report.questions)
    if asked:
        found.append({"number": asked, "name": "questions" if asked > 1 else "question", "target": f"{mark}-questions"})
    if report.to_come:
        found.append({"number": len(report.to_come), "name": "to come", "target": f"{mark}-to-come"})
    return found
