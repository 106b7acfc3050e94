"""The plain form of a text: one indentation, values in a column, plain signs; nothing written is lost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import NamedTuple

from speclint.kernel.faults import ReadFault
from speclint.language.lexer import Token, plain_text, scan_line
from speclint.language.numbers import plain_number
from speclint.language.reader import Document, Line

INDENT = "  "
KEY_WIDTH = 17
"""Columns from the head of a key to its value, where no key of the section needs more."""

KeyLength = Callable[[str, Line], int | None]


class _Row(NamedTuple):
    """A line in its plain form.

    ``sort`` is ``heading``, ``alone`` (at the margin, of no section), ``entry``, ``loose`` (its key is
    unknown), ``comment``, ``lead`` (a comment right above a heading) or ``raw`` (kept as written).
    """

    line: Line
    sort: str
    key: str = ""
    value: str = ""


def tidy(document: Document, key_length: KeyLength) -> str:
    """The plain form of a document.

    ``key_length(section word, line)`` tells how many leading tokens of a line are its key; the section
    word is that of the last heading, or empty. ``None`` says that the line is a heading, if it is
    shaped like one, else that its key is unknown; 0 that it stands alone at the margin. Lines that were
    not read, or would not read alike in the plain form, stay as written. Raises ReadFault when the
    document does not hold the whole text.
    """
    if not document.complete:
        raise ReadFault(*document.problems)
    rows: list[_Row] = []
    section = ""
    for line in document.lines:
        row = _row(line, section, key_length)
        if row.sort == "heading":
            section = line.phrases[0][0].text
        rows.append(row)
    out: list[str] = []
    for block in _blocks(_with_leads(rows)):
        out += [""] * bool(out) + _written(block)
    return "".join(f"{text}\n" for text in out)


def _row(line: Line, section: str, key_length: KeyLength) -> _Row:
    """One line in its plain form."""
    if not line.readable:
        return _Row(line, "raw")
    if not line.phrases:
        return _Row(line, "comment")
    count = key_length(section, line)
    if count is None:
        sort = "heading" if line.heading_shaped else "loose"
        return _Row(line, sort, value=_body(line.phrases, wide=not line.heading_shaped))
    if not count or not section:
        return _Row(line, "alone", value=_body(line.phrases))
    head, *others = line.phrases
    key, rest = head[:count], head[count:]
    if rest and _ends_key(rest[0], key[-1]):
        rest = rest[1:]
    if not rest and others:
        return _Row(line, "loose", value=_body(line.phrases))
    return _Row(line, "entry", _joined(key), _body((rest, *others)) if rest else "")


def _ends_key(token: Token, before: Token) -> bool:
    """Whether the token is the colon or full stop that a phone puts after a key."""
    return token.text in (":", ".") and token.column == before.end_column


def _body(phrases: Sequence[Sequence[Token]], *, wide: bool = False) -> str:
    """Phrases with a comma and a blank between; ``wide`` keeps the two blanks that end an unknown key."""
    return ", ".join(_joined(phrase, wide=wide and not index) for index, phrase in enumerate(phrases))


def _joined(tokens: Sequence[Token], *, wide: bool = False) -> str:
    """The tokens of one phrase in their plain form."""
    text = _plain(tokens, 0)
    for index, (before, token) in enumerate(pairwise(tokens), 1):
        gap = token.column - before.end_column
        if _spread(tokens, index) or _spread(tokens, index - 1):
            gap = max(gap, 1)
        figures = before.kind == token.kind == "number"
        widest = 2 if wide or figures else 1
        text += " " * max(min(gap, widest), 1 if figures else 0) + _plain(tokens, index)
    return text


def _spread(tokens: Sequence[Token], index: int) -> bool:
    """Whether this is a times sign that takes blanks about it: all but those tight between figures."""
    if tokens[index].kind != "times":
        return False
    if not 0 < index < len(tokens) - 1:
        return True
    before, sign, after = tokens[index - 1 : index + 2]
    tight = before.end_column == sign.column and sign.end_column == after.column
    return not (tight and before.kind in ("number", "inch", "foot") and after.kind == "number")


def _plain(tokens: Sequence[Token], index: int) -> str:
    """One token in its plain form; digits and the marks of inches and feet stay as written."""
    token = tokens[index]
    if token.kind == "number":
        return plain_number(plain_text(token.text))
    if token.kind == "string":
        return '"' + str(token.value).replace("\t", " ") + '"'
    if token.kind == "times":
        before_figure = index + 1 < len(tokens) and tokens[index + 1].kind == "number"
        return "x" if before_figure else token.text
    return token.text if token.kind in ("inch", "foot") else plain_text(token.text)


def _with_leads(rows: list[_Row]) -> list[_Row]:
    """The rows, comments that stand right above a heading marked as leading it."""
    below: _Row | None = None
    marked: list[_Row] = []
    for row in reversed(rows):
        close = below is not None and below.line.number == row.line.number + 1
        if row.sort == "comment" and below is not None and close and below.sort in ("heading", "lead"):
            row = row._replace(sort="lead")
        marked.append(row)
        below = row
    return marked[::-1]


def _blocks(rows: list[_Row]) -> list[list[_Row]]:
    """The rows parted at each heading, its leading comments with it."""
    blocks: list[list[_Row]] = [[]]
    for row in rows:
        if row.sort in ("lead", "heading") and blocks[-1] and blocks[-1][-1].sort != "lead":
            blocks.append([])
        blocks[-1].append(row)
    return blocks


def _written(block: list[_Row]) -> list[str]:
    """The lines of one block."""
    width = max([KEY_WIDTH, *(len(row.key) + 2 for row in block if row.value)])
    inside = False
    out: list[str] = []
    before: _Row | None = None
    for row in block:
        if before is not None and _parted(before, row):
            out.append("")
        out.append(_line(row, width, inside))
        inside = inside or row.sort == "heading"
        before = row
    return out


def _parted(before: _Row, row: _Row) -> bool:
    """Whether a blank line stands between two rows of one block."""
    if before.sort in ("heading", "lead"):
        return False
    if row.line.number > before.line.number + 1:
        return True
    return (before.sort == "alone") != (row.sort == "alone") and "comment" not in (before.sort, row.sort)


def _line(row: _Row, width: int, inside: bool) -> str:
    """One row as it is written; as it stands when the plain form would read otherwise."""
    line = row.line
    written = line.text.rstrip(" \t")
    if row.sort == "raw":
        return written
    comment = (line.comment or "").rstrip(" \t")
    margin = INDENT if inside and row.sort in ("comment", "entry", "loose") else ""
    if not line.phrases:
        return margin + comment
    text = margin + (row.key.ljust(width) + row.value if row.value and row.key else row.key + row.value)
    if comment:
        text += "  " + comment
    return text if _alike(line, text) else written


def _alike(line: Line, text: str) -> bool:
    """Whether a text reads as the line does, the colon or full stop after a key set aside."""
    scan = scan_line(text, line.number)
    if not scan.sound or (scan.comment or "") != (line.comment or "").rstrip(" \t"):
        return False
    now = [_meaning(token) for token in scan.tokens]
    tokens = line.tokens
    then = [_meaning(token) for token in tokens]
    if len(then) == len(now) + 1:
        at = next((i for i, pair in enumerate(zip(then, now, strict=False)) if pair[0] != pair[1]), len(now))
        if at and _ends_key(tokens[at], tokens[at - 1]):
            del then[at]
    return now == then and scan.letters.count(",") == len(line.phrases) - 1


def _meaning(token: Token) -> tuple[str, object]:
    """What a token says, however it is spelt."""
    value = token.value.replace("\t", " ") if isinstance(token.value, str) else token.value
    return token.kind, "" if token.kind == "times" else value
