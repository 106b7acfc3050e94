"""Lines that a project file gives for those a plan leaves out: read as the plan's own, put where it is silent."""

from __future__ import annotations

from collections.abc import Mapping

from speclint.files.project import NAME
from speclint.kernel.faults import PackFault, Problem
from speclint.language.reader import read
from speclint.plan.sections import Entry, read_sections
from speclint.plan.tree import Plan
from speclint.review.kit import Kit

SECTION = "plan"


def read_left_out(lines: Mapping[str, str], kit: Kit) -> tuple[Entry, ...]:
    """The lines of the section ``plan`` that a project file gives; raises PackFault with every one that is not read."""
    if not lines:
        return ()
    text = "".join(f"  {key}: {value}\n" for key, value in lines.items())
    draft = read_sections(read(f'{SECTION} ""\n{text}', NAME, kit.driver), kit.vocabulary)
    rows = [entry for section in draft.sections for entry in section.entries]
    if draft.problems:
        raise PackFault(*(Problem(one.span, f"under left out: {one.message}") for one in draft.problems))
    filed = [entry for entry in rows if any(fact.startswith("include.") for fact in entry.facts)]
    told = {entry.span.line for entry in rows}  # a line may tell several codes, each with its edition
    if len(draft.sections) != 1 or len(told) != len(lines) or filed:
        raise PackFault(Problem((filed or rows)[0].span, "under left out: only lines that a plan may leave out"))
    return tuple(rows)


def with_left_out(plan: Plan, lines: tuple[Entry, ...]) -> Plan:
    """The plan with the lines that it does not write itself."""
    told = {entry.key for entry in plan.root.entries}
    facts = {fact for entry in plan.root.entries for fact in entry.facts}
    added = tuple(one for one in lines if one.key not in told and facts.isdisjoint(one.facts))
    return plan._replace(root=plan.root._replace(entries=(*plan.root.entries, *added))) if added else plan
