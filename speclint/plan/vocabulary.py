"""The trade's words as data: kinds of words, keys of sections, phrases with their slots, and ways of saying a value."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import takewhile
from typing import Any, NamedTuple

from speclint.kernel.quantity import Units
from speclint.plan.spelling import Tokens


class Word(NamedTuple):
    """One word of a kind with what the data says of it; ``any_of`` makes it a family of other words.

    ``cites`` is the standard that defines it, by number.
    """

    name: str
    kind: str
    means: str
    covers: frozenset[str]
    excludes: frozenset[str]
    any_of: tuple[str, ...]
    properties: Mapping[str, Any]
    cites: str = ""


class Kind(NamedTuple):
    """One kind of words: its words, their spellings by first token, and their order from weak to strong if any.

    Words with ``letters`` may be written joined. In an ``open`` kind a word left out of a list may still be there.
    """

    name: str
    words: Mapping[str, Word]
    spellings: Mapping[str, tuple[tuple[Tokens, str], ...]]
    order: tuple[str, ...] = ()
    letters: bool = False
    open: bool = False
    types: Mapping[str, str] = {}


class FactShape(NamedTuple):
    """What a slot needs to know of its fact: its sort, its kind or dimension, the phrases that say yes or no."""

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

    def is_bare(self) -> bool:
        """Whether the phrase is slots alone, without a literal word."""
        return all(shape is not None for shape, _ in self.elements)

    @property
    def gathers(self) -> bool:
        """Whether the phrase may come again in a line, adding to a set of words."""
        return any(shape is not None and shape.sort == "words" for shape, _ in self.elements)


class Key(NamedTuple):
    """One key of a section: its phrases, and how it repeats or stands for another key.

    Every phrase of a line is read besides as a line of the key ``each``, so that what it pairs stays paired.

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
    each: str = ""
    by_literal: Mapping[str, tuple[int, ...]] = {}
    by_slot: tuple[int, ...] = ()

    @property
    def facts(self) -> frozenset[str]:
        """Every fact that a line with this key can tell."""
        return frozenset(name for pattern in self.patterns for name in pattern.facts)

    @property
    def leading(self) -> frozenset[str]:
        """What a line leaves to somebody's choice: the words and figures that lead its phrases, else all it tells."""
        led = (one for pattern in takewhile(Pattern.is_bare, self.patterns) for one in pattern.elements)
        return frozenset(name for shape, name in led if shape is not None and shape.sort != "flag") or self.facts


class SectionWord(NamedTuple):
    """One section: within which kind it stands, and its keys by first token, longest first."""

    name: str
    within: str
    keys: Mapping[str, Key]
    by_first: Mapping[str, tuple[tuple[Tokens, str], ...]]
    facts: frozenset[str]
    collects: str = ""
    view: str = ""


class Vocabulary(NamedTuple):
    """All words, keys and ways of saying; built from plain data, so that a new word needs no code.

    ``collections`` are the names of repeated lines and sections, each with what is asked where none written leaves it
    unknown whether there are any, ``filed`` those of sections that stand under any address; ``views`` pair a collection
    with the fact whose word tells its items apart.
    """

    kinds: Mapping[str, Kind]
    sections: Mapping[str, SectionWord]
    shapes: Mapping[str, FactShape]
    collections: Mapping[str, str]
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
