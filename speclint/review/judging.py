"""Decides every rule on every subject it judges; subjects that a rule cannot tell apart are decided once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from speclint.engine.decide import decide
from speclint.facts.build import walk
from speclint.facts.subject import Subject
from speclint.packs.rule import Rule
from speclint.review.gates import Gatekeeper, Gates
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
    """What is worked out once for a subject: whether its stage is strict, and what the shared gates say of it."""

    strict: bool
    keeper: Gatekeeper | None


def judged(rules: Iterable[Rule], subjects: Subjects, stages: Stages, gates: Gates | None = None) -> Judged:
    """Every rule on every subject of the kind it judges; with ``gates`` those that cannot apply are passed by."""
    found: list[Settled] = []
    passed_by = 0
    groups: dict[tuple[str, frozenset[str]], tuple[Alike, ...]] = {}
    standing: dict[int, _Standing] = {}
    own = {kind: frozenset(fact for one in each for fact in one.own) for kind, each in subjects.items()}
    for rule in rules:
        each = subjects.get(rule.judges)
        if not each:
            continue
        shut_by = gates.numbers_of(rule.gates) if gates else ()
        told_apart = rule.reads & own[rule.judges]
        mark = (rule.judges, told_apart)
        alike = groups.get(mark)
        if alike is None:
            alike = groups[mark] = tuple(_alike(each, told_apart))
        for first, others in alike:
            here = standing.get(id(first))
            if here is None:
                keeper = Gatekeeper(gates, first) if gates else None
                here = standing[id(first)] = _Standing(strict(stages.of(first), stages), keeper)
            if here.keeper is not None and here.keeper.shuts(shut_by):
                passed_by += 1 + len(others)
                continue
            decision = decide(rule.judgement, first, strict=here.strict)
            settled = settle(rule, first, decision, stages)
            found.append(settled._replace(alike=others) if others else settled)
    return Judged(tuple(found), passed_by)


def _alike(subjects: tuple[Subject, ...], told_apart: frozenset[str]) -> Iterable[Alike]:
    """Subjects grouped by where they stand and what they say of the facts that tell them apart."""
    facts = sorted(told_apart)
    groups: dict[tuple[object, ...], list[Subject]] = {}
    for subject in subjects:
        home = subject
        while home.outer is not None and not home.collections and told_apart.isdisjoint(home.own):
            home = home.outer
        said = () if home is not subject or subject.collections else tuple(_said(subject, fact) for fact in facts)
        place = id(subject.outer) if said else id(home)
        groups.setdefault((place, said), []).append(subject)
    return (Alike(group[0], tuple(group[1:])) for group in groups.values())


def _said(subject: Subject, fact: str) -> object:
    value = subject.own.get(fact)
    return None if value is None else value._replace(span=None)
