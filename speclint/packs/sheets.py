"""The sheets of a job's record: each with a condition that says where it is due, held against words, keys and facts."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any, NamedTuple

from speclint.engine.check import check
from speclint.engine.nodes import ConditionFault
from speclint.engine.syntax import parse
from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import at
from speclint.packs.names import Names

_KINDS = (("record", "record kind"), ("paper", "paper kind"), ("item", "item kind"), ("due", "stage"), ("by", "role"),
          ("signs", "role"))  # fmt: skip


class Known(NamedTuple):
    """What a sheet may name besides words and facts: keys of the plan, and cautions."""

    keys: Collection[str]
    cautions: Collection[str]


def compile_sheets(rows: Mapping[str, Any], file: str, names: Names, known: Known) -> dict[str, dict[str, Any]]:
    """Every sheet by its name, its condition checked; raises PackFault with all that names nothing."""
    problems: list[Problem] = []
    made: dict[str, dict[str, Any]] = {}
    for name, row in rows.items():
        problems.extend(Problem(at(file, 1), f'sheet "{name}": {why}') for why in _unknown(row, names, known))
        try:
            made[name] = {**row, "when": check(parse(str(row["when"])), names, {})}
        except ConditionFault as fault:
            problems.append(Problem(at(file, 1), f'sheet "{name}": {fault}'))
    if problems:
        raise PackFault(*problems)
    return made


def _unknown(row: Mapping[str, Any], names: Names, known: Known) -> Iterator[str]:
    for field, kind in _KINDS:
        for word in _listed(row.get(field)):
            if word not in names.words(kind):
                yield f'there is no {kind} "{word}"'
    for key in (*row.get("lines", {}), *row.get("plan lines", ())):
        if key not in known.keys:
            yield f'there is no key "{key}"'
    for fact in (*row.get("figures", ()), *row.get("readings", {}).get("facts", ())):
        if names.kind_of(fact) is None:
            yield f'there is no fact "{fact}"'
    for word in row.get("readings", {}).get("of", ()):
        if word not in names.words("reading thing"):
            yield f'there is no reading thing "{word}"'
    if "caution" in row and row["caution"] not in known.cautions:
        yield f'there is no caution "{row["caution"]}"'
    if ("record" in row) == ("paper" in row):
        yield "it is either of a record or of a paper"


def _listed(told: Any) -> tuple[str, ...]:
    return () if told is None else (told,) if isinstance(told, str) else tuple(told)
