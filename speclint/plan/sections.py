"""From lines to sections: which line is a heading, which key stands at its head, and what its value tells."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span, at
from speclint.language.lexer import Token
from speclint.language.reader import PROBLEM_LIMIT, Document, Line, capped
from speclint.plan.matcher import Facts
from speclint.plan.near import nearest_names
from speclint.plan.remembered import read_line
from speclint.plan.row import Row, pieces_of, row_of
from speclint.plan.spelling import longest
from speclint.plan.vocabulary import Key, SectionWord, Vocabulary

MOST_SECTIONS = 500  # of one file, as a review keeps every section with all that is asked of it
ANEW = "opened anew"  # the mark of a key alone on its line, after which a list such as a stack of layers begins anew


class Entry(NamedTuple):
    """One line of a section: its key, the facts it tells, who does it, its quoted mark and its place."""

    key: str
    facts: Facts
    by: str
    mark: str
    span: Span
    text: str
    problems: tuple[Problem, ...] = ()


class Section(NamedTuple):
    """One section: its word, its name, and the names after its link word, outermost first."""

    kind: str
    name: str
    path: tuple[str, ...]
    span: Span
    entries: tuple[Entry, ...]


class Draft(NamedTuple):
    """The sections of one file as written, and all that could not be read."""

    file: str
    sections: tuple[Section, ...]
    problems: tuple[Problem, ...]


class _Open:
    """The section that lines fall into; ``word`` is None under a heading that is not known."""

    def __init__(self, kind: str, name: str, path: tuple[str, ...], span: Span, word: SectionWord | None) -> None:
        self.kind, self.name, self.path, self.span, self.word = kind, name, path, span, word
        self.entries: list[Entry] = []
        self.first: dict[str, Entry] = {}

    def closed(self) -> Section:
        return Section(self.kind, self.name, self.path, self.span, tuple(self.entries))


def read_sections(document: Document, words: Vocabulary) -> Draft:
    """All sections of a document; every line that is not read is a problem with its place, and reading goes on.

    From the problem on that is the last to be told, nothing is looked up that would only word another.
    """
    problems: list[Problem] = list(document.problems)
    told_bad = {problem.span.line for problem in problems}
    sections: list[_Open] = []
    for line in document.lines:
        if not line.phrases or not line.phrases[0]:
            continue
        row = row_of(line.phrases[0], line.text, document.file, line.number)
        if _is_heading(line, row, words):
            if len(sections) < MOST_SECTIONS:
                sections.append(_heading(line, row, words))
                continue
            problems.append(Problem(row.span(0, 1), f"a file may have {MOST_SECTIONS} sections: part it into several"))
            break
        advise = len(problems) < PROBLEM_LIMIT
        here = sections[-1] if sections else None
        if here is None or (line.heading_shaped and here.word and advise and _unknown_heading(row, here.word)):
            if here is not None or line.heading_shaped:
                near = nearest_names(row.norms[0], words.sections) if advise else ""
                problems.append(Problem(row.span(0, 1), f'"{row.norms[0]}" opens no section{near}'))
                sections.append(_Open("", "", (), line_span(line, document.file), None))
            else:
                problems.append(Problem(row.span(0, 1), 'stands before the first heading, such as: plan "name"'))
            continue
        if here.word is not None:
            found = _statement(line, row, here, document.file, words, advise)
            problems.extend(one for one in found if one.span.line not in told_bad)
    problems.extend(one for section in sections for one in _nothing_follows(section))
    problems.sort(key=lambda one: one.span.order)
    told = capped(problems, document.file)
    return Draft(document.file, tuple(one.closed() for one in sections if one.word), told)


def line_span(line: Line, file: str) -> Span:
    """The whole line without blanks at its head."""
    lead = len(line.text) - len(line.text.lstrip())
    return at(file, line.number, lead + 1, len(line.text.rstrip()) - lead)


def _is_heading(line: Line, row: Row, words: Vocabulary) -> bool:
    return line.heading_shaped and row.norms[0] in words.sections


def _heading(line: Line, row: Row, words: Vocabulary) -> _Open:
    names = [str(token.value) for token in row.tokens if token.kind == "string"]
    kind = row.norms[0]
    name, path = (names[0], tuple(names[1:])) if names else ("", ())
    return _Open(kind, name, path, row.span(0, len(row.tokens)), words.sections[kind])


def _unknown_heading(row: Row, word: SectionWord) -> bool:
    if longest(word.by_first, row.norms, 0) is not None:
        return False
    return len(row.norms) > 1 and not nearest_names(row.norms[0], word.keys)


def _statement(line: Line, row: Row, here: _Open, file: str, words: Vocabulary, advise: bool) -> Iterable[Problem]:
    word = here.word
    assert word is not None
    key, start = _key(row, word)
    span = line_span(line, file)
    if key is None:
        head = _unknown_key(row)
        near = _near_key(row, word) if advise else ""
        return (Problem(row.span(0, head), f'"{row.words(0, head)}" is no key of {word.name}{near}'),)
    if start == len(row.norms) and len(line.phrases) == 1 and key.view and not key.of:
        here.entries.append(Entry(key.name, {}, "", ANEW, span, line.text.strip()))
        return ()
    mark, start = _mark(row, start, key)
    rows = _value_rows(line, row, start, file)
    told = read_line(key, rows, span, words, advise)
    entry = Entry(key.name, told.facts, told.by, mark, span, line.text.strip(), told.problems)
    old = here.first.get(key.name)
    if old is not None and not key.repeats:
        twice = f'"{key.name}" stands twice in this section, first on line {old.span.line}; keep one'
        return (Problem(span, twice), *told.problems)
    here.first.setdefault(key.name, entry)
    here.entries.append(entry)
    if key.each:
        here.entries.extend(_each(word.keys[key.each], rows, entry, words))
    return told.problems


def _near_key(row: Row, word: SectionWord) -> str:
    return nearest_names(" ".join(row.norms[:2]), word.keys) or nearest_names(row.norms[0], word.keys)


def _each(key: Key, rows: tuple[Row, ...], whole: Entry, words: Vocabulary) -> Iterable[Entry]:
    """The phrases of a line, each as a line of another key: ``irc 2021, ipc 2018`` names two codes with an edition."""
    for row in (piece for one in rows for piece in pieces_of(one, "and")):
        told = read_line(key, (row,), whole.span, words)
        if not told.problems:
            yield Entry(key.name, told.facts, "", "", whole.span, whole.text)


def _nothing_follows(here: _Open) -> Iterable[Problem]:
    """A list that is opened anew and then left empty says nothing."""
    last = {here.word.keys[entry.key].of or entry.key: entry for entry in here.entries if here.word is not None}
    return [
        Problem(entry.span, f'"{entry.key}" needs a value, or a line of that key after it')
        for entry in last.values()
        if entry.mark == ANEW
    ]


def _key(row: Row, word: SectionWord) -> tuple[Key | None, int]:
    found = longest(word.by_first, row.norms, 0)
    if found is None and "." in row.norms[0]:
        found = longest(word.by_first, (row.norms[0].rstrip("."), *row.norms[1:]), 0)
    if found is None:
        return None, 0
    name, end = found
    if end < len(row.norms) and row.norms[end] in (":", "."):
        end += 1
    return word.keys[name], end


def _unknown_key(row: Row) -> int:
    """How many tokens an unknown key takes: up to two blanks or a colon, else the whole row."""
    for index in range(1, len(row.tokens)):
        gap = row.tokens[index].column - row.tokens[index - 1].end_column
        if gap >= 2 or row.norms[index] == ":":
            return index
    return len(row.tokens)


def _mark(row: Row, start: int, key: Key) -> tuple[str, int]:
    """A repeatable line may open with a quoted mark and a comma, where its key takes no name of its own."""
    named = any(shape is not None and shape.sort == "text" for one in key.patterns for shape, _ in one.elements[:1])
    if key.repeats and not named and start == len(row.tokens) - 1 and row.tokens[start].kind == "string":
        return str(row.tokens[start].value), start + 1
    return "", start


def _value_rows(line: Line, row: Row, start: int, file: str) -> tuple[Row, ...]:
    rest: tuple[tuple[Token, ...], ...] = line.phrases[1:]
    first = row._replace(tokens=row.tokens[start:], norms=row.norms[start:])
    others = tuple(row_of(tokens, line.text, file, line.number) for tokens in rest)
    return (first, *others) if first.tokens or not others else others
