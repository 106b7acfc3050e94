"""The trade's words as data: kinds of words, keys of sections, phrases with their slots, and ways of saying a value."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple, TypeAlias

from speclint.kernel.quantity import Units

Tokens: TypeAlias = tuple[str, ...]


class Word(NamedTuple):
    """One word of a kind with what the data says of it; ``any_of`` makes it a family of other words."""

    name: str
    kind: str
    means: str
    covers: frozenset[str]
    excludes: frozenset[str]
    any_of: tuple[str, ...]
    properties: Mapping[str, Any]


class Kind(NamedTuple):
    """One kind of words: its words, every spelling by first token, and their order from weak to strong if they have one.

    Words with ``letters`` may be written joined. In an ``open`` kind a word that a list leaves out is not known to be missing.
    """

    name: str
    words: Mapping[str, Word]
    spellings: Mapping[str, tuple[tuple[Tokens, str], ...]]
    order: tuple[str, ...] = ()
    letters: bool = False
    open: bool = False
    types: Mapping[str, str] = {}


class FactShape(NamedTuple):
    """What a slot needs to know of its fact: ``is`` of the catalogue, the word kind, and the phrases that say yes or no."""

    sort: str
    detail: str
    yes: tuple[Tokens, ...] = ()
    no: tuple[Tokens, ...] = ()


class Pattern(NamedTuple):
    """One phrase of a key in order: literal tokens (no shape), and slots with their fact and its shape."""

    elements: tuple[tuple[FactShape | None, str], ...]

    @property
    def facts(self) -> tuple[str, ...]:
        """The facts that the phrase tells."""
        return tuple(name for shape, name in self.elements if shape is not None)

    @property
    def gathers(self) -> bool:
        """Whether the phrase may come again in a line, adding to a set of words."""
        return any(shape is not None and shape.sort == "words" for shape, _ in self.elements)


class Key(NamedTuple):
    """One key of a section: its phrases, and how it repeats or stands for another key.

    ``starts`` remembers which phrases can begin with a token, ``lines`` what whole lines told; both fill as texts come.
    """

    name: str
    means: str
    patterns: tuple[Pattern, ...]
    starts: dict[str, tuple[int, ...]]
    lines: dict[tuple[Tokens, ...], Any]
    repeats: str = ""
    view: str = ""
    short_for: Mapping[str, str] = {}
    of: str = ""
    left_out: str = ""
    by_literal: Mapping[str, tuple[int, ...]] = {}
    by_slot: tuple[int, ...] = ()

    @property
    def facts(self) -> frozenset[str]:
        """Every fact that a line with this key can tell."""
        return frozenset(name for pattern in self.patterns for name in pattern.facts)


class SectionWord(NamedTuple):
    """One section: within which kind it stands, and its keys by first token, longest first."""

    name: str
    within: str
    keys: Mapping[str, Key]
    by_first: Mapping[str, tuple[tuple[Tokens, str], ...]]
    collects: str = ""
    view: str = ""


class Vocabulary(NamedTuple):
    """All words, keys and ways of saying; built from plain data, so that a new word needs no code.

    ``collections`` are the names of repeated lines and sections, true where none written leaves it unknown whether there
    are any, ``filed`` those of sections that stand under any address; ``views`` pair a collection with the fact whose
    word tells its items apart.
    """

    kinds: Mapping[str, Kind]
    sections: Mapping[str, SectionWord]
    shapes: Mapping[str, FactShape]
    collections: Mapping[str, bool]
    views: tuple[tuple[str, str], ...]
    filed: frozenset[str]
    units: Units
    unit_spellings: Mapping[str, tuple[tuple[Tokens, str], ...]]
    links: frozenset[str]
    bounds: Mapping[str, tuple[tuple[Tokens, str], ...]]
    open_words: Mapping[str, tuple[tuple[Tokens, str], ...]]
    degrees: Mapping[str, tuple[tuple[Tokens, str], ...]]
    fillers: frozenset[str]
    negations: frozenset[str]

    def word(self, kind: str, name: str) -> Word | None:
        """A word of a kind by its own name."""
        found = self.kinds.get(kind)
        return found.words.get(name) if found else None


def spelt(pairs: Sequence[tuple[Tokens, str]]) -> dict[str, tuple[tuple[Tokens, str], ...]]:
    """Spellings by their first token, the longest first, so that the first that fits is the right one."""
    found: dict[str, list[tuple[Tokens, str]]] = {}
    for tokens, name in pairs:
        if tokens:
            found.setdefault(tokens[0], []).append((tokens, name))
    return {first: tuple(sorted(rows, key=lambda row: (-len(row[0]), row))) for first, rows in found.items()}


def longest(
    table: Mapping[str, Sequence[tuple[Tokens, str]]], tokens: Sequence[str], start: int
) -> tuple[str, int] | None:
    """The longest spelling in a table that stands at a place of a token row: its name and where it ends."""
    if start >= len(tokens):
        return None
    for spelling, name in table.get(tokens[start], ()):
        end = start + len(spelling)
        if len(spelling) == 1 or tuple(tokens[start:end]) == spelling:
            return name, end
    return None


def pattern_elements(text: str, tokenize: Callable[[str], Tokens]) -> list[tuple[bool, str]]:
    """A phrase pattern such as ``to {layer.height} above {layer.datum}`` as literal tokens and slots (true)."""
    elements: list[tuple[bool, str]] = []
    for index, piece in enumerate(text.replace("}", "{").split("{")):
        if index % 2:
            elements.append((True, piece.strip()))
        else:
            elements.extend((False, token) for token in tokenize(piece))
    return elements
