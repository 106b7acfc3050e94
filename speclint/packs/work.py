"""The steps of the work and the waits between them: every name held against the data, every condition checked."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from speclint.engine.check import check
from speclint.engine.nodes import ConditionFault
from speclint.engine.syntax import parse
from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import at
from speclint.packs.names import Names

_CONDITIONS = ("there", "shown by", "when", "unless")


def compile_work(data: Mapping[str, Any], file: str, names: Names, tables: Collection[str]) -> dict[str, Any]:
    """Steps and waits with their conditions checked; raises PackFault with all that does not hold together."""
    steps: Mapping[str, Any] = data["steps"]
    rows = [*((f'step "{name}"', row) for name, row in steps.items())]
    rows += [(f'wait of "{row["to"]}" for "{row.get("from", "")}"', row) for row in data["waits"]]
    problems = [f"{where}: {why}" for where, row in rows for why in _wrong(row, steps, names, tables)]
    made: list[dict[str, Any]] = []
    for where, row in rows:
        try:
            made.append({key: _checked(row, key, names) for key in row})
        except ConditionFault as fault:
            problems.append(f"{where}: {fault}")
    if problems:
        raise PackFault(*(Problem(at(file, 1), why) for why in problems))
    return {"steps": dict(zip(steps, made, strict=False)), "waits": made[len(steps) :]}


def _checked(row: Mapping[str, Any], key: str, names: Names) -> Any:
    return check(parse(str(row[key])), names, {}) if key in _CONDITIONS else row[key]


def _wrong(row: Mapping[str, Any], steps: Collection[str], names: Names, tables: Collection[str]) -> Iterator[str]:
    """Every name in one row that names nothing."""
    lasts = row.get("lasts", {})
    lifts = row.get("lifts", {})
    for key in ("from", "to", "along with"):
        if key in row and row[key] not in steps:
            yield f'there is no step "{row[key]}"'
    for table in (one["least"] for one in (row, lasts) if "least" in one):
        if table not in tables:
            yield f'there is no table entry "{table}"'
    for fact in (*row.get("told", ()), *lasts.get("told", ()), *lifts.values()):
        if names.kind_of(fact) is None:
            yield f'there is no fact "{fact}"'
