"""Which question comes first: a fact is asked for where it would be written, and after what makes it matter."""

from __future__ import annotations

from speclint.facts.catalogue import Fact
from speclint.facts.subject import Subject, chosen, section_of
from speclint.kernel.values import Unknown

HOPS = 6  # questions that wait for one another


def asked_first(owner: Subject, fact: str) -> tuple[Subject, str]:
    """The section in which a missing fact would be written, and the fact or collection to ask for before it."""
    for _ in range(HOPS):
        first = _before(owner, fact)
        if not first:
            break
        fact = first
    return home_of(owner, fact), fact


def home_of(owner: Subject, fact: str) -> Subject:
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


def _before(owner: Subject, fact: str) -> str:
    """What is asked for before a fact; empty where the fact itself is."""
    catalogue = owner.catalogue
    entry = catalogue.find(fact)
    if entry is None:
        return ""
    head = fact.partition(".")[0]
    view = catalogue.views.get(head) if fact not in catalogue.facts else None
    if view is not None and owner.members(view.collection) is None:
        return view.collection
    if entry.source is not None and not entry.ask:
        inner = _operand(owner, entry)
        return f"{head}.{inner.partition('.')[2]}" if view is not None and inner else inner
    if entry.waits_for and isinstance(owner.get(entry.waits_for), Unknown):
        return entry.waits_for
    if entry.led_by and not _line_told(owner, head) and isinstance(owner.get(entry.led_by), Unknown):
        return entry.led_by
    return ""


def _operand(owner: Subject, entry: Fact) -> str:
    """Of what a fact is computed from: what is not known, for a person can tell only that."""
    assert entry.source is not None
    operands = tuple(one for one in entry.source.operands if owner.catalogue.find(one) is not None)
    return chosen(owner, operands) if operands else ""


def _line_told(owner: Subject, head: str) -> bool:
    at: Subject | None = owner
    while at is not None:
        if any(fact.startswith(f"{head}.") for fact in at.own):
            return True
        at = at.outer
    return False
