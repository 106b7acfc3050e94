"""Recorded decisions: they settle where sources differ and confirm where a rule only asks."""

from __future__ import annotations

from collections.abc import Mapping

from speclint.facts.build import walk
from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.plan.tree import same
from speclint.review.report import DIFFER, MEETS, NOT_SHOWN
from speclint.review.settle import Settled


def apply_decisions(
    settled: tuple[Settled, ...], root: Subject, roles: Mapping[str, str] = {}
) -> tuple[tuple[Settled, ...], tuple[str, ...]]:
    """Outcomes with the recorded decisions applied, and for each decision a sentence that says what it settled.

    ``roles`` gives the role of a name that decided.
    """
    told: list[str] = []
    found = list(settled)
    items = {same(one.name) for one in walk(root) if one.kind == "submittal"}
    for section in walk(root):
        if section.kind != "decision":
            continue
        which, what = _text(section, "decision.which") or section.name, _text(section, "decision.what")
        who = _text(section, "decision.role") or roles.get(same(_text(section, "decision.name")), "")
        when = section.get("decision.when")
        if same(which) in items:
            told.append(f'decision "{section.name}" is on submittal "{which}"')
            continue
        if not what or not who:
            told.append(f'decision "{section.name}" settles nothing: it must say what was decided and by whom')
            continue
        covered = [
            i for i, one in enumerate(found) if one.rule.name == which and _settles(one) and _under(one, section)
        ]
        for index in covered:
            found[index] = found[index]._replace(outcome=MEETS, route=f"decision: {section.name}")
        day = getattr(when, "text", "")
        end = f"settles {which}" if covered else f'settles nothing: no open matter is named "{which}" here'
        told.append(f'decision "{section.name}" by {who}{f" on {day}" if day else ""} {end}: {what}')
    return tuple(found), tuple(told)


def _settles(one: Settled) -> bool:
    return one.outcome == DIFFER or (one.outcome == NOT_SHOWN and one.ask == "confirm")


def _under(one: Settled, section: Subject) -> bool:
    wanted = tuple(same(name) for name in section.address[:-1])
    return tuple(same(name) for name in one.subject.address[: len(wanted)]) == wanted


def _text(section: Subject, fact: str) -> str:
    value = section.get(fact)
    return str(value.value) if isinstance(value, Known) else ""
