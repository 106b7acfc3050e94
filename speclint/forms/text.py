"""The terminal form, for the setter on the job: findings by what they cost, then what must be asked, then the rest."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from speclint.forms.phrases import counted, listed, phrase, sentence
from speclint.forms.place import address_words, line_words, several_places
from speclint.forms.rows import EMPTY, Piece, Row, across, labelled, paragraph, plain
from speclint.forms.safe import safe, width_of
from speclint.forms.text_findings import STEP, as_found_rows, finding_rows, question_rows, unread_rows
from speclint.forms.words import PERSON, among, pack_marks, stage_words
from speclint.review.report import CLEAR, REVISE, Report, VarianceState

_LEAST, _MOST = 40, 100


class Look(NamedTuple):
    """How the form is laid out: its width in columns, kept between 40 and 100, and whether all questions are shown.

    Findings stand by weight, else ``by`` role, spec-part or room.
    """

    width: int = 80
    all_questions: bool = False
    by: str = ""


USUAL = Look()


def text_form(report: Report, look: Look = USUAL) -> str:
    """The report as plain text, each line ended."""
    return plain(text_rows(report, look))


def text_rows(report: Report, look: Look = USUAL) -> list[Row]:
    """The report as rows of styled pieces, for whoever adds colour."""
    width = min(max(look.width, _LEAST), _MOST)
    rows = _head(report, width)
    rows.append(EMPTY)
    rows.extend(unread_rows(report.unread, width))
    rows.extend(as_found_rows(report, width))
    if not report.fragment:
        rows.extend(finding_rows(report, width, look.by))
        rows.extend(question_rows(report, width, look.all_questions))
        rows.extend(_to_come(report, width))
        rows.extend(_variances(report, width))
        rows.extend(_workings(report, width))
        rows.extend(_rest(report, width))
        rows.extend(_foot(report, width))
    while rows and rows[-1] == EMPTY:
        rows.pop()
    return rows


def tally(summaries: Sequence[tuple[str, bool]]) -> str:
    """One line over several plans from the summary of each, and whether it is a fragment."""
    words = [summary for summary, fragment in summaries if not fragment]
    told = [f"{words.count(word)} {word}" for word in dict.fromkeys(words)]
    pieces = len(summaries) - len(words)
    if pieces:
        told.append(f"{counted(pieces, 'fragment')} not judged alone")
    return f"{counted(len(words), 'plan') if words else 'no plan'}: {', '.join(told)}\n"


def _head(report: Report, width: int) -> list[Row]:
    """The plan, its stage and file, and the one word that sums it up."""
    name = safe(report.plan) or ("fragment" if report.fragment else "plan without a name")
    if report.fragment:
        return [
            *_title(name, safe(report.file), width),
            *paragraph("a fragment: its lines were read, it is judged where a plan includes it", width, 0, "faint"),
        ]
    style = "tear-out" if report.summary == REVISE else "good" if report.summary == CLEAR else "callback"
    summary = (Piece(safe(report.said or report.summary), style), Piece(f"  {among(report)}"))
    told: list[Row] = [summary]
    if sum(width_of(piece.text) for piece in summary) > width:
        told = [(summary[0],), *paragraph(among(report), width, STEP)]
    return [
        *_title(name, safe(report.file), width),
        *paragraph(stage_words(report), width, 0, "faint"),
        *told,
    ]


def _title(name: str, file: str, width: int) -> list[Row]:
    if width_of(name) + 2 + width_of(file) <= width:
        return across((Piece(name, "strong"),), file, width)
    return [*paragraph(name, width, 0, "strong"), *paragraph(file, width, 0, "faint")]


def _to_come(report: Report, width: int) -> list[Row]:
    """The records that are not yet due, each once."""
    if not report.to_come:
        return []
    rows: list[Row] = [(Piece("to come", "strong"),), EMPTY]
    for coming in report.to_come:
        told = f"{safe(coming.record)}, due {safe(coming.due)}" if coming.due else safe(coming.record)
        told += f": shows {listed(coming.rules, 4)}" if coming.rules else ""
        rows.extend(paragraph(told, width, STEP, hang=2))
        below = several_places(coming.places, 3, report.file) if coming.places else ""
        if coming.settles not in ("", coming.record):  # where no kind of record is named, its words head the entry
            below = f"{phrase(coming.settles)}{'; ' if below else ''}{below}"
        if below:
            rows.extend(paragraph(below, width, STEP + 2, "faint"))
    return [*rows, EMPTY]


def _variances(report: Report, width: int) -> list[Row]:
    """The agreed exceptions as they stand, and what those that hold let through."""
    if not report.variances:
        return []
    rows: list[Row] = [(Piece("variances", "strong"),), EMPTY]
    for variance in report.variances:
        rows.extend(paragraph(_variance(variance), width, STEP, hang=2))
        for finding in report.findings:
            if finding.variance and finding.rule == variance.rule and variance.state == "granted":
                rows.extend(paragraph(f"lets through: {sentence(finding.message)}", width, STEP + 2, "faint"))
    return [*rows, EMPTY]


def _variance(variance: VarianceState) -> str:
    told = f"{safe(variance.state)}: {safe(variance.rule)} at {safe(variance.address)}"
    if variance.role:
        told += f", by {safe(variance.role)}"
    if variance.until:
        told += f", until {safe(variance.until)}"
    why = [phrase(part) for part in (variance.because, variance.why) if part]
    told += f": {'; '.join(why)}" if why else ""
    return f"{told} ({line_words(variance.span)})"


def _workings(report: Report, width: int) -> list[Row]:
    """Every computation by its address, where they were asked for: result, inputs, formula in words."""
    if not report.workings:
        return []
    rows: list[Row] = [(Piece("worked out", "strong"),), EMPTY]
    for address in dict.fromkeys(one.address for one in report.workings):
        rows.extend(paragraph(f"{address_words(address)}:", width, STEP, "faint"))
        for one in report.workings:
            if one.address == address:
                told = ", ".join(f"{safe(name)} {safe(figure)}" for name, figure in one.inputs)
                rows.extend(paragraph(f"{safe(one.means)}: {safe(one.result)}", width, STEP, "strong", 2))
                rows.extend(paragraph(f"from {told}", width, STEP + 2))
                rows.extend(paragraph(f"by {sentence(one.formula)}", width, STEP + 2, "faint"))
    return [*rows, EMPTY]


def _rest(report: Report, width: int) -> list[Row]:
    """Decisions, notes, and what the outcomes rest on, one short line each."""
    rows: list[Row] = []
    for decision in report.decisions:
        rows.extend(labelled("decided", phrase(decision), width, 0))
    for note in report.notes:
        rows.extend(labelled("note", phrase(note), width, 0))
    if report.taken_as_absent:
        taken = ", ".join(map(phrase, report.taken_as_absent))
        rows.extend(labelled("left out", f"taken as absent: {taken}", width, 0))
    if report.assumed:
        rows.extend(labelled("assumed", "; ".join(map(phrase, report.assumed)), width, 0))
    return [*rows, EMPTY] if rows else []


def _foot(report: Report, width: int) -> list[Row]:
    """The rules and the day the report stands on, then the usual care."""
    day = f"; as of {safe(report.as_of)}" if report.as_of else ""
    rows = labelled("rules", pack_marks(report) + day, width, 0)
    for caution in report.cautions:
        rows.extend(labelled("care", sentence(caution), width, 0))
    rows.extend(paragraph(PERSON, width, 0, "faint"))
    return rows
