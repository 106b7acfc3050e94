"""One question for each missing fact: asked once, with its places, weighed by the rules it keeps open."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from speclint.facts.catalogue import Catalogue, Fact
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import DEMANDED, Known, Members, Unknown, ValueSet
from speclint.packs.rule import WEIGHTS
from speclint.review.messages import fill
from speclint.review.report import Place, Question, heaviest
from speclint.review.settle import PAPER_ROUTE, Settled
from speclint.review.show import show
from speclint.review.waiting import asked_first

WHICH = re.compile(r"\{(?:role|kind)\}")
OTHERS, DOCUMENT = "by others", "by section"


class Asked(NamedTuple):
    """One missing fact at one place, and the rule it keeps open; ``group`` is what is asked about as one."""

    group: str
    fact: str
    text: str
    answers: str
    place: Place
    section: tuple[str, ...]
    settled: Settled
    about: frozenset[str]


def questions(open_rules: Iterable[Settled], system: str, seen: frozenset[str] = frozenset()) -> tuple[Question, ...]:
    """The questions of a plan: those that bear on what was ``seen`` first, then the heaviest, then what frees most.

    ``seen`` are first parts of names of facts, and words for layers and parts.
    """
    groups: dict[str, list[Asked]] = {}
    for settled in open_rules:
        for asked in _asked(settled, system):
            groups.setdefault(asked.group, []).append(asked)
    found = [(_question(group), group) for group in groups.values()]
    found.sort(key=lambda one: _rank(one[0], one[1], seen))
    return tuple(question for question, _ in found)


def _rank(question: Question, group: list[Asked], seen: frozenset[str]) -> tuple[object, ...]:
    """The heavy ones that bear on what was seen, then by weight, what bears on it, and how many rules each frees."""
    apart = all(seen.isdisjoint(asked.about) for asked in group)
    light = question.weight == WEIGHTS[0]
    return (apart or light, -WEIGHTS.index(question.weight), apart, -len(question.frees), question.fact, question.text)


def _question(group: list[Asked]) -> Question:
    places = tuple(dict.fromkeys(asked.place for asked in group))
    first = min(group, key=lambda asked: (asked.place.span.order, asked.place.address))
    return Question(
        fact=min(asked.fact for asked in group),
        text=group[0].text,
        answers=group[0].answers,
        weight=heaviest(tuple(asked.settled.weight for asked in group)),
        frees=tuple(sorted({asked.settled.rule.name for asked in group})),
        places=tuple(sorted(places, key=lambda place: (place.span.order, place.address))),
        due=group[0].settled.rule.due,
        section=first.section,
    )


def _asked(settled: Settled, system: str) -> Iterable[Asked]:
    if settled.alike:
        for subject in settled.told:
            yield from _asked(settled._replace(subject=subject, alike=()), system)
        return
    rule, subject = settled.rule, settled.subject
    if settled.ask:
        home = section_of(subject)
        text, place = _for_paper(settled, system), Place(home.address, home.span)
        about = frozenset(fact.partition(".")[0] for fact in rule.points_at)
        yield Asked(text, f"paper {rule.name}", text, rule.acts, place, home.address, settled, about)
        return
    for root in settled.decision.open_on:
        if root.origin == "unreadable":
            continue
        if root.origin in (OTHERS, DOCUMENT):
            yield _left_to(_subject(root.subject), root.fact, settled)
            continue
        owner, fact = asked_first(_subject(root.subject), root.fact)
        entry = subject.catalogue.find(fact)
        if entry is None:
            text, answers = subject.catalogue.collections.get(fact, ""), rule.acts
        else:
            text, answers = _sentence(owner, fact, entry, system), entry.answers
        place, where = Place(owner.address, owner.span), section_of(owner).address
        yield Asked(text, fact, text, answers, place, where, settled, _about(owner, fact))


def _about(owner: Subject, fact: str) -> frozenset[str]:
    """By what a question is known to bear on what was seen: the first part of its fact, and the layer or part."""
    return frozenset((fact.partition(".")[0], _which(owner, fact).replace(" ", "-")))


def _left_to(owner: Subject, fact: str, settled: Settled) -> Asked:
    """What a line leaves to another contract is one question, and what is left to a document one for all its lines."""
    value = owner.get(fact)
    assert isinstance(value, Unknown)
    at = owner
    while fact not in at.own and at.outer is not None:
        at = at.outer
    first = next((name for name, said in at.own.items() if said == value), fact)
    section = section_of(at)
    place = Place(section.address, value.span or at.span)
    what = value.text[:1].upper() + value.text[1:]
    group, text = f"{OTHERS} {value.span}", f"{what}: who does it, and what is it?"
    if value.origin == DOCUMENT:
        document = value.text.rpartition("by ")[2]
        group, text = document, f"This plan leaves some things to {document}: what does it say of them?"
    return Asked(group, first, text, "designer", place, section.address, settled, _about(owner, fact))


def _for_paper(settled: Settled, system: str) -> str:
    """What is asked for besides facts: a record, a paper or a word in writing."""
    rule = settled.rule
    said = fill(rule.message, rule, settled.subject, settled.decision, system)
    if settled.ask == "record":
        return f"{said} Where is the record ({rule.shown_by or rule.settles})?"
    if settled.ask == "route":
        way = _called(settled.subject.catalogue, PAPER_ROUTE, rule.route)
        return f"{said} Is there a {way} that allows it here? Record it as a paper."
    return f"{said}{'' if said.endswith('?') else ' Is that as meant?'} Record the answer as a decision."


def _subject(reader: object) -> Subject:
    assert isinstance(reader, Subject)
    return reader


def _which(owner: Subject, fact: str) -> str:
    """What people call the item that a question is about, such as ``membrane`` of a layer."""
    catalogue, head = owner.catalogue, fact.partition(".")[0]
    view = catalogue.views.get(head)
    if view is not None:
        return _called(catalogue, view.fact, view.word)
    for _, told in catalogue.words.views:
        value = owner.own.get(told)
        if isinstance(value, Known) and told.partition(".")[0] == head:
            return _called(catalogue, told, str(value.value))
    return head.replace("-", " ")


def _called(catalogue: Catalogue, fact: str, name: str) -> str:
    word = catalogue.words.word(catalogue.words.shapes[fact].detail, name)
    return str(word.properties.get("called", name)) if word is not None else name


def _sentence(owner: Subject, fact: str, entry: Fact, system: str) -> str:
    value, catalogue = owner.get(fact), owner.catalogue
    text = WHICH.sub(_which(owner, fact), entry.ask or f"What of this: {entry.means}?")
    if isinstance(value, Unknown) and value.text and value.told and value.origin != DEMANDED:
        return f'The plan says "{value.text}". {text}'
    if value.origin == DEMANDED and value.span is not None:
        return f"The plan leaves it open: {show(value, entry, catalogue, system)}. {text}"
    near = _nearest(value, entry, catalogue)
    if near:
        told = f"{show(value, entry, catalogue, system)} is a class of another region and proves nothing here"
        return f"{told}; the nearest is {near}. Is there a test report to {near}? Then write the class that it names."
    if fact not in catalogue.facts and fact.partition(".")[0] in catalogue.views:
        return f"{text.removesuffix('?')}, or is there none?"
    return text


def _nearest(value: ValueSet, entry: Fact, catalogue: Catalogue) -> str:
    """Of the word of a class of another region, the class that comes nearest to it; never taken as its equal."""
    told = value.has if isinstance(value, Members) else {value.value} if isinstance(value, Known) else ()
    if entry.sort not in ("word", "words") or len(told) != 1:
        return ""
    word = catalogue.words.word(entry.detail, str(next(iter(told))))
    return str(word.properties.get("nearest", "")) if word else ""
