"""Findings from settled outcomes: filled sentences, the line pointed at, and one finding for a shared line."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.engine.outcomes import Root
from speclint.facts.subject import Subject, section_of
from speclint.review.messages import fill, pointed
from speclint.review.report import DIFFER, FAILS, Finding, Place
from speclint.review.settle import Settled
from speclint.review.show import show


def findings_of(settled: Iterable[Settled], system: str) -> tuple[Finding, ...]:
    """The findings of a plan: heaviest first, then by place; a shared line is told once with the list of places."""
    merged: dict[tuple[object, ...], list[Finding]] = {}
    for one in settled:
        if one.outcome in (FAILS, DIFFER):
            for subject in one.subjects:
                found = _finding(one._replace(subject=subject), system)
                merged.setdefault((found.rule, found.outcome, found.span, found.message), []).append(found)
    order = ("tear-out", "callback", "remark")
    told = [_joined(group) for group in merged.values()]
    return tuple(sorted(told, key=lambda one: (order.index(one.weight), one.span.order, one.rule, one.message)))


def _joined(group: list[Finding]) -> Finding:
    places = tuple(dict.fromkeys(place for one in group for place in one.places))
    return group[0]._replace(places=places)


def _finding(one: Settled, system: str) -> Finding:
    rule, subject, decision = one.rule, one.subject, one.decision
    at = pointed(rule, subject, decision)
    section = section_of(subject)
    places = (
        Place(at.home.address, at.span),
        *((Place(section.address, section.span),) if section is not at.home else ()),
    )
    catalogue = subject.catalogue
    admits = ", ".join(
        f"{_means(each.fact, each.subject)} {show(each.value, catalogue.find(each.fact), catalogue, system)}"
        for each in decision.admits
    )
    message = fill(rule.message, rule, subject, decision, system)
    return Finding(
        rule=rule.name,
        pack=rule.pack,
        outcome=one.outcome,
        weight=one.weight,
        message=f"The plan also admits {admits}. {message}" if admits else message,
        passes=fill(rule.passes, rule, subject, decision, system) if rule.passes else "",
        span=at.span,
        words=at.words,
        places=places,
        acts=rule.acts,
        settles=rule.settles,
        varied_by=rule.varied_by,
        spec_part=rule.spec_part,
        cites=rule.cites,
        rests_on=tuple(_rests(root, system) for root in decision.rests_on),
        admits=admits,
        sides=decision.variants if one.outcome == DIFFER else (),
        section=section_of(at.home).address,
    )


def _means(fact: str, subject: object) -> str:
    assert isinstance(subject, Subject)
    entry = subject.catalogue.find(fact)
    return entry.means if entry else fact


def _rests(root: Root, system: str) -> str:
    subject = root.subject
    assert isinstance(subject, Subject)
    entry = subject.catalogue.find(root.fact)
    value = subject.get(root.fact)
    means = entry.means if entry else root.fact.replace(".", " ").replace("-", " ")
    if root.origin == "taken as absent":
        return f"{means}: taken as absent"
    return f"{means}: assumed {show(value, entry, subject.catalogue, system)}"
