"""The findings and questions of the terminal form, as rows."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.as_found import record_words
from speclint.forms.cites import cites_words
from speclint.forms.heads import HEADS
from speclint.forms.phrases import counted, listed, phrase, sentence
from speclint.forms.place import address_words, edit_place, exact_words, line_to_write, line_words, several_places
from speclint.forms.rows import EMPTY, Piece, Row, across, labelled, paragraph
from speclint.forms.safe import safe, width_of
from speclint.forms.words import WEIGHTS, cost_words
from speclint.kernel.faults import Problem
from speclint.review.report import DIFFER, KNOWN, Finding, Question, Report

STEP = 3  # columns that the rows of one finding stand in
_SHOWN = 7  # questions that are printed unless all are asked for


def unread_rows(problems: Sequence[Problem], width: int) -> list[Row]:
    """The lines that nobody could read, each with its place."""
    if not problems:
        return []
    rows = _heading("tear-out", "unreadable", f"{counted(len(problems), 'line')}, known to no rule until mended", width)
    for problem in problems:
        rows.extend(paragraph(exact_words(problem.span), width, STEP, "faint"))
        rows.extend(paragraph(sentence(problem.message), width, 2 * STEP))
    return [*rows, EMPTY]


def finding_rows(report: Report, width: int, by: str = "") -> list[Row]:
    """All findings that no variance lets through and that are not known, the heaviest first, numbered through.

    They stand by weight, else ``by`` the role that acts, the part of the specification or the room.
    """
    rows: list[Row] = []
    number = 0
    for style, name, said, group in _groups(report, by):
        rows.extend(_heading(style, name, f"{counted(len(group), 'finding')}{said}", width))
        for finding in group:
            number += 1
            rows.extend(_finding(number, finding, report.file, width, weigh=bool(by)))
            rows.append(EMPTY)
    return rows


def _groups(report: Report, by: str) -> list[tuple[str, str, str, list[Finding]]]:
    """The findings to tell, group by group: style and name of its heading, and what else is said there."""
    findings = [finding for finding in report.findings if not (finding.variance or finding.known)]
    if not by:
        groups = [(weight, [one for one in findings if one.weight == weight]) for weight in WEIGHTS]
        return [(name, name, f", {cost_words(name, report.stage)}", group) for name, group in groups if group]
    named: dict[str, list[Finding]] = {}
    for finding in findings:
        named.setdefault(HEADS[by][1](finding), []).append(finding)
    order = sorted(named) if by == "spec-part" else list(named)
    return [("strong", name, "", named[name]) for name in order]


def as_found_rows(report: Report, width: int) -> list[Row]:
    """What was recorded as found: first what stops, then what is known, one short line each."""
    if not report.as_found:
        return []
    stops = [record_words(one) for one in report.as_found if one.state != KNOWN]
    known = [f"{finding.rule}, {finding.weight}: {finding.message}" for finding in report.findings if finding.known]
    known += [f"question: {question.text}" for question in report.questions if question.known]
    rows = _heading("strong", "as found", f"{len(known)} known, {len(stops)} to settle", width)
    for text in stops:
        rows.extend(paragraph(sentence(text), width, STEP, "callback", hang=2))
    for text in known:
        rows.extend(paragraph(f"known: {sentence(text)}", width, STEP, "faint", hang=2))
    return [*rows, EMPTY]


def _heading(style: str, name: str, said: str, width: int) -> list[Row]:
    if width_of(name) + 2 + width_of(said) <= width:
        return [(Piece(name, style), Piece(f"  {said}", "faint")), EMPTY]
    return [(Piece(name, style),), *paragraph(said, width, STEP, "faint"), EMPTY]


def _finding(number: int, finding: Finding, home: str, width: int, weigh: bool = False) -> list[Row]:
    """One finding: where, what, what would pass, who acts, what settles it, what it rests on."""
    address = address_words(finding.places[0].address if finding.places else ())
    lead = f"{number}".ljust(STEP)
    rows = _head(lead, address, line_words(finding.span), width)
    rows.extend(_outcome(finding, width, weigh))
    if finding.words and phrase(finding.words) not in safe(finding.message):
        rows.extend(labelled("written", safe(finding.words), width, STEP))
    for label, text in finding_fields(finding, home):
        rows.extend(labelled(label, text, width, STEP))
    for label, text in instead_fields(finding, home):
        rows.extend(labelled(label, text, width, STEP))
    return rows


def instead_fields(finding: Finding, home: str) -> list[tuple[str, str]]:
    """What would pass instead, as the lines to write, labelled; or the two rules between which nothing passes."""
    if not finding.instead:
        rule, text = finding.squeezed
        told = f"between {safe(finding.rule)} and {safe(rule)}: {line_to_write(text)} meets only that"
        return [("squeezed", told)] if rule else []
    return [
        (
            "or" if number else "instead",
            " and ".join(f"{edit_place(edit, home)}: {line_to_write(edit.text)}" for edit in edits),
        )
        for number, edits in enumerate(finding.instead)
    ]


def _head(lead: str, address: str, line: str, width: int) -> list[Row]:
    """Number and address with the file and line at the right edge, or below where the width is short."""
    if width_of(lead) + width_of(address) + 2 + width_of(line) <= width:
        return across((Piece(lead, "strong"), Piece(address, "strong")), line, width)
    rows = paragraph(address, width, STEP, "strong")
    rows[0] = (Piece(lead, "strong"), *rows[0][1:])
    return [*rows, *paragraph(line, width, STEP, "faint")]


def _outcome(finding: Finding, width: int, weigh: bool) -> list[Row]:
    """The outcome, with its weight where no heading tells it, and the sentences of the rule, folded as one text."""
    said = f"{safe(finding.outcome)} ({finding.weight})" if weigh else safe(finding.outcome)
    rows = paragraph(f"{said}: {sentence(finding.message)}", width, STEP)
    first = rows[0][-1].text
    if first.startswith(said):
        rows[0] = (rows[0][0], Piece(said, finding.weight), Piece(first[len(said) :]))
    return rows


def finding_fields(finding: Finding, home: str) -> list[tuple[str, str]]:
    """The labelled lines of a finding, ``home`` the file of the report; those with nothing to say are left out."""
    sides = [(safe(source), safe(outcome)) for source, outcome in finding.sides]
    fields = [(source, outcome) for source, outcome in sides if len(source) <= 10]
    fields.extend(("side", f"{source}: {outcome}") for source, outcome in sides if len(source) > 10)
    more = finding.places[1:]
    settles = "name the edition, or record a decision" if finding.outcome == DIFFER and not finding.settles else ""
    fields += [
        ("admits", "; ".join(phrase(part) for part in finding.admits if part not in finding.message)),
        ("would pass", phrase(finding.passes)),
        ("worked out", "; ".join(phrase(step) for step in finding.working)),
        ("who", safe(finding.acts)),
        ("settles it", phrase(finding.settles) or settles),
        ("rests on", "; ".join(phrase(part) for part in finding.rests_on)),
        ("also at", several_places(more, home=home) if more else ""),
        ("by", cites_words(finding.cites)),
        ("rule", "" if finding.also else safe(finding.rule)),
    ]
    return [(label, text) for label, text in fields if text]


def question_rows(report: Report, width: int, everything: bool) -> list[Row]:
    """The open questions by who can answer them: at most seven unless all are asked for, the rest counted."""
    every = [one for one in report.questions if not one.known]
    asked = every if everything else every[:_SHOWN]
    if not asked:
        return []
    left = len(every) - len(asked)
    said = f"{len(every)} in all"
    if left:
        said += f", the first {len(asked)} here; --all-questions shows the rest"
    rows = _heading("strong", "open questions", said, width)
    for answers in dict.fromkeys(question.answers for question in asked):
        rows.extend(paragraph(f"{safe(answers) or 'anyone on the job'}:", width, STEP, "faint"))
        for question in asked:
            if question.answers == answers:
                rows.extend(_question(question, report.file, width))
        rows.append(EMPTY)
    return rows


def _question(question: Question, home: str, width: int) -> list[Row]:
    rows = paragraph(safe(question.text), width, STEP, hang=2)
    if question.places:
        rows.extend(paragraph(several_places(question.places, 3, home), width, STEP + 2, "faint"))
    freed = f"keeps open ({safe(question.weight)}): {listed(question.frees, 4)}" if question.frees else ""
    if question.due:
        freed += f"{'; ' if freed else ''}due {safe(question.due)}"
    if freed:
        rows.extend(paragraph(freed, width, STEP + 2, "faint"))
    return rows
