"""Writes another value into a line of a plan, and reads the line back to see that this and nothing else changed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import cast

from speclint.kernel.values import Cases, Members, Single, ValueSet
from speclint.language.lexer import scan_line
from speclint.language.reader import read
from speclint.language.tables import Driver
from speclint.plan.sections import Entry, read_sections
from speclint.plan.vocabulary import Vocabulary

NAME = "x"
PHRASES = re.compile(r'(?:[^,"]|"[^"]*"?)+')  # a text cut at its commas, those in quotes left out
UNIT = re.compile(r" [a-z]+$")


class Writer:
    """Writes phrases into lines of one kind of section or another; every line tried is read just as a plan's is."""

    def __init__(self, words: Vocabulary, driver: Driver) -> None:
        """Nothing is written yet."""
        self.words = words
        self.driver = driver
        self.known: dict[tuple[str, str], Entry | None] = {}

    def entry(self, kind: str, text: str) -> Entry | None:
        """A line as it is read in a section of a kind; None if any of it is not read."""
        found = self.known.get((kind, text))
        if found is None and (kind, text) not in self.known:
            draft = read_sections(read(f'{kind} "{NAME}"\n{text}', NAME, self.driver), self.words)
            entries = [entry for section in draft.sections for entry in section.entries]
            sound = len(entries) == 1 and not draft.problems
            found = self.known[(kind, text)] = entries[0] if sound else None
        return found

    def with_phrase(self, kind: str, entry: Entry, phrase: str) -> Entry | None:
        """The line with a phrase in the place of what it says of the same facts; None where none can be written so.

        To a set of words the phrase adds. All other facts stay as they were.
        """
        alone = self.entry(kind, f"{entry.key} {phrase}")
        if alone is None or not alone.facts:
            return None
        wanted = {fact: self._added(fact, entry.facts.get(fact), value) for fact, value in alone.facts.items()}
        if all(bare(entry.facts.get(fact)) == bare(value) for fact, value in wanted.items()):
            return None
        for text in _ways(entry, alone, wanted, phrase):
            tried = self.entry(kind, text)
            if (
                tried is not None
                and (tried.by, tried.mark) == (entry.by, entry.mark)
                and _says(tried.facts, {**entry.facts, **wanted})
            ):
                return tried
        return None

    def _added(self, fact: str, old: ValueSet | None, new: ValueSet) -> ValueSet:
        """A set of letters grows by those of the phrase; any other value is replaced."""
        if (
            isinstance(old, Members)
            and isinstance(new, Members)
            and self.words.kinds[self.words.shapes[fact].detail].letters
        ):
            has = old.has | new.has
            return new._replace(has=has, lacks=(old.lacks | new.lacks) - has)
        return new

    def fresh(self, kind: str, fact: str, phrase: str) -> Entry | None:
        """A line of its own that tells a fact by a phrase, under the first key of the section that takes it."""
        for key in self.words.sections[kind].keys.values():
            if fact in key.facts and not key.repeats and not key.of:
                tried = self.entry(kind, f"{key.name.ljust(16)} {phrase}")
                if tried is not None and fact in tried.facts:
                    return tried
        return None


def _ways(entry: Entry, alone: Entry, wanted: Mapping[str, ValueSet], phrase: str) -> Iterator[str]:
    """The texts that the line may have with the phrase in it, the least change first."""
    tokens = scan_line(entry.text, 1).tokens
    body, tail = entry.text[: tokens[-1].end_column - 1], entry.text[tokens[-1].end_column - 1 :]
    old = _stretch(entry, alone.facts)
    if old is None:
        first = PHRASES.match(body)
        head, rest = (first.group().rstrip(), body[first.end() :]) if first else (body, "")
        yield f"{body}, {phrase}{tail}"
        yield f"{head} {phrase}{rest}{tail}"
        yield f"{head}, {phrase}{rest}{tail}"
        return
    start, end = old
    said = slice(*(_stretch(alone, alone.facts) or (0, 0)))
    core = alone.text[said] if alone.facts == wanted else f"{body[start:end]} {alone.text[said]}"
    yield f"{body[:start]}{core}{body[end:]}{tail}"
    yield f"{body[:start]}{UNIT.sub('', core)}{body[end:]}{tail}"
    parts = [part for part in PHRASES.finditer(body) if part.start() < end and part.end() > start]
    lead = body[: parts[0].start()] + " " if parts[0].start() else body[: _first_value(entry)]
    yield f"{lead}{phrase}{body[parts[-1].end() :]}{tail}"


def _stretch(entry: Entry, facts: Iterable[str]) -> tuple[int, int] | None:
    """From where to where in the text of a line some facts are said; None where none of them is."""
    spans = [entry.facts[fact].span for fact in facts if fact in entry.facts]
    ends = [(span.column - entry.span.column, span.end_column - entry.span.column) for span in spans if span]
    return (min(start for start, _ in ends), max(end for _, end in ends)) if ends else None


def _first_value(entry: Entry) -> int:
    """Where in the text of a line its value begins."""
    return min(value.span.column for value in entry.facts.values() if value.span is not None) - entry.span.column


def _says(told: Mapping[str, ValueSet], wanted: Mapping[str, ValueSet]) -> bool:
    return told.keys() == wanted.keys() and all(bare(told[fact]) == bare(value) for fact, value in wanted.items())


def bare(value: ValueSet | None) -> ValueSet | None:
    """A value without the words and the place it came from, to be compared."""
    if isinstance(value, Cases):
        members = tuple(cast("Single", bare(one)) for one in value.members)
        return value._replace(group="", members=members, text="", span=None)
    return None if value is None else value._replace(text="", span=None)
