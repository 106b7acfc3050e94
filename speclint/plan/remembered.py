"""Lines that were read before: the same words under the same key tell the same facts, only at another place."""

from __future__ import annotations

from typing import NamedTuple

from speclint.kernel.span import Span
from speclint.kernel.values import Cases, Single, ValueSet
from speclint.plan.matcher import Matcher, Told
from speclint.plan.row import Row
from speclint.plan.vocabulary import Key, Vocabulary

MOST = 2048  # lines that one key remembers


class Remembered(NamedTuple):
    """One fact of a line: its value, and the phrase and tokens where it stands."""

    fact: str
    value: Single
    row: int
    start: int
    end: int


def read_line(key: Key, rows: tuple[Row, ...], whole: Span, words: Vocabulary, advise: bool = True) -> Told:
    """The facts of a line; lines without a written choice are remembered by their words.

    Without ``advise`` no word that is not read is looked for among those that are known.
    """
    mark = tuple([row.norms for row in rows])
    known = key.lines.get(mark)
    if known is not None:
        return Told({one.fact: _moved(one, rows[one.row]) for one in known[0]}, known[1], ())
    told = Matcher(key, words, advise).line(rows, whole)
    if not told.problems:
        kept = [_placed(fact, value, rows) for fact, value in told.facts.items()]
        found = tuple([one for one in kept if one is not None])
        if len(found) == len(kept):
            if len(key.lines) >= MOST:
                key.lines.clear()
            key.lines[mark] = (found, told.by)
    return told


def _moved(one: Remembered, row: Row) -> ValueSet:
    return one.value._replace(text=row.words(one.start, one.end), span=row.span(one.start, one.end))


def _placed(fact: str, value: ValueSet, rows: tuple[Row, ...]) -> Remembered | None:
    """Where a value stands, if it is the words of one run of tokens in one phrase."""
    span = value.span
    if isinstance(value, Cases) or span is None:
        return None
    for place, row in enumerate(rows):
        starts = [token.column for token in row.tokens]
        ends = [token.end_column for token in row.tokens]
        if span.column in starts and span.end_column in ends:
            start, end = starts.index(span.column), ends.index(span.end_column) + 1
            if row.words(start, end) == value.text:
                return Remembered(fact, value, place, start, end)
    return None
