"""Reads the plans that a command is given; what cannot be read is told, and the rest goes on."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.cli.streams import standard_input, tell
from speclint.files.plans import find_plans, load_plan, plan_of_bytes
from speclint.kernel.faults import SpeclintError
from speclint.plan.tree import Plan
from speclint.review.kit import Kit


def plans_of(paths: Sequence[str], stdin_name: str, kit: Kit) -> tuple[tuple[Plan, ...], tuple[tuple[str, str], ...]]:
    """The plans in order, and the files that could not be read with the reason; lines not read are told as well."""
    plans: list[Plan] = []
    found = find_plans([path for path in paths if path != "-"])
    not_read = list(found.not_read)
    if "-" in paths:
        plans.append(plan_of_bytes(standard_input(), stdin_name, kit))
    for path in found.paths:
        try:
            plans.append(load_plan(path, kit))
        except SpeclintError as error:
            not_read.append((path, str(error).removeprefix(f"{path}: ")))
    if not plans and not not_read:
        not_read.append((" ".join(paths), "there is no plan here (no file ends in .wetspec)"))
    for file, why in not_read:
        tell(f"{file}: {why}")
    for plan in plans:
        for problem in plan.problems:
            tell(str(problem))
    return tuple(plans), tuple(not_read)


def code_of(plans: Sequence[Plan], not_read: Sequence[tuple[str, str]]) -> int:
    """The exit code of a command that takes plans as they are: 2 a file was not read, 1 a line was not, else 0."""
    if not_read:
        return 2
    return 1 if any(plan.problems for plan in plans) else 0
