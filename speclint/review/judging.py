"""Decides every rule on every subject it judges; subjects that a rule cannot tell apart are decided once."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import itemgetter, or_
from typing import NamedTuple

from speclint.engine.decide import decide
from speclint.facts.build import walk
from speclint.facts.subject import Subject
from speclint.review.gates import Book, Shelf
from speclint.review.settle import Settled, settle, strict
from speclint.review.stages import Stages

Subjects = Mapping[str, tuple[Subject, ...]]


class Alike(NamedTuple):
    """Subjects that stand alike to a rule: the first is decided, the others share its outcome."""

    first: Subject
    others: tuple[Subject, ...]


def by_kind(root: Subject) -> dict[str, tuple[Subject, ...]]:
    """The subjects of rules by kind; parts are judged as assemblies and surfaces too, each with what differs."""
    found: dict[str, list[Subject]] = {}
    for subject in walk(root):
        found.setdefault(subject.kind, []).append(subject)
    parts = found.get("part", [])
    bare = [one for one in found.get("assembly", []) if not one.collections.get("surfaces")]
    found["surface"] = [*found.get("surface", []), *bare, *parts]
    found["assembly"] = [*found.get("assembly", []), *parts]
    return {kind: tuple(subjects) for kind, subjects in found.items() if subjects}


class Judged(NamedTuple):
    """What was told of every rule on every subject it judges, and how many times a rule surely did not apply."""

    settled: tuple[Settled, ...]
    passed_by: int


class _Standing(NamedTuple):
    """How a subject stands to the rules of its kind: its stage asks closely, which may apply, and which surely do."""

    subject: Subject
    strict: bool
    alive: int
    sure: int


def judged(book: Book, subjects: Subjects, stages: Stages) -> Judged:
    """Every rule on every subject of its kind, in the order of the rules; those that cannot apply are passed by."""
    found: list[tuple[int, Settled]] = []
    passed_by = 0
    for kind, shelf in book.shelves.items():
        each = subjects.get(kind)
        if each:
            passed_by += _judge_kind(book, shelf, each, stages, found)
    found.sort(key=itemgetter(0))
    return Judged(tuple([settled for _, settled in found]), passed_by)


def _judge_kind(
    book: Book, shelf: Shelf, each: tuple[Subject, ...], stages: Stages, found: list[tuple[int, Settled]]
) -> int:
    """Adds what is told of the subjects of one kind; how many times a rule surely did not apply."""
    standing = {id(one): _Standing(one, strict(stages.of(one), stages), *shelf.admitted(one)) for one in each}
    own = frozenset(fact for one in each for fact in one.own)
    groups: dict[frozenset[str], tuple[Alike, ...]] = {}
    waiting = reduce(or_, (here.alive for here in standing.values()))
    while waiting:
        bit = waiting & -waiting
        waiting ^= bit
        order = shelf.orders[bit.bit_length() - 1]
        rule = book.rules[book.names[order]]
        open_to = [here.subject for here in standing.values() if here.alive & bit]
        alike: tuple[Alike, ...] = (Alike(open_to[0], ()),)
        if len(open_to) > 1:
            told_apart = rule.reads & own
            alike = groups.get(told_apart) or groups.setdefault(told_apart, _alike(each, told_apart))
        for first, others in alike:
            here = standing[id(first)]
            if here.alive & bit:
                decision = decide(rule.judgement, first, here.strict, applies=bool(here.sure & bit))
                settled = settle(rule, first, decision, stages)
                found.append((order, settled._replace(alike=others) if others else settled))
    return sum((shelf.every ^ here.alive).bit_count() for here in standing.values())


def _alike(subjects: tuple[Subject, ...], told_apart: frozenset[str]) -> tuple[Alike, ...]:
    """Subjects grouped by where they stand and what they say of the facts that tell them apart."""
    facts = sorted(told_apart)
    groups: dict[tuple[object, ...], list[Subject]] = {}
    for subject in subjects:
        home = subject
        while home.outer is not None and not home.collections and told_apart.isdisjoint(home.own):
            home = home.outer
        said = () if home is not subject or subject.collections else tuple([_said(subject, fact) for fact in facts])
        place = id(subject.outer) if said else id(home)
        groups.setdefault((place, said), []).append(subject)
    return tuple([Alike(group[0], tuple(group[1:])) for group in groups.values()])


def _said(subject: Subject, fact: str) -> object:
    value = subject.own.get(fact)
    return None if value is None else value._replace(span=None)
