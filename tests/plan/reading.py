"""Short texts as plans and subjects, for tests of meaning."""

from __future__ import annotations

from speclint.facts.build import build_subjects, walk
from speclint.facts.subject import Subject
from speclint.files.plans import plan_of_bytes
from speclint.plan.tree import Plan
from speclint.review.kit import Kit

HEAD = 'plan "Mill Lane"\nroom "bath"\nassembly "walls" in "bath"\n'


def plan_of(text: str, kit: Kit) -> Plan:
    """The plan of a text; lines without a heading stand in assembly "walls" of room "bath"."""
    whole = text if text.startswith("plan") else HEAD + text
    return plan_of_bytes(whole.encode(), "mill.wetspec", kit)


def subject_of(text: str, kit: Kit, kind: str = "assembly", name: str = "") -> Subject:
    """The first subject of a kind in a text that reads whole."""
    plan = plan_of(text, kit)
    assert [str(problem) for problem in plan.problems] == []
    found = [one for one in walk(build_subjects(plan, kit.catalogue)) if one.kind == kind]
    return next(one for one in found if not name or one.name == name)


def problems_of(text: str, kit: Kit) -> list[str]:
    """What of a text could not be read, without the file's name."""
    return [str(problem).removeprefix("mill.wetspec:") for problem in plan_of(text, kit).problems]
