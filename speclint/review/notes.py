"""What a plan says that bears on its review and is no finding: changes on site, symptoms, codes without rules."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.facts.build import walk
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import Known, Members
from speclint.packs.rule import Pack
from speclint.review.report import CLEAR, NOTED, OPEN

CODES, SIGHTINGS, SYMPTOM = "plan.codes", "sightings", "seen.symptom"


def notes_of(root: Subject, packs: Iterable[Pack]) -> tuple[str, ...]:
    """As-built values that differ from planned ones, what was seen, and each code of which no pack holds rules."""
    found: list[str] = [
        f"the plan answers to {code}; there are no rules for it here, so nothing tells whether it is met"
        for code in unheld_codes(root, packs)
    ]
    for subject in walk(root):
        at = " / ".join(subject.address)
        for fact, (planned, built) in sorted(subject.differs.items()):
            entry = subject.catalogue.find(fact)
            means = entry.means if entry else fact
            found.append(f'{at}: {means} was planned as "{planned}", the record says "{built}"')
    found.extend(f"{' / '.join(section_of(one).address)}: seen {one.get(SYMPTOM).text}" for one in _sightings(root))
    return tuple(found)


def unheld_codes(root: Subject, packs: Iterable[Pack]) -> tuple[str, ...]:
    """The codes that a plan answers to and of which no pack holds rules."""
    return tuple(sorted(_codes(root) - {code for pack in packs for code in pack.answers_to}))


def held_back(summary: str, root: Subject, packs: Iterable[Pack]) -> str:
    """The one word for a plan: what was seen bars `no exceptions`, and so does a code that nothing was held against."""
    unheld = unheld_codes(root, packs)
    if summary in (CLEAR, NOTED) and unheld and len(unheld) == len(_codes(root)):
        return OPEN
    return NOTED if summary == CLEAR and (unheld or _sightings(root)) else summary


def _codes(root: Subject) -> frozenset[str]:
    told = root.get(CODES)
    return told.has if isinstance(told, Members) else frozenset()


def _sightings(root: Subject) -> list[Subject]:
    every = (one for subject in walk(root) for one in subject.collections.get(SIGHTINGS, ()))
    return [one for one in every if isinstance(one.get(SYMPTOM), Known)]
