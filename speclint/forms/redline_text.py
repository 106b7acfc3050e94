"""What changed between two plans or two editions of packs, for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.phrases import sentence
from speclint.forms.place import address_words, line_words
from speclint.forms.rows import EMPTY, Piece, Row, labelled, paragraph
from speclint.forms.safe import safe
from speclint.review.report import Finding, Question
from speclint.works.redline import CHANGED, GONE, NEW, Line, Redline

_LEAST, _MOST, _INDENT = 40, 100, 3
_SIGNS = {NEW: "+", GONE: "-", CHANGED: "~"}


def redline_rows(found: Redline, width: int) -> list[Row]:
    """The whole redline as rows of styled pieces."""
    width = min(max(width, _LEAST), _MOST)
    rows = paragraph(f"{safe(found.old)} -> {safe(found.new)}", width, 0, "strong")
    if found.summaries is not None:
        was, now = found.summaries
        rows.extend(paragraph(now if was == now else f"{was} -> {now}", width, 0, ""))
    rows.append(EMPTY)
    if found.is_empty:
        return [*rows, *paragraph("nothing changed", width)]
    rows.extend(_group("findings that appeared", [_finding(one, "+", width) for one in found.appeared]))
    rows.extend(_group("findings settled or gone", [_finding(one, "-", width) for one in found.settled]))
    rows.extend(_group("questions that appeared", [_question(one, "+", width) for one in found.asked]))
    rows.extend(_group("questions answered or gone", [_question(one, "-", width) for one in found.answered]))
    rows.extend(_group("lines of the plan", [_line(one, width) for one in found.lines]))
    rows.extend(_group("rules", [_line(one, width) for one in found.rules]))
    return rows[:-1]


def _group(title: str, told: Sequence[list[Row]]) -> list[Row]:
    """A title with a count, and what it holds."""
    if not told:
        return []
    rows: list[Row] = [(Piece(title, "strong"), Piece(f"  {len(told)}", "faint"))]
    return [*rows, *(row for each in told for row in each), EMPTY]


def _finding(one: Finding, sign: str, width: int) -> list[Row]:
    rows = paragraph(f"{sign} {one.weight}: {sentence(one.message)}", width, 0, "", 2)
    return [
        *rows,
        *paragraph(f"{address_words(one.section)}, {line_words(one.span)}; {safe(one.rule)}", width, 2, "faint"),
    ]


def _question(one: Question, sign: str, width: int) -> list[Row]:
    rows = paragraph(f"{sign} {one.weight}: {sentence(one.text)}", width, 0, "", 2)
    return [*rows, *paragraph(f"{address_words(one.section)}; for {safe(one.answers)}", width, 2, "faint")]


def _line(one: Line, width: int) -> list[Row]:
    place = f", {line_words(one.span)}" if one.span is not None else ""
    rows = paragraph(f"{_SIGNS[one.change]} {address_words(one.address)}: {safe(one.what)}{place}", width, 0, "", 2)
    if one.old:
        rows.extend(labelled("was", safe(one.old), width, _INDENT))
    if one.new:
        rows.extend(labelled("is", safe(one.new), width, _INDENT))
    return rows
