"""Findings from settled outcomes: sentences, the line pointed at, one finding for a shared line or a choice."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.engine.outcomes import Admitted, Decision, Root
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import DEMANDED, Known
from speclint.packs.rule import Rule
from speclint.review.messages import fill, holder, pointed
from speclint.review.report import DIFFER, FAILS, Finding, Place
from speclint.review.settle import Settled
from speclint.review.show import show


def findings_of(settled: Iterable[Settled], system: str) -> tuple[Finding, ...]:
    """The findings of a plan: heaviest first, then by place; a shared line is told once with the list of places."""
    merged: dict[tuple[object, ...], list[Finding]] = {}
    for one in settled:
        if one.outcome in (FAILS, DIFFER):
            for subject in one.told:
                found = _finding(one._replace(subject=subject), system)
                merged.setdefault((found.rule, found.outcome, found.span, found.message), []).append(found)
    order = ("tear-out", "callback", "remark")
    told = [_joined(group) for group in merged.values()]
    return tuple(sorted(told, key=lambda one: (order.index(one.weight), one.span.order, one.rule, one.message)))


def gathered(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The same findings with one remark for each line that leaves a choice open, whatever number of rules it offends.

    What a variance lets through stands for itself.
    """
    lines: dict[object, list[Finding]] = {}
    for one in findings:
        lines.setdefault(id(one) if one.choice is None or one.variance else one.choice, []).append(one)
    return tuple(group[0] if len(group) == 1 else _choice(group) for group in lines.values())


def _choice(group: list[Finding]) -> Finding:
    """What a line leaves open, against every rule that some of it would not meet."""
    names = tuple(sorted({one.rule for one in group}))
    admits = tuple(dict.fromkeys(each for one in group for each in one.admits))
    first = min(group, key=lambda one: one.rule)
    return first._replace(
        message=f"The plan also admits {', '.join(admits)}, and with it what {len(names)} rules do not let pass: "
        f"{', '.join(names)}.",
        passes="A choice, written here, that they all let pass",
        span=first.choice or first.span,
        words="",
        places=tuple(dict.fromkeys(place for one in group for place in one.places)),
        settles="the choice, written into the plan",
        spec_part=min(one.spec_part for one in group),
        cites=tuple(dict.fromkeys(cite for one in group for cite in one.cites)),
        rests_on=tuple(dict.fromkeys(rest for one in group for rest in one.rests_on)),
        admits=admits,
        also=names[1:],
    )


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
        *_also_at(rule, subject),
    )
    told = [root for each in decision.admits for root in _left_open(each, decision)]
    admits = tuple(dict.fromkeys(_admitted(each, system) for each in told))
    message = fill(rule.message, rule, subject, decision, system)
    return Finding(
        rule=rule.name,
        pack=rule.pack,
        outcome=one.outcome,
        weight=one.weight,
        message=f"The plan also admits {', '.join(admits)}. {message}" if admits else message,
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
        choice=next((each.value.span for each in told if each.value.span is not None), None),
    )


def _also_at(rule: Rule, subject: Subject) -> Iterable[Place]:
    """The further lines that a finding stands on."""
    told = ((fact, subject.get(fact).span) for fact in rule.also_at)
    return (Place(holder(subject, fact).address, span) for fact, span in told if span is not None)


def _left_open(one: Admitted, decision: Decision) -> tuple[Admitted, ...]:
    """What a plan admits, as the lines tell it from which it is computed."""
    roots = one.subject.roots(one.fact)
    told = (Admitted(owner, fact, decision.value(owner, fact)) for owner, fact, origin in roots if origin == DEMANDED)
    return tuple(each for each in told if each.fact != one.fact) or (one,)


def _admitted(one: Admitted, system: str) -> str:
    subject = one.subject
    assert isinstance(subject, Subject)
    entry = subject.catalogue.find(one.fact)
    value = one.value
    if isinstance(value, Known) and isinstance(value.value, str):
        value = value._replace(text=value.value)  # the member that fails, not the word for several
    return f"{show(value, entry, subject.catalogue, system)} ({entry.means if entry else one.fact})"


def _rests(root: Root, system: str) -> str:
    subject = root.subject
    assert isinstance(subject, Subject)
    entry = subject.catalogue.find(root.fact)
    value = subject.get(root.fact)
    means = entry.means if entry else root.fact.replace(".", " ").replace("-", " ")
    if root.origin == "taken as absent":
        return f"{means}: taken as absent"
    return f"{means}: assumed {show(value, entry, subject.catalogue, system)}"
