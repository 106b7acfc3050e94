"""A subject of rules: a plan, room, assembly, surface, part, layer or record, and every fact as it stands there."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeAlias

from speclint.facts.catalogue import Catalogue, Fact, View
from speclint.kernel.span import Span
from speclint.kernel.values import NOTHING, TAKEN, Absent, Among, Cases, Known, Single, Unknown, ValueSet, member

Root: TypeAlias = "tuple[Subject, str, str]"
Compute: TypeAlias = "Callable[[Subject, Fact], ValueSet]"
FIRST = "first of"
EXTREMES = ("largest of", "smallest of")  # over a collection: its name, then the fact of its items
WORDS, HELD = "words of", "held by"  # likewise; a set of words, then a word
RESTS = "rests on"
DEEP = 24  # computed facts that rest on computed facts


class Subject:
    """Facts are looked for here, then outwards, then computed, then taken as the catalogue says of a left-out line."""

    __slots__ = (
        "address",
        "cache",
        "catalogue",
        "collections",
        "compute",
        "denied",
        "depth",
        "differs",
        "filed",
        "kind",
        "name",
        "outer",
        "own",
        "span",
    )

    def __init__(
        self,
        *,
        kind: str,
        name: str,
        address: tuple[str, ...],
        span: Span,
        own: Mapping[str, ValueSet],
        outer: Subject | None,
        catalogue: Catalogue,
        compute: Compute,
    ) -> None:
        """A subject with its own stated facts; its collections are filled in by the builder."""
        self.kind, self.name, self.address, self.span = kind, name, address, span
        self.own, self.outer, self.catalogue, self.compute = own, outer, catalogue, compute
        self.collections: dict[str, tuple[Subject, ...]] = {}
        self.cache: dict[str, ValueSet] = dict(own)
        self.denied: frozenset[str] = frozenset()
        self.depth = 0
        self.filed: dict[str, tuple[Subject, ...]] = {}
        self.differs: dict[str, tuple[str, str]] = {}

    def get(self, fact: str) -> ValueSet:
        """The value set of a fact as it stands for this subject."""
        found = self.cache.get(fact)
        if found is None:
            found = self.cache[fact] = self._look_up(fact)
        return found

    def stated(self, fact: str) -> ValueSet | None:
        """What the plan says of a fact here or further out, if it says anything."""
        at: Subject | None = self
        while at is not None:
            if fact in at.own:
                return at.own[fact]
            at = at.outer
        return None

    def members(self, collection: str) -> tuple[Subject, ...] | None:
        """The items of a collection here or further out; None when it is not known whether there are any."""
        if collection in self.catalogue.gathered:
            return self._gathered(collection)
        at: Subject | None = self
        while at is not None:
            if collection in at.collections:
                return at.collections[collection]
            at = at.outer
        return None if self.catalogue.collections.get(collection, "") else ()

    def _gathered(self, collection: str) -> tuple[Subject, ...]:
        """What is filed here, within, and further out: a room's record counts for its walls, theirs for the room."""
        found = self.filed.get(collection)
        if found is None:
            outward: list[Subject] = []
            at = self.outer
            while at is not None:
                outward.extend(at.collections.get(collection, ()))
                at = at.outer
            found = self.filed[collection] = (*self._within(collection), *outward)
        return found

    def _within(self, collection: str) -> list[Subject]:
        found = list(self.collections.get(collection, ()))
        for name, items in self.collections.items():
            if name not in self.catalogue.gathered:
                found.extend(one for item in items for one in item._within(collection))
        return found

    def viewed(self, view: View) -> tuple[Subject, ...] | None:
        """The items of a collection that a view's word names."""
        items = self.members(view.collection)
        if items is None:
            return None
        return tuple(item for item in items if _is_word(item.get(view.fact), view.word))

    def _untold(self, view: View) -> list[Subject]:
        """The items that do not say what they are there for, so that each may be what the view names."""
        items = self.members(view.collection) or ()
        return [item for item in items if isinstance(item.get(view.fact), (Unknown, Among))]

    def roots(self, fact: str) -> tuple[Root, ...]:
        """The stated facts, not exactly known, on which a fact rests: each with its subject and origin."""
        return tuple(dict.fromkeys(self._roots(fact, DEEP)))

    def _roots(self, fact: str, depth: int) -> list[Root]:
        value = self.get(fact)
        if isinstance(value, Known) and value.origin not in (TAKEN, "assumed"):
            return []
        entry = self.catalogue.facts.get(fact)
        if entry is not None and entry.source is not None and self.stated(fact) is None and depth:
            operands = entry.source.operands
            if entry.source.way in (*EXTREMES, WORDS):
                each = self.members(operands[0]) or ()
                return [root for item in each for root in item._roots(operands[1], depth - 1)]
            if entry.source.way == FIRST:
                operands = (chosen(self, operands),)
            if entry.source.way == HELD and not isinstance(self.get(operands[0]), Unknown):
                operands = operands[1:]
            found = [root for operand in operands for root in self._roots(operand, depth - 1)]
            if isinstance(value, Unknown) and (not found or (entry.ask and all(one[2] == TAKEN for one in found))):
                return [(self, fact, _origin(value))]
            return found
        if entry is None:
            view = self.catalogue.views.get(fact.partition(".")[0])
            items = self.viewed(view) if view else None
            if view is not None:
                return self._roots_of_view(view, fact, items or (), depth)
        return [(self, fact, _origin(value))]

    def _roots_of_view(self, view: View, fact: str, items: tuple[Subject, ...], depth: int) -> list[Root]:
        """Of what a view's items tell; where there is none, of what it would be told by."""
        inner = f"{view.prefix}.{fact.partition('.')[2]}"
        if items:
            return [root for item in items for root in item._roots(inner, depth)]
        untold = [(item, view.fact, _origin(item.get(view.fact))) for item in self._untold(view)]
        entry = self.catalogue.facts.get(inner)
        value = self.get(fact)
        if untold or entry is None or entry.source is None or entry.ask or not isinstance(value, Unknown) or not depth:
            return untold or [(self, fact, _origin(value))]
        head = fact.partition(".")[0]
        told_by = [one for one in entry.source.operands if one.partition(".")[0] == view.prefix]
        roots = [self._roots(f"{head}.{one.partition('.')[2]}", depth - 1) for one in told_by]
        return [root for each in roots for root in each] or [(self, fact, _origin(value))]

    def _look_up(self, fact: str) -> ValueSet:
        entry = self.catalogue.facts.get(fact)
        if entry is None:
            return self._through_view(fact)
        if self.outer is not None:
            if entry.source is not None and self._same_as_outer(entry):
                return self.outer.get(fact)
            told = self.outer.stated(fact)
            if told is not None:
                return told
        if entry.source is not None and self.depth < DEEP:
            self.depth += 1
            try:
                return _asked_for(entry, self.compute(self, entry))
            finally:
                self.depth -= 1
        return entry.left_out

    def _same_as_outer(self, entry: Fact) -> bool:
        """Whether a computed fact rests on nothing that stands here, so that it is worked out once, further out."""
        return not self.collections and self.own.keys().isdisjoint(rests_on(self.catalogue, entry))

    def _denies(self, word: str) -> bool:
        """Whether the plan says here or further out that there is nothing of that word."""
        at: Subject | None = self
        while at is not None:
            if word in at.denied:
                return True
            at = at.outer
        return False

    def _through_view(self, fact: str) -> ValueSet:
        head, _, rest = fact.partition(".")
        view = self.catalogue.views.get(head)
        if view is None:
            return NOTHING
        items = self.viewed(view)
        inner = f"{view.prefix}.{rest}"
        if not items:
            if self._denies(view.word):
                return Absent()
            open_yet = items is None or view.left_out == "unknown" or self._untold(view)
            return NOTHING if open_yet else Absent(origin=TAKEN)
        if len(items) == 1:
            return items[0].get(inner)
        members: tuple[Single, ...] = tuple(member(item.get(inner)) for item in items)
        return Cases(f"{head} at {'/'.join(self.address)}", members, together=True)


def _asked_for(entry: Fact, value: ValueSet) -> ValueSet:
    """A computed fact with a question of its own is unknown, not absent, where all that it rests on was left out."""
    return NOTHING if entry.ask and isinstance(value, Absent) and value.origin == TAKEN else value


def rests_on(catalogue: Catalogue, entry: Fact) -> frozenset[str]:
    """Every fact on which a computed fact rests, through all computed facts between."""
    known = catalogue.memo.setdefault(RESTS, {})
    found = known.get(entry.name)
    if found is None:
        names: set[str] = {entry.name}
        waiting = list(entry.source.operands) if entry.source else []
        while waiting:
            name = waiting.pop()
            if name not in names:
                names.add(name)
                inner = catalogue.find(name)
                if inner is not None:
                    names.add(inner.name)
                    waiting.extend(inner.source.operands if inner.source else ())
        found = known[entry.name] = frozenset(names)
    assert isinstance(found, frozenset)
    return found


def section_of(subject: Subject) -> Subject:
    """The section that a subject stands in: of a surface or a layer, its assembly or part."""
    while subject.kind not in subject.catalogue.words.sections and subject.outer is not None:
        subject = subject.outer
    return subject


def chosen(subject: Subject, operands: tuple[str, ...]) -> str:
    """Of facts where the first that is told counts: that one, else the one that is asked for."""
    for operand in operands:
        if not isinstance(subject.get(operand), (Unknown, Absent)):
            return operand
    return next((one for one in operands if isinstance(subject.get(one), Unknown)), operands[-1])


def _is_word(value: ValueSet, word: str) -> bool:
    return isinstance(value, Known) and value.value == word


def _origin(value: ValueSet) -> str:
    return value.origin
