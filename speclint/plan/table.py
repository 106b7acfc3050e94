"""Rows of a table of product data as submittal sections: head words are looked up, cells are read as lines are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.kernel.values import Among, Cases, Known, ValueSet
from speclint.language.reader import read
from speclint.language.tables import Driver
from speclint.plan.near import nearest_names
from speclint.plan.remembered import read_line
from speclint.plan.row import row_of, tokens_of
from speclint.plan.sections import Entry, Section
from speclint.plan.spelling import longest
from speclint.plan.table_cells import Cell, folded, named, refusal, with_unit
from speclint.plan.vocabulary import Key, Vocabulary

SUBMITTAL = "submittal"
NAME, ADDRESS, KIND = "name", "address", "key"  # uses of columns; any other use is passed by
_OPEN = ("unreadable", "missing")
_ALONE = "{}"


class Column(NamedTuple):
    """What a column is for: a use, or phrases of a line (of the row's kind, if it names none)."""

    use: str
    line: str = ""
    says: tuple[str, ...] = ()
    unit: str = ""


class Told(NamedTuple):
    """One cell as facts of a line."""

    key: Key
    facts: Mapping[str, ValueSet]
    span: Span
    text: str


class TableReader:
    """Reads the rows of one table; every cell that is not read is a problem with its row and column."""

    def __init__(self, file: str, data: Mapping[str, Any], words: Vocabulary, driver: Driver) -> None:
        """``data`` holds the head words of columns and the words for kinds, ``driver`` reads the texts of cells."""
        self.file, self.words, self.driver = file, words, driver
        self.keys = words.sections[SUBMITTAL].keys
        self.by_first = words.sections[SUBMITTAL].by_first
        self.problems: list[Problem] = []
        self.known = {folded(word): row for row in data["columns"].values() for word in row["words"]}
        self.kinds = {tokens_of(word): key for word, key in data["kinds"].items()}

    def sections(self, head: Sequence[Cell], rows: Iterable[Sequence[Cell]]) -> tuple[Section, ...]:
        """A submittal section of every row that is not blank."""
        columns = self._columns(head)
        if not any(column.use == KIND or column.line in self.keys for column in columns.values()):
            self._problem(head[0], 'no column tells what the items are: add one named "kind", as in tile or mortar')
            return ()
        return tuple(self._section(row, columns) for row in rows)

    def _problem(self, cell: Cell, why: str) -> None:
        self.problems.append(Problem(self._span(cell), why))

    def _span(self, cell: Cell) -> Span:
        return Span(self.file, cell.row, cell.column, cell.row, cell.column + 1)

    def _columns(self, head: Sequence[Cell]) -> dict[int, Column]:
        found: dict[int, Column] = {}
        seen: dict[str, int] = {}
        for cell in head:
            name, unit = named(cell.text)
            column = self._column(name, unit) if name else None
            if column is not None and name in seen:
                self._problem(cell, f'"{name}" heads column {seen[name]} already; keep one')
            elif column is not None:
                found[cell.column] = column
            elif name:
                near = nearest_names(name, self.known)
                self._problem(cell, f'"{cell.text.strip()}" is no head word of product data{near}')
            seen.setdefault(name, cell.column)
        return found

    def _column(self, name: str, unit: str) -> Column | None:
        row = self.known.get(name)
        if row is not None:
            return Column(row.get("is", ""), row.get("line", ""), tuple(row.get("says", ())), unit)
        key = self._key(tokens_of(name))
        return Column("", key.name, (_ALONE,), unit) if key is not None else None

    def _key(self, tokens: tuple[str, ...]) -> Key | None:
        """The key that some words spell from first to last."""
        found = longest(self.by_first, tokens, 0) if tokens else None
        if found is not None and found[1] == len(tokens):
            return self.keys[found[0]]
        return self.keys[self.kinds[tokens]] if tokens in self.kinds else None

    def _section(self, row: Sequence[Cell], columns: Mapping[int, Column]) -> Section:
        """One row: its name, its address, and its cells as lines."""
        filled = [(cell, columns[cell.column]) for cell in row if cell.said and cell.column in columns]
        used = {column.use: cell for cell, column in filled if column.use}
        first = next(cell for cell in row if cell.text.strip())
        told = list(self._kind(used.get(KIND)))
        kind = told[0].key if told else None
        for cell, column in filled:
            if not column.use:
                told.extend(self._cell(cell, column, kind))
        name = used[NAME].said if NAME in used else used[KIND].said if KIND in used else f"row {first.row}"
        place = used[ADDRESS].said if ADDRESS in used else ""
        path = tuple(part.strip() for part in place.split("/") if part.strip())
        span = self._span(first._replace(column=1))
        return Section(SUBMITTAL, name, path, span, tuple(self._entries(told)))

    def _kind(self, cell: Cell | None) -> Iterator[Told]:
        """The line that a row's kind names, with what it tells besides: ``tile``, ``porcelain tile``."""
        if cell is None:
            return
        tokens = tokens_of(cell.said)
        tails = (self._key(tokens[at:]) for at in range(len(tokens)))
        key = next((one for one in tails if one is not None), None)
        if key is None:
            near = nearest_names(folded(cell.said), self.keys)
            self._problem(cell, f'"{cell.said}" is no kind of product that is known here{near}')
            return
        told, problems = self._line(key, cell.said, cell)
        yield told if not problems else Told(key, {}, self._span(cell), "")

    def _cell(self, cell: Cell, column: Column, kind: Key | None) -> Iterator[Told]:
        """What a cell tells; of the phrases that it may stand in, the one that is read."""
        key = self.keys.get(column.line) if column.line else kind
        if key is None:
            return  # the row's kind is not known, which is told already
        refused = refusal(cell, key, column.says)
        if refused:
            self._problem(cell, refused)
            return
        text = with_unit(cell.said, column.unit)
        tries = [self._line(key, says.replace(_ALONE, text), cell) for says in column.says]
        told, problems = min(tries, key=lambda one: len(one[1]))
        if problems:
            self._problem(cell, problems[0].message)
        yield told

    def _line(self, key: Key, text: str, cell: Cell) -> tuple[Told, tuple[Problem, ...]]:
        """The text of a cell as the value of a line; its facts stand at the cell."""
        document = read(text, self.file, self.driver)
        span = self._span(cell)
        if document.problems or len(document.lines) != 1:
            problems = document.problems or (Problem(span, "this cell holds more than one line, or none"),)
            return Told(key, {}, span, cell.said), problems
        line = document.lines[0]
        rows = tuple(row_of(tokens, line.text, self.file, cell.row) for tokens in line.phrases)
        told = read_line(key, rows, span, self.words)
        return Told(key, {fact: _at(value, span) for fact, value in told.facts.items()}, span, cell.said), told.problems

    def _entries(self, cells: Sequence[Told]) -> Iterator[Entry]:
        """One line of each key, of all the cells that belong to it."""
        by_key: dict[str, list[Told]] = {}
        for one in cells:
            by_key.setdefault(one.key.name, []).append(one)
        for name, group in by_key.items():
            facts: dict[str, ValueSet] = {}
            for one in group:
                self._merge(facts, one)
            text = ", ".join(one.text for one in group if one.text)
            yield Entry(name, facts, "", "", group[0].span, f"{name} {text}")

    def _merge(self, facts: dict[str, ValueSet], told: Told) -> None:
        for fact, value in told.facts.items():
            old = facts.get(fact)
            if old is None or old.origin in _OPEN or _narrower(value, old):
                facts[fact] = value
            elif not (value.origin in _OPEN or _narrower(old, value)):
                twice = f'"{told.text}" tells again what another cell of this row told; keep one'
                self.problems.append(Problem(told.span, twice))
                return


def _narrower(value: ValueSet, other: ValueSet) -> bool:
    """Whether a value tells the same as another, or one word of the family that the other names."""
    if isinstance(other, Among):
        return isinstance(value, (Known, Among)) and _words(value) <= other.members
    return value._replace(span=None, text="") == other._replace(span=None, text="")


def _words(value: Known | Among) -> frozenset[str]:
    return value.members if isinstance(value, Among) else frozenset({str(value.value)})


def _at(value: ValueSet, span: Span) -> ValueSet:
    """A value as it stands at a cell."""
    if isinstance(value, Cases):
        return value._replace(members=tuple(_at(member, span) for member in value.members), span=span)
    return value._replace(span=span)
