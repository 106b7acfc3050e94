"""Matches the phrases of a line with the patterns of its key; one matcher for every key, no key known to code."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.kernel.values import DEMANDED, NOTHING, Among, Cases, Known, Members, Unknown, ValueSet, member
from speclint.plan.figures import Hint
from speclint.plan.near import nearest_names
from speclint.plan.row import Row, pieces_of
from speclint.plan.slots import Read, may_start, read_open, read_slot
from speclint.plan.spelling import longest
from speclint.plan.vocabulary import Key, Pattern, Vocabulary

Facts = dict[str, ValueSet]
REMEMBERED = 4096  # tokens whose patterns a key remembers
SLIPS = 3  # characters by which a misspelt word is longer or shorter than the one meant, at most
LEFT_TO = ("by others", "by section")  # origins of what the plan leaves to another contract or document
JOINERS = ("or", "and", "with", "to")
TRIES = 600  # readings of one phrase before it is given up as unreadable


class Told(NamedTuple):
    """What a line tells: its facts, who does it, and what could not be read."""

    facts: Facts
    by: str
    problems: tuple[Problem, ...]


class Matcher:
    """Reads the value of one line; made anew for each line, it counts its tries so that no text takes long."""

    def __init__(self, key: Key, words: Vocabulary, advise: bool = True) -> None:
        """For one key of the vocabulary; with ``advise`` a problem names the nearest words."""
        self.key = key
        self.advise = advise
        self.words = words
        self.hints: list[Hint] = []
        self.tries = 0
        self.used: set[int] = set()
        self.reads: dict[tuple[int, int, int, bool], Read | None] = {}

    def line(self, rows: tuple[Row, ...], whole: Span) -> Told:
        """The facts of all phrases of a line; a phrase not used up whole is a problem and its facts stay unknown."""
        if not rows or not rows[0].norms:
            return Told({}, "", (Problem(whole, f'"{self.key.name}" needs a value'),))
        opened = self._opened(rows)
        if opened is not None:
            return Told(opened, "", ())
        rows, by = self._by_role(rows)
        facts: Facts = {}
        problems: list[Problem] = []
        for row in rows:
            if not row.norms:
                problems.append(Problem(whole, "nothing stands between two commas"))
                continue
            told = self._phrase(row)
            if told is None and self._sequence(row, 0, frozenset()) is None:
                problems.append(self._unread(row))
            elif told is None or not _merge(facts, told):
                problems.append(Problem(row.span(0, len(row.tokens)), f'"{self.key.name}" tells this twice; keep one'))
        if problems:
            self._leave_open(facts, rows)
        return Told(facts, by, tuple(problems))

    def _opened(self, rows: tuple[Row, ...]) -> Facts | None:
        """A whole value such as ``none`` or ``by others``, or a word of degree alone."""
        if len(rows) != 1:
            return None
        row = rows[0]
        found = read_open(row, 0, self.words)
        if found is not None and found[1] == len(row.norms):
            if self._sequence(row, 0, frozenset()) is not None:
                return None
            value = found[0]
            if value.origin in LEFT_TO:
                value = value._replace(text=f"{self.key.name} {value.text}")
            facts = self.key.leading if value.origin == DEMANDED else self.key.facts
            return dict.fromkeys((fact for fact in self._slots() if fact in facts), value)
        degree = longest(self.words.degrees, row.norms, 0)
        if degree is not None and degree[1] == len(row.norms) and self._sequence(row, 0, frozenset()) is None:
            value = Unknown(row.words(0, degree[1]), row.span(0, degree[1]), told=True)
            first = next((f for f in self._slots() if self.words.shapes[f].sort == "quantity"), None)
            return {first: value} if first else None
        return None

    def _slots(self) -> tuple[str, ...]:
        return tuple(fact for pattern in self.key.patterns for fact in pattern.facts)

    def _by_role(self, rows: tuple[Row, ...]) -> tuple[tuple[Row, ...], str]:
        """A trailing ``by ROLE`` names who does the work of the line."""
        last = rows[-1]
        roles = self.words.kinds.get("role")
        for at in range(len(last.norms) - 1, -1, -1):
            if last.norms[at] == "by" and roles is not None:
                found = longest(roles.spellings, last.norms, at + 1)
                if found is None or found[1] != len(last.norms) or self._sequence(last, 0, frozenset()) is not None:
                    return rows, ""
                kept = last._replace(tokens=last.tokens[:at], norms=last.norms[:at])
                return (*rows[:-1], *((kept,) if at else ())), found[0]
        return rows, ""

    def _phrase(self, row: Row) -> Facts | None:
        self.hints, self.tries = [], 0
        found = self._sequence(row, 0, frozenset(self.used))
        if found is not None:
            self.used.update(found[1])
            return found[0]
        parted = self._parted(row)
        if parted is not None:
            return self._phrase(parted)
        for joiner in JOINERS:
            if joiner in row.norms and (joiner != "to" or row.norms[0] == "mixed"):
                joined = self._joined(row, joiner)
                if joined is not None:
                    return joined
        return self._free_text(row)

    def _parted(self, row: Row) -> Row | None:
        """The phrase with a class and its letters in one word, such as ``C2TE``, parted into two."""
        shapes = [self.words.shapes[fact] for fact in self._slots()]
        letters = [self.words.kinds[one.detail] for one in shapes if one.sort == "words"]
        letters = [kind for kind in letters if kind.letters]
        classes = [self.words.kinds[one.detail] for one in shapes if one.sort == "word"]
        for at, (token, norm) in enumerate(zip(row.tokens, row.norms, strict=True)):
            if token.kind != "word" or not letters:
                continue
            for cut in range(len(norm) - 1, 0, -1):
                known = any(
                    (norm[:cut],) == spelling for kind in classes for spelling, _ in kind.spellings.get(norm[:cut], ())
                )
                if known and any(all(one in kind.words for one in norm[cut:].upper()) for kind in letters):
                    middle = token.column + cut
                    first = token._replace(text=token.text[:cut], value=token.text[:cut], end_column=middle)
                    second = token._replace(text=token.text[cut:], value=token.text[cut:], column=middle)
                    tokens = (*row.tokens[:at], first, second, *row.tokens[at + 1 :])
                    return row._replace(
                        tokens=tokens, norms=(*row.norms[:at], norm[:cut], norm[cut:], *row.norms[at + 1 :])
                    )
        return None

    def _free_text(self, row: Row) -> Facts | None:
        """A phrase of a key that takes nothing but text may stand without quotes."""
        patterns = [self.key.patterns[index] for index in self.key.by_slot]
        facts = [pattern.facts[0] for pattern in patterns if len(pattern.elements) == 1]
        if not facts or any(self.words.shapes[fact].sort != "text" for fact in facts) or len(facts) < len(patterns):
            return None
        end = len(row.tokens)
        return {facts[0]: Known(row.words(0, end), row.words(0, end), row.span(0, end))}

    def _joined(self, row: Row, joiner: str) -> Facts | None:
        """``A or B``: any may come; ``A and B``, ``mixed A to B``: all occur; ``A with B``: one made of two."""
        told = [self._sequence(piece, 0, frozenset()) if piece.norms else None for piece in pieces_of(row, joiner)]
        if any(one is None for one in told):
            return None
        parts = [one[0] for one in told if one is not None]
        end = len(row.tokens)
        span, text = row.span(0, end), row.words(0, end)
        joined: Facts = {}
        for name in sorted({name for part in parts for name in part}):
            if joiner == "with":
                said = [part[name] for part in parts if name in part]
                joined[name] = said[0] if len(said) == 1 else Unknown(text, span, told=True)
            else:
                members = tuple(member(part.get(name, NOTHING)) for part in parts)
                joined[name] = Cases(str(span), members, joiner != "or", text, span)
        return joined

    def _sequence(self, row: Row, at: int, used: frozenset[int]) -> tuple[Facts, frozenset[int]] | None:
        """Patterns one after another that use the phrase up, the longest first."""
        if at == len(row.norms):
            return {}, used
        self.tries += 1
        if self.tries > TRIES:
            return None
        for index, end, told in self._candidates(row, at, used):
            rest = self._sequence(row, end, used | {index})
            if rest is not None:
                facts = dict(told)
                if _merge(facts, rest[0]):
                    return facts, rest[1]
        if row.norms[at] in self.words.fillers and 0 < at < len(row.norms) - 1:
            return self._sequence(row, at + 1, used)
        return None

    def _candidates(self, row: Row, at: int, used: frozenset[int]) -> list[tuple[int, int, Facts]]:
        found: list[tuple[int, int, Facts]] = []
        patterns = self.key.patterns
        for index in self._starting(row, at):
            pattern = patterns[index]
            if index not in used or pattern.gathers:
                read = self._pattern(row, at, pattern)
                if read is not None:
                    found.append((index, *read))
        if len(found) > 1:
            found.sort(key=_end, reverse=True)
        return found

    def _starting(self, row: Row, at: int) -> tuple[int, ...]:
        """The patterns that can begin with the token at a place."""
        norm = row.norms[at]
        mark = norm if row.tokens[at].kind == "word" else f"{row.tokens[at].kind} {norm}"
        starts = self.key.starts
        if mark not in starts:
            if len(starts) > REMEMBERED:
                starts.clear()
            slots = (index for index in self.key.by_slot if self._may_start(row, at, index))
            starts[mark] = (*self.key.by_literal.get(norm, ()), *slots)
        return starts[mark]

    def _may_start(self, row: Row, at: int, index: int) -> bool:
        shape = self.key.patterns[index].elements[0][0]
        return shape is not None and may_start(row, at, shape, self.words)

    def _pattern(self, row: Row, at: int, pattern: Pattern) -> tuple[int, Facts] | None:
        facts: Facts = {}
        led = False
        norms, reads = row.norms, self.reads
        for shape, name in pattern.elements:
            if shape is None:
                if at >= len(norms) or norms[at] != name:
                    return None
                at += 1
                led = True
                continue
            mark = (id(norms), at, id(shape), led)
            if mark in reads:
                read = reads[mark]
            else:
                read = reads[mark] = read_slot(row, at, shape, self.words, self.hints.append, led)
            if read is None:
                return None
            facts[name], at = read
        return at, facts

    def _unread(self, row: Row) -> Problem:
        """Why a phrase was not read: a figure without its unit, else the words that fit nothing here."""
        bad = next((token for token in row.tokens if token.kind == "bad"), None)
        if bad is not None:
            return Problem(Span(row.file, row.line, bad.column, row.line, bad.end_column), str(bad.value))
        whole = row.span(0, len(row.tokens))
        if self.hints:
            hint = max(self.hints, key=lambda one: one.position)
            if "unit" in hint.message or "calendar" in hint.message or "time" in hint.message:
                return Problem(row.span(hint.position, hint.position + 1), hint.message)
        said = f'"{row.words(0, len(row.tokens))}" is not read under "{self.key.name}"'
        if not self.advise:
            return Problem(whole, said)
        text = " ".join(row.norms)
        alike = {one for one in self._spellings() if one[:1] == text[:1] and abs(len(one) - len(text)) <= SLIPS}
        return Problem(whole, said + nearest_names(text, alike))

    def _spellings(self) -> Iterator[str]:
        """All words that may stand under this key, as the plan would write them."""
        for pattern in self.key.patterns:
            for shape, name in pattern.elements:
                kind = self.words.kinds.get(shape.detail) if shape is not None else None
                if shape is None:
                    yield name
                elif kind is not None and shape.sort in ("word", "words"):
                    yield from (" ".join(spelt) for some in kind.spellings.values() for spelt, _ in some)

    def _leave_open(self, facts: Facts, rows: tuple[Row, ...]) -> None:
        """An unreadable phrase leaves every fact that the line did not tell unknown, never absent or assumed."""
        for fact in self.key.facts:
            if fact not in facts:
                facts[fact] = Unknown(rows[0].words(0, 1), rows[0].span(0, 1), origin="unreadable")


def _end(found: tuple[int, int, Facts]) -> int:
    return found[1]


def _merge(facts: Facts, more: Facts) -> bool:
    """Add what one phrase tells to what the line told before; false where it tells one thing twice in two ways."""
    for name, value in more.items():
        old = facts.get(name)
        if old is None:
            facts[name] = value
        elif isinstance(old, Members) and isinstance(value, Members):
            text = f"{old.text}, {value.text}"
            has, lacks = old.has | value.has, old.lacks | value.lacks
            facts[name] = Members(has, lacks, old.closed or value.closed, text, old.span)
        elif isinstance(old, Among) and isinstance(value, Among):
            facts[name] = old._replace(members=old.members & value.members)
        elif isinstance(value, Cases) and not isinstance(old, Cases):
            facts[name] = value._replace(members=(member(old), *value.members), text=f"{old.text}, {value.text}")
        else:
            return False
    return True
