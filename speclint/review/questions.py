"""One question for each missing fact: asked once, with its places, weighed by the rules it keeps open."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from speclint.facts.catalogue import Fact
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import DEMANDED, Known, Unknown
from speclint.review.messages import fill
from speclint.review.report import Place, Question, heaviest
from speclint.review.settle import Settled
from speclint.review.show import show

WHICH = re.compile(r"\{(?:role|kind)\}")
HOPS = 6  # questions that wait for one another
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


def questions(open_rules: Iterable[Settled], system: str) -> tuple[Question, ...]:
    """The questions of a plan, heaviest first, then by how many rules each frees."""
    groups: dict[tuple[str, str], list[Asked]] = {}
    for settled in open_rules:
        for asked in _asked(settled, system):
            groups.setdefault((asked.group, asked.text), []).append(asked)
    found = [_question(group) for group in groups.values()]
    order = ("tear-out", "callback", "remark")
    return tuple(sorted(found, key=lambda one: (order.index(one.weight), -len(one.frees), one.fact, one.text)))


def _question(group: list[Asked]) -> Question:
    places = tuple(dict.fromkeys(asked.place for asked in group))
    first = min(group, key=lambda asked: (asked.place.span.order, asked.place.address))
    return Question(
        fact=first.fact,
        text=group[0].text,
        answers=group[0].answers,
        weight=heaviest(tuple(asked.settled.weight for asked in group)),
        frees=tuple(sorted({asked.settled.rule.name for asked in group})),
        places=tuple(sorted(places, key=lambda place: (place.span.order, place.address))),
        due=group[0].settled.rule.due,
        section=first.section,
    )


def _asked(settled: Settled, system: str) -> Iterable[Asked]:
    for subject in settled.alike:
        yield from _asked(settled._replace(subject=subject, alike=()), system)
    rule, subject = settled.rule, settled.subject
    if settled.ask:
        said = fill(rule.message, rule, subject, settled.decision, system)
        if settled.ask == "record":
            text = f"{said} Where is the record ({rule.shown_by or rule.settles})?"
        elif settled.ask == "route":
            text = f"{said} Is there a paper by the {rule.route} that allows it here? Record it as a paper."
        else:
            text = f"{said} Is that as meant? Record the answer as a decision."
        home = section_of(subject)
        mark = f"paper {rule.name}"
        yield Asked(mark, mark, text, rule.acts, Place(home.address, home.span), home.address, settled)
        return
    for root in settled.decision.open_on:
        if root.origin == "unreadable":
            continue
        if root.origin in (OTHERS, DOCUMENT):
            yield _left_to(_subject(root.subject), root.fact, settled)
            continue
        owner, fact = _waited(_subject(root.subject), root.fact)
        entry = subject.catalogue.find(fact)
        place, where = Place(owner.address, owner.span), section_of(owner).address
        if entry is None:
            yield Asked(fact, fact, f"What {fact} are there?", rule.acts, place, where, settled)
        else:
            yield Asked(fact, fact, _sentence(owner, fact, entry, system), entry.answers, place, where, settled)


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
    return Asked(group, first, text, "designer", place, section.address, settled)


def _subject(reader: object) -> Subject:
    assert isinstance(reader, Subject)
    return reader


def _waited(owner: Subject, fact: str) -> tuple[Subject, str]:
    """Where a fact would be written, and the question that comes before it."""
    for _ in range(HOPS):
        entry = owner.catalogue.find(fact)
        if entry is None or not entry.waits_for:
            break
        first = owner.get(entry.waits_for)
        if not isinstance(first, Unknown):
            break
        fact = entry.waits_for
    return _home(owner, fact), fact


def _home(owner: Subject, fact: str) -> Subject:
    """The outermost section whose lines could say the fact: where the answer is to be written."""
    catalogue = owner.catalogue
    head, _, rest = fact.partition(".")
    view = catalogue.views.get(head) if fact not in catalogue.facts else None
    inner = f"{view.prefix}.{rest}" if view else fact
    if head == owner.kind:
        return owner
    best: Subject | None = None
    at: Subject | None = owner
    while at is not None:
        section = catalogue.words.sections.get(at.kind)
        if section is not None and section.within != "any" and inner in section.facts:
            best = at
        at = at.outer
    return best or section_of(owner)


def _which(owner: Subject, fact: str) -> str:
    """The word that tells an item apart, such as ``membrane`` of a layer, for a question about it."""
    catalogue, head = owner.catalogue, fact.partition(".")[0]
    if head in catalogue.views:
        return catalogue.views[head].word
    for _, view in catalogue.words.views:
        value = owner.own.get(view)
        if isinstance(value, Known) and view.partition(".")[0] == head:
            return str(value.value)
    return head.replace("-", " ")


def _sentence(owner: Subject, fact: str, entry: Fact, system: str) -> str:
    value = owner.get(fact)
    text = WHICH.sub(_which(owner, fact), entry.ask or f"What is the {entry.means}?")
    if isinstance(value, Unknown) and value.text and value.told and value.origin != DEMANDED:
        return f'The plan says "{value.text}". {text}'
    if value.origin == DEMANDED and value.span is not None:
        return f"The plan leaves it open: {show(value, entry, owner.catalogue, system)}. {text}"
    return text
