"""Which lines of a specification an item answers: the nearest outwards from its address, else all within it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from speclint.facts.build import build_subjects
from speclint.facts.catalogue import Catalogue
from speclint.kernel.values import ASSUMED, NOTHING, TAKEN, Known, ValueSet
from speclint.plan.sections import Entry
from speclint.plan.tree import Node, Plan, same
from speclint.works.goods import Knowledge, is_goods, role_of

SUBMITTAL, SPECIFIED_BY, MATERIALS = "submittal", "assembly", "layer material"
PAPERS = frozenset({"test reports", "certificates", "submittals wanted", "sets"})


class Handed(NamedTuple):
    """A submittal section: its node, and the sections around it from the plan inwards."""

    node: Node
    chain: tuple[Node, ...]


class Call(NamedTuple):
    """A line of the specification and where it stands; ``stands_for`` maps its facts to those of the goods."""

    node: Node
    entry: Entry
    stands_for: Mapping[str, str] = {}


def handed_in(root: Node, chain: tuple[Node, ...] = ()) -> Iterator[Handed]:
    """Every submittal section of a plan in the order of the text."""
    around = (*chain, root)
    for child in root.children:
        if child.kind == SUBMITTAL:
            yield Handed(child, around)
        else:
            yield from handed_in(child, around)


def sections(root: Node) -> Iterator[Node]:
    """Every section of the specification, outermost first, submittals left out."""
    yield root
    for child in root.children:
        if child.kind != SUBMITTAL:
            yield from sections(child)


def claims(handed: Handed, catalogue: Catalogue) -> tuple[Entry, ...]:
    """The lines of an item that claim something of goods, without those on papers and on the submittal itself."""
    keys = catalogue.words.sections[SPECIFIED_BY].keys
    return tuple(one for one in handed.node.entries if one.key in keys and keys[one.key].repeats not in PAPERS)


def claimed(handed: Handed, entry: Entry, catalogue: Catalogue) -> Mapping[str, ValueSet]:
    """What one line of an item claims: left out is unknown, whatever the catalogue takes it for."""
    alone = handed.node._replace(entries=(entry,), children=())
    subject = build_subjects(Plan("", alone, (), False, ()), catalogue)
    key = catalogue.words.sections[SUBMITTAL].keys[entry.key]
    items = subject.collections.get(key.repeats, ()) if key.repeats else ()
    return _Claimed(items[0] if items else subject)


class _Claimed(dict[str, ValueSet]):
    """Facts of a claim, worked out as they are asked for."""

    def __init__(self, subject: object) -> None:
        super().__init__(subject.own)  # type: ignore[attr-defined]
        self.subject = subject

    def __missing__(self, fact: str) -> ValueSet:
        value: ValueSet = self.subject.get(fact)  # type: ignore[attr-defined]
        found = NOTHING if value.origin in (TAKEN, ASSUMED) else value
        self[fact] = found
        return found


def calls_for(entry: Entry, handed: Handed, known: Knowledge) -> tuple[Call, ...]:
    """The lines of the specification that a line of an item answers."""
    for node in reversed(handed.chain):
        found = list(_lines(node, entry, known))
        if found:
            return tuple(found)
    within = (node for child in handed.chain[-1].children for node in sections(child))
    return tuple(call for node in within for call in _lines(node, entry, known))


def goods_called_for(root: Node, known: Knowledge, catalogue: Catalogue) -> Iterator[tuple[Call, str]]:
    """Every line of the specification that calls for goods, and the word for them."""
    materials = catalogue.words.kinds[MATERIALS]
    for node in sections(root):
        if node.kind in ("record", "paper", "variance", "decision"):
            continue
        for entry in node.entries:
            found = known.of(entry)
            if found is not None and _names_something(entry, found.facts) and is_goods(found, entry, materials):
                yield Call(node, entry), found.item
            for goods, facts in known.answering(entry.key):
                if _names_something(entry, tuple(facts)):
                    yield Call(node, entry, facts), goods.item


def _names_something(entry: Entry, facts: tuple[str, ...]) -> bool:
    return any(isinstance(entry.facts.get(fact), Known) or hasattr(entry.facts.get(fact), "members") for fact in facts)


def _lines(node: Node, entry: Entry, known: Knowledge) -> Iterator[Call]:
    """The lines of one section that call for what a line claims."""
    if node.kind == SUBMITTAL:
        return
    alike = [one for one in node.entries if one.key == entry.key and role_of(one) == role_of(entry)]
    marked = [one for one in alike if entry.mark and same(one.mark) == same(entry.mark)]
    yield from (Call(node, one) for one in marked or alike)
    for one in node.entries:
        for goods, facts in known.answering(one.key):
            if goods.key == entry.key and not facts.keys().isdisjoint(one.facts):
                yield Call(node, one, facts)
