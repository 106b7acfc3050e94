"""A subject of which some facts are supposed to be otherwise, to see whether an outcome hangs on them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from speclint.engine.reading import Subject
from speclint.kernel.values import ValueSet

Key: TypeAlias = tuple[str, tuple[str, ...], str]


def key_of(subject: Subject, fact: str) -> Key:
    """Kind, address and fact, which tell facts apart."""
    return (subject.kind, subject.address, fact)


def base_of(subject: Subject) -> Subject:
    """The subject itself, without what is supposed of it."""
    return subject.base if isinstance(subject, Supposed) else subject


class Supposed:
    """A subject like ``base``, with some facts of it or of its members replaced."""

    __slots__ = ("address", "base", "facts", "kind")

    def __init__(self, subject: Subject, facts: Mapping[Key, ValueSet]) -> None:
        """Lay the facts over the subject; suppositions already made stay."""
        self.base = base_of(subject)
        self.facts: Mapping[Key, ValueSet] = {**subject.facts, **facts} if isinstance(subject, Supposed) else facts
        self.kind = self.base.kind
        self.address = self.base.address

    def get(self, fact: str) -> ValueSet:
        """The supposed value if there is one, else the real one."""
        supposed = self.facts.get((self.kind, self.address, fact))
        return self.base.get(fact) if supposed is None else supposed

    def members(self, collection: str) -> tuple[Subject, ...] | None:
        """The members, under the same suppositions."""
        members = self.base.members(collection)
        return None if members is None else tuple(Supposed(member, self.facts) for member in members)

    def roots(self, fact: str) -> tuple[tuple[Subject, str, str], ...]:
        """The roots of the real fact; none of a supposed one."""
        return () if (self.kind, self.address, fact) in self.facts else self.base.roots(fact)
