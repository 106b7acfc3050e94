"""The names of the catalogue and the vocabulary, as the check of a pack asks for them."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import cached_property
from typing import Any

from speclint.engine.catalogue import FactKind
from speclint.facts.catalogue import Catalogue, Fact
from speclint.kernel.quantity import Units
from speclint.kernel.values import Unknown
from speclint.plan.row import tokens_of
from speclint.plan.vocabulary import Kind

DEEP = 24  # computed facts that rest on computed facts


class CatalogueNames:
    """The catalogue of facts with its vocabulary, seen as names to check conditions and rules against."""

    def __init__(self, catalogue: Catalogue, standards: Mapping[str, Any]) -> None:
        """Over a loaded catalogue and the register of standards (empty: not checked)."""
        self.catalogue = catalogue
        self.register = standards

    @property
    def units(self) -> Units:
        """Every unit by its spellings."""
        return self.catalogue.words.units

    def kind_of(self, fact: str) -> FactKind | None:
        """The kind of a fact or of a view of one; None if there is no such fact."""
        found = self.catalogue.find(fact)
        return FactKind(found.sort, found.detail, found.step) if found else None

    def facts(self) -> Collection[str]:
        """Every fact, and every view of one."""
        return self._names

    def collections(self) -> Collection[str]:
        """Every collection of items or sections."""
        return self.catalogue.collections

    def word(self, kind: str, text: str) -> str | None:
        """The word that a text names, by itself or by an alias."""
        found = self._kind(kind)
        if text in found.words:
            return text
        tokens = tokens_of(text)
        rows = found.spellings.get(tokens[0], ()) if tokens else ()
        return next((name for spelling, name in rows if spelling == tokens), None)

    def words(self, kind: str) -> Collection[str]:
        """Every word of a kind."""
        return self._kind(kind).words

    def order(self, kind: str) -> Sequence[str]:
        """The words of a kind from weak to strong."""
        return self._kind(kind).order

    def family(self, kind: str, word: str) -> Sequence[str]:
        """The members of a family word."""
        found = self._kind(kind).words.get(word)
        return found.any_of if found else ()

    def relations(self, kind: str) -> Mapping[str, tuple[Collection[str], Collection[str]]]:
        """What each word covers and excludes, where anything is said of it."""
        words = self._kind(kind).words.values()
        return {word.name: (word.covers, word.excludes) for word in words if word.covers or word.excludes}

    def subjects(self) -> Collection[str]:
        """Sections, and the items of repeated lines."""
        sections = self.catalogue.words.sections
        items = {
            key.name for section in sections.values() for key in section.keys.values() if key.repeats and not key.of
        }
        return [*sections, *sorted(items)]

    def may_be_missing(self, fact: str) -> bool:
        """Whether a plan that leaves lines out leaves the fact, or what it is computed from, unknown."""
        return self._missing(self.catalogue.find(fact), DEEP)

    def standards(self) -> Mapping[str, Any]:
        """The register of standards."""
        return self.register

    def _missing(self, fact: Fact | None, deep: int) -> bool:
        if fact is None or not deep:
            return False
        if fact.source is None:
            return isinstance(fact.left_out, Unknown)
        if fact.source.way == "count of":
            return any(self.catalogue.collections.get(one, "") for one in fact.source.operands)
        found = (self.catalogue.find(operand) for operand in fact.source.operands)
        return any(self._missing(one, deep - 1) for one in found)

    def _kind(self, name: str) -> Kind:
        return self.catalogue.words.kinds.get(name) or Kind(name=name, words={}, spellings={})

    @cached_property
    def _names(self) -> tuple[str, ...]:
        plain = tuple(self.catalogue.facts)
        by_prefix: dict[str, list[str]] = {}
        for name in plain:
            head, _, rest = name.partition(".")
            by_prefix.setdefault(head, []).append(rest)
        seen = {
            f"{head}.{rest}": None
            for head, view in self.catalogue.views.items()
            for rest in by_prefix.get(view.prefix, ())
        }
        return (*plain, *seen)
