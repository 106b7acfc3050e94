"""The cautions of the shared data: each with a condition that says when it is shown."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from speclint.engine.check import check
from speclint.engine.nodes import ConditionFault
from speclint.engine.syntax import parse
from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import at
from speclint.packs.names import Names


def compile_cautions(rows: Sequence[Any], file: str, names: Names) -> list[dict[str, Any]]:
    """Each caution with its condition checked; raises PackFault with every condition that does not hold together."""
    problems: list[Problem] = []
    made: list[dict[str, Any]] = []
    for row in rows:
        try:
            made.append({**row, "when": check(parse(str(row["when"])), names, {})})
        except ConditionFault as fault:
            problems.append(Problem(at(file, 1), f'caution "{row["name"]}": {fault}'))
    if problems:
        raise PackFault(*problems)
    return made
