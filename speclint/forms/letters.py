"""The open questions as letters ready to send: one for each role, with room for the answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from speclint.forms.cites import cites_words
from speclint.forms.phrases import counted, sentence
from speclint.forms.place import several_places
from speclint.forms.rows import EMPTY, Piece, Row, labelled, paragraph, plain
from speclint.forms.safe import safe
from speclint.forms.words import PERSON, among, stage_words
from speclint.packs.rule import Rule
from speclint.review.gate import EARLY
from speclint.review.report import Question, Report

ANYONE = "contractor"  # who runs the job gets what nobody is named for
HEAVY = ("tear-out", "callback")
_LEAST, _MOST = 40, 80
_STEP = 3
_RULES = 6  # rules that are told with their clauses under one question; the rest is counted


def letters_form(report: Report, rules: Mapping[str, Rule], sent_to: Mapping[str, str], width: int = 80) -> str:
    """The letters of one plan; ``sent_to`` gives the role that is asked for what a tape, a bag or a drawing tells."""
    width = min(max(width, _LEAST), _MOST)
    letters: dict[str, list[Question]] = {}
    for question in () if report.fragment else report.questions:
        if not question.known:
            letters.setdefault(sent_to.get(question.answers, question.answers) or ANYONE, []).append(question)
    if not letters:
        return plain(paragraph(f"{safe(report.file)}: no question is open, so there is no letter to send.", width))
    rows: list[Row] = []
    for role, asked in letters.items():
        if rows:
            rows.extend((EMPTY, (Piece("-" * width),), EMPTY))
        rows.extend(_letter(role, asked, report, rules, width))
    return plain(rows)


def _letter(role: str, asked: Sequence[Question], report: Report, rules: Mapping[str, Rule], width: int) -> list[Row]:
    name = safe(report.plan) or "plan without a name"
    against = among(report).removeprefix("among ")
    rows = [
        *labelled("to", f"the {safe(role)}", width, 0),
        *labelled("plan", f"{name} ({safe(report.file)}), {stage_words(report)}", width, 0),
        *(labelled("date", safe(report.as_of), width, 0) if report.as_of else ()),
        EMPTY,
        *paragraph(
            f"The plan was held against {against}. It leaves open {counted(len(asked), 'matter')} that you can settle. "
            "Please answer on the lines and send this sheet back.",
            width,
        ),
        EMPTY,
    ]
    for number, question in enumerate(asked, 1):
        rows.extend(_question(number, question, report.file, rules, width))
        rows.append(EMPTY)
    rows.extend(paragraph(_unanswered(asked, report.stage), width))
    return [*rows, *paragraph(PERSON, width)]


def _question(number: int, question: Question, home: str, rules: Mapping[str, Rule], width: int) -> list[Row]:
    """A question with its places, the rules it frees with their clauses, and a blank."""
    rows = paragraph(f"{number}. {safe(question.text)}", width, 0, hang=_STEP)
    if question.places:
        rows.extend(labelled("where", several_places(question.places, home=home), width, _STEP))
    told = [f"{safe(name)} ({cites_words(rules[name].cites)})" for name in question.frees[:_RULES] if name in rules]
    left = len(question.frees) - len(told)
    if told:
        more = f"; and {counted(left, 'further rule')}" if left else ""
        rows.extend(labelled("it settles", f"{'; '.join(told)}{more}", width, _STEP))
    if question.due:
        rows.extend(labelled("due", safe(question.due), width, _STEP))
    return [*rows, *labelled("answer", "_" * max(width - _STEP - 13, 20), width, _STEP)]


def _unanswered(asked: Sequence[Question], stage: str) -> str:
    """What follows if nobody answers."""
    heavy = sum(question.weight in HEAVY for question in asked)
    told = "Without an answer these matters stay open: silence is not taken as a yes."
    if not heavy:
        return f"{told} They are about workmanship and advice, and stop nothing."
    from_when = "from stage before membrane on" if stage in EARLY else "at this stage"
    bears = f"{counted(heavy, 'of them bears', 'of them bear')} on work that may come out or be called back"
    return sentence(f"{told} {bears}, and {from_when} it stops the work as a rule")
