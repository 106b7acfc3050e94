"""Rulings of an authority: a clause that it decided for an address is decided there, and told as decided elsewhere."""

from __future__ import annotations

import re

from speclint.facts.build import walk
from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.packs.rule import Rule
from speclint.plan.tree import same
from speclint.review.report import DIFFER, FAILS, MEETS, NOT_SHOWN
from speclint.review.settle import Settled

RULING = "ruling"
LET_STAND = ("accepted", "passed")
NEEDED = ("paper.authority", "paper.clause", "paper.date", "paper.result")
PARTS = re.compile(r"[;,\s]+")


def apply_rulings(
    settled: tuple[Settled, ...], decided: tuple[str, ...], root: Subject
) -> tuple[tuple[Settled, ...], tuple[str, ...]]:
    """Outcomes with the rulings applied; behind the sentences on decisions, one for each ruling with what it settled.

    It needs the authority, the clause, a day and a result, and lets a rule stand that cites the clause.
    """
    found, told = list(settled), list(decided)
    for paper in walk(root):
        if paper.kind != "paper" or _text(paper, "paper.kind") != RULING:
            continue
        lacking = [fact.partition(".")[2] for fact in NEEDED if not _text(paper, fact)]
        if lacking:
            told.append(f'ruling "{paper.name}" settles nothing: it does not say {", ".join(lacking)}')
            continue
        clause, result = _text(paper, "paper.clause"), _text(paper, "paper.result")
        covered = [
            place
            for place, one in enumerate(found)
            if result in LET_STAND and _open(one) and _cites(one.rule, clause) and _under(one.subject, paper)
        ]
        for place in covered:
            found[place] = found[place]._replace(outcome=MEETS, route=f"ruling: {paper.name}")
        rules = ", ".join(dict.fromkeys(found[place].rule.name for place in covered)) or "nothing that is open here"
        who = _text(paper, "paper.authority")
        told.append(f'ruling "{paper.name}" of {who} on {clause}, {result}, settles {rules}')
    return tuple(found), tuple(told)


def _open(one: Settled) -> bool:
    """Whether a matter is there to be ruled on: what a plan does not tell stays a question."""
    return one.outcome in (FAILS, DIFFER) or (one.outcome == NOT_SHOWN and bool(one.ask))


def _cites(rule: Rule, clause: str) -> bool:
    """Whether a rule rests on a clause, named with its standard or alone."""
    wanted = same(clause)
    for cite in rule.cites:
        for part in PARTS.split(cite.clause or ""):
            if part and wanted in (same(part), same(f"{cite.standard} {part}")):
                return True
    return False


def _under(subject: Subject, paper: Subject) -> bool:
    wanted = tuple(same(name) for name in paper.address[:-1])
    return tuple(same(name) for name in subject.address[: len(wanted)]) == wanted


def _text(section: Subject, fact: str) -> str:
    value = section.own.get(fact)
    if value is None:
        return ""
    return str(value.value).strip('"') if isinstance(value, Known) and isinstance(value.value, str) else value.text
