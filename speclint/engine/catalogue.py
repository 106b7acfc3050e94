"""What a condition is checked against: the kinds of facts and the words, collections and units there are."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple, Protocol

from speclint.kernel.quantity import Units
from speclint.kernel.values import Number

QUANTITY, WORD, WORDS, FLAG, TEXT, MOMENT = "quantity", "word", "words", "flag", "text", "moment"


class FactKind(NamedTuple):
    """What sort of value a fact has, its dimension or kind of word, and its resolution in base units."""

    is_: str
    of: str = ""
    step: Number | None = None


class Catalogue(Protocol):
    """All the names that a condition may use."""

    @property
    def units(self) -> Units:
        """Every unit by its spellings; a count has the dimension `count`."""

    def kind_of(self, fact: str) -> FactKind | None:
        """The kind of a fact, None if there is no such fact."""

    def facts(self) -> Collection[str]:
        """Every name of a fact, for near misses."""

    def collections(self) -> Collection[str]:
        """Every collection that `any`, `all`, `none` and `count of` may go over."""

    def word(self, kind: str, text: str) -> str | None:
        """The canonical word of a kind for a word or alias, None if there is none."""

    def words(self, kind: str) -> Collection[str]:
        """Every word of a kind, for near misses."""

    def order(self, kind: str) -> Sequence[str]:
        """The words of a kind from least to most; empty if it has no order."""

    def family(self, kind: str, word: str) -> Sequence[str]:
        """The words that a family word stands for; empty if it stands for itself."""

    def relations(self, kind: str) -> Mapping[str, tuple[Collection[str], Collection[str]]]:
        """For each word the words it covers and the words it excludes."""
