"""The specification with what was handed in put in the place of what it calls for, and what that newly breaks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from speclint.kernel.values import Unknown, ValueSet
from speclint.plan.sections import Entry
from speclint.plan.tree import Node, Plan
from speclint.review.report import FAILS, Finding, Question, Report
from speclint.works.called_for import Call


class Change(NamedTuple):
    """A line of the specification and what an item claims of it."""

    call: Call
    claims: Mapping[str, ValueSet]

    @property
    def facts(self) -> frozenset[str]:
        """The facts of the line that the item speaks of, as the line calls them."""
        names = self.call.stands_for or {fact: fact for fact in self.claims}
        return frozenset(fact for fact, theirs in names.items() if not isinstance(self.claims[theirs], Unknown))


def as_submitted(plan: Plan, changes: Iterable[Change]) -> Plan:
    """The plan with every changed line as claimed; what an item leaves out is asked of it and stands as specified."""
    replaced: dict[tuple[int, int], Entry] = {}
    for change in changes:
        mark = (id(change.call.node), id(change.call.entry))
        replaced[mark] = _changed(replaced.get(mark, change.call.entry), change)
    return plan._replace(root=_with(plan.root, replaced))


def newly_broken(before: Report, after: Report) -> tuple[Finding, ...]:
    """The findings of the review as submitted that the specification alone did not bring."""
    old = {finding_mark(one) for one in before.findings}
    return tuple(one for one in after.findings if one.outcome == FAILS and finding_mark(one) not in old)


def newly_open(before: Report, after: Report) -> tuple[Question, ...]:
    """The questions on rules that the specification alone left neither open nor broken."""
    unsettled = {one.rule for one in before.findings} | {rule for one in before.questions for rule in one.frees}
    return tuple(one for one in after.questions if not unsettled.issuperset(one.frees))


def finding_mark(finding: Finding) -> tuple[object, ...]:
    """What tells one finding from another, wherever its line went and however it is worded."""
    return (finding.rule, finding.outcome, finding.section, bool(finding.admits))


def _with(node: Node, replaced: Mapping[tuple[int, int], Entry]) -> Node:
    return node._replace(
        entries=tuple(replaced.get((id(node), id(entry)), entry) for entry in node.entries),
        children=tuple(_with(child, replaced) for child in node.children),
    )


def _changed(entry: Entry, change: Change) -> Entry:
    facts: dict[str, ValueSet] = dict(entry.facts)
    for fact in change.facts:
        facts[fact] = change.claims[change.call.stands_for.get(fact, fact)]
    return entry._replace(facts=facts)
