"""Fills the sentences of rules with what was read and what is needed; two figures that differ never print alike."""

from __future__ import annotations

import re
from typing import NamedTuple

from speclint.engine.outcomes import Decision
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import Subject, section_of
from speclint.kernel.span import Span
from speclint.kernel.values import Absent, Between, Cases, Known, Single, Unknown, ValueSet
from speclint.packs.rule import Rule
from speclint.review.show import FINEST, in_units_of, show

PLACE = "place"  # where the subject stands
HOLE = re.compile(r"\{([a-z0-9.\- ]+)(?:\|([^{}|]*))?\}")


def fill(text: str, rule: Rule, subject: Subject, decision: Decision, system: str) -> str:
    """The sentence with every ``{fact}`` and ``{limit.name}`` replaced; figures that differ are told apart.

    ``{fact|words}`` says the words where the plan does not tell the fact.
    """
    holes = holes_in(text)
    values = {hole: _value(hole, rule, subject, decision) for hole in holes}
    catalogue = subject.catalogue
    shown = {hole: _shown(hole, values[hole], rule, catalogue, system, 0) for hole in holes}
    for first in holes:
        for second in holes:
            if first < second and _clash(values[first], values[second]) and _alike(shown[first], shown[second]):
                for finer in range(1, FINEST):
                    shown[first] = _shown(first, values[first], rule, catalogue, system, finer)
                    shown[second] = _shown(second, values[second], rule, catalogue, system, finer)
                    if not _alike(shown[first], shown[second]):
                        break
    told = {hole for hole in holes if not isinstance(values[hole], (Unknown, Absent))}
    filled = HOLE.sub(lambda one: shown[one[1]] if one[2] is None or one[1] in told else one[2], text)
    return filled[:1].upper() + filled[1:]


def holes_in(text: str) -> list[str]:
    """The facts and limits that a sentence names, each once."""
    return list(dict.fromkeys(hole for hole, _ in HOLE.findall(text)))


class Pointed(NamedTuple):
    """What a finding points at: the place, the words there, and the section that holds the line."""

    span: Span
    words: str
    home: Subject


def pointed(rule: Rule, subject: Subject, decision: Decision) -> Pointed:
    """The place and the words that a rule points at: the first fact the plan wrote, else the subject's line."""
    for fact in rule.points_at:
        value = _picked(subject.get(fact), decision)
        if value.span is not None:
            return Pointed(value.span, value.text, holder(subject, fact))
    for fact in rule.points_at:
        for owner, name, _ in subject.roots(fact):
            span = owner.get(name).span
            if span is not None:
                return Pointed(span, owner.get(name).text, section_of(owner))
    return Pointed(subject.span, "", section_of(subject))


def holder(subject: Subject, fact: str) -> Subject:
    """The section whose line tells a fact to a subject."""
    at: Subject | None = subject
    while at is not None:
        if fact in at.own:
            return section_of(at)
        at = at.outer
    return section_of(subject)


def _value(hole: str, rule: Rule, subject: Subject, decision: Decision) -> ValueSet:
    if hole.startswith("limit."):
        return decision.limits.get(hole.removeprefix("limit."), Known(""))
    if hole == PLACE:
        return Known(" / ".join(subject.address) or subject.name or "the plan", origin="stated")
    return _picked(subject.get(hole), decision)


def _picked(value: ValueSet, decision: Decision) -> Single:
    while isinstance(value, Cases):
        value = value.members[dict(decision.picks).get(value.group, 0)]
    return value


def _shown(hole: str, value: ValueSet, rule: Rule, catalogue: Catalogue, system: str, finer: int) -> str:
    if hole.startswith("limit."):
        text = _limit(hole.removeprefix("limit."), value, rule)
        return text + in_units_of(system, text, value, catalogue.words.units)
    return show(value, catalogue.find(hole), catalogue, system, finer)


def _limit(name: str, value: ValueSet, rule: Rule) -> str:
    """The text of the variant of a limit that was in force."""
    texts = [text for each, text, _ in rule.limits if each == name]
    for text, variant in zip(texts, rule.judgement.made.limits.get(name, ()), strict=False):
        if isinstance(value, Known) and variant.value.value == value.value:
            return text
    return texts[0] if texts else ""


def _alike(first: str, second: str) -> bool:
    return first.removeprefix("about ") == second.removeprefix("about ")


def _clash(first: ValueSet, second: ValueSet) -> bool:
    kinds = (Known, Between)
    return isinstance(first, kinds) and isinstance(second, kinds) and first[:2] != second[:2]
