"""Answers to the questions of a review: values drawn from what a fact still allows, and put where they are asked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from random import Random

from speclint.engine.nodes import Node
from speclint.engine.nodes import walk as nodes_under
from speclint.engine.outcomes import Judgement, Root
from speclint.facts.build import walk
from speclint.facts.catalogue import Fact
from speclint.facts.subject import Subject, section_of
from speclint.kernel.quantity import whole
from speclint.kernel.values import Among, Between, Known, Members, Number, Single, ValueSet, member
from tests.rules.shipped import shipped_kit

COUNTS = (0, 1, 2, 3, 5, 10)
LAID = (".position", ".there")  # facts that the building of subjects lays beside what a plan tells
MOMENTS = (10**9, 10**9 + 3 * 86400)


def nodes_of(judgement: Judgement) -> Iterator[Node]:
    """Every node of a judgement, those of its limits too."""
    yield from nodes_under(judgement.demands)
    if judgement.applies is not None:
        yield from nodes_under(judgement.applies)
    for variant in (one for each in judgement.limits.values() for one in each):
        yield variant.value
        if variant.when is not None:
            yield from nodes_under(variant.when)


def reads_silence(judgement: Judgement) -> bool:
    """Whether it asks if a fact is stated or absent, so that any answer may change it."""
    return any(node[0] in ("absent", "stated") for node in nodes_of(judgement))


@cache
def figures() -> dict[str, tuple[Number, ...]]:
    """By dimension, the figures that rules compare with, a step of the fact to each side, the half and the double."""
    found: dict[str, set[Number]] = defaultdict(set)
    catalogue = shipped_kit().catalogue
    for judgement in (rule.judgement for pack in shipped_kit().packs for rule in pack.rules):
        limits = {
            name: [Fraction(*one.value[1:3]) for one in each if one.value[0] == "number"]
            for name, each in judgement.limits.items()
        }
        for node in (one for one in nodes_of(judgement) if one[0] == "compare"):
            under = list(nodes_under(node))
            said = [Fraction(one[1], one[2]) for one in under if one[0] == "number"]
            said += [figure for one in under if one[0] == "limit" for figure in limits[one[1]]]
            for entry in (catalogue.find(one[1]) for one in under if one[0] == "fact"):
                if entry is not None and entry.sort == "quantity":
                    step = Fraction(entry.step or 1)
                    near = (each for one in said for each in (one - step, one, one + step, one / 2, one * 2))
                    found[entry.detail].update(whole(each) for each in near if each >= 0)
    return {dimension: tuple(sorted(each)) for dimension, each in found.items()}


def of_a_line_to_add(asked: Root) -> bool:
    """Whether a section is asked what only a line that may repeat could tell, such as one more surface."""
    subject = asked.subject
    assert isinstance(subject, Subject)
    section = subject.catalogue.words.sections.get(subject.kind)
    return section is not None and any(key.repeats and asked.fact in key.facts for key in section.keys.values())


def answer(root: Subject, asked: Root, random: Random) -> bool:
    """Answer one question: a value where the fact is asked, "none" where a layer or a repeated line is; else false."""
    subject = asked.subject
    assert isinstance(subject, Subject)
    catalogue = subject.catalogue
    if asked.fact in catalogue.collections:
        subject.collections[asked.fact] = ()
    elif asked.fact in catalogue.facts:
        subject.own = {**subject.own, asked.fact: _drawn(catalogue.facts[asked.fact], subject.get(asked.fact), random)}
    elif asked.fact.partition(".")[0] in catalogue.views:
        view = catalogue.views[asked.fact.partition(".")[0]]
        home = section_of(
            subject
        )  # a plan tells layers in a section, not at one of its surfaces, and a part keeps those it has
        home.collections.setdefault(view.collection, home.members(view.collection) or ())
        home.denied |= {view.word}
    else:
        return False
    for one in walk(root):
        one.cache = {
            **{fact: value for fact, value in one.cache.items() if fact.endswith(LAID)},
            **one.own,
        }
        one.filed = {}
    return True


def _drawn(entry: Fact, held: ValueSet, random: Random) -> Single:
    """One member of what a fact allows: within its range, of its words, else anything of its kind."""
    value = member(held)
    if isinstance(value, Between):
        return Known(_within(value, random))
    if isinstance(value, Among) and not value.beyond:
        return Known(random.choice(sorted(value.members)))
    if entry.sort in ("word", "words"):
        return _words(entry, value, random)
    if entry.sort == "quantity":
        return Known(random.choice(COUNTS if entry.detail == "count" else figures().get(entry.detail, COUNTS)))
    return Known({"flag": random.random() < 0.5, "moment": random.choice(MOMENTS)}.get(entry.sort, "as told"))


def _words(entry: Fact, value: Single, random: Random) -> Single:
    """A word; for a set as many as it takes to tell every mark of their kind, so that the answer is whole."""
    kind = shipped_kit().vocabulary.kinds[entry.detail]
    plain = sorted(name for name, word in kind.words.items() if not word.any_of)
    if entry.sort == "word":
        return Known(random.choice(plain))
    has, lacks = (set(value.has), value.lacks) if isinstance(value, Members) else (set(), frozenset())
    has |= {name for name in plain if name not in lacks and random.random() < 0.3}
    for mark in sorted(mark for mark, sort in kind.types.items() if sort == "flag"):
        if all(mark not in kind.words[name].properties for name in has):
            has.add(random.choice([name for name in plain if mark in kind.words[name].properties]))
    return Members(frozenset(has), frozenset(plain) - has, closed=True)


def _within(value: Between, random: Random) -> Number:
    if value.low is not None and value.high is not None:
        inside = [end for end, shut in ((value.low, value.low_open), (value.high, value.high_open)) if not shut]
        return random.choice([*inside, whole((Fraction(value.low) + Fraction(value.high)) / 2)])
    if value.low is not None:
        return random.choice([value.low + value.low_open, value.low * 2 + 1, value.low * 16 + 1])
    assert value.high is not None
    return value.high - value.high_open
