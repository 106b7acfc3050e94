"""The sheets of a job's record: which of them are due at a place, and which rules rest on each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from speclint.engine.closures import compile_condition
from speclint.engine.nodes import Node
from speclint.engine.nodes import walk as walk_condition
from speclint.engine.reading import Env
from speclint.facts.build import walk
from speclint.facts.subject import Subject, section_of
from speclint.kernel.values import Absent, Known
from speclint.packs.rule import Rule

RECORD, PAPER = "record", "paper"
_KIND = {RECORD: "record.kind", PAPER: "paper.kind"}
_FILED = {RECORD: "records", PAPER: "papers"}
_ITEM = "paper.item"


class Sheet(NamedTuple):
    """One sheet or paper of the record; ``kinds`` are the kinds of ``sort`` of which any will do."""

    name: str
    title: str
    judges: str
    when: Node
    sort: str
    kinds: tuple[str, ...]
    item: str
    due: str
    by: str
    plan_lines: tuple[str, ...]
    figures: tuple[str, ...]
    lines: Mapping[str, str]
    readings: tuple[str, ...]
    of: tuple[str, ...]
    rows: int
    second_best: str
    caution: str
    signs: tuple[str, ...]


def sheets_of(rows: Mapping[str, Any]) -> tuple[Sheet, ...]:
    """The sheets of a kit, in its order."""
    return tuple(_sheet(name, row) for name, row in rows.items())


def _sheet(name: str, row: Mapping[str, Any]) -> Sheet:
    sort = RECORD if RECORD in row else PAPER
    told, readings = row[sort], row.get("readings", {})
    return Sheet(
        name=name,
        title=row["title"],
        judges=row["judges"],
        when=row["when"],
        sort=sort,
        kinds=(told,) if isinstance(told, str) else tuple(told),
        item=row.get("item", ""),
        due=row["due"],
        by=row["by"],
        plan_lines=tuple(row.get("plan lines", ())),
        figures=tuple(row.get("figures", ())),
        lines=row["lines"],
        readings=tuple(readings.get("facts", ())),
        of=tuple(readings.get("of", ())),
        rows=int(readings.get("rows", 0)),
        second_best=row["second best"],
        caution=row.get("caution", ""),
        signs=tuple(row["signs"]),
    )


class Wanted(NamedTuple):
    """A sheet that is due at a room or assembly."""

    sheet: Sheet
    place: Subject


def due_sheets(root: Subject, rows: Mapping[str, Any]) -> tuple[Wanted, ...]:
    """Every sheet that is due at a place of a plan, in the order of the places."""
    sheets = sheets_of(rows)
    return tuple(Wanted(sheet, one) for one in walk(root) for sheet in sheets if _is_due(sheet, one))


def touches(subject: Subject, place: Subject) -> bool:
    """Whether what a rule judges lies at, within or around a place."""
    home = section_of(subject).address
    shorter = min(len(home), len(place.address))
    return home[:shorter] == place.address[:shorter]


def _is_due(sheet: Sheet, subject: Subject) -> bool:
    """Whether a sheet is wanted for a room or assembly; what the plan leaves open calls for nothing."""
    return subject.kind == sheet.judges and compile_condition(sheet.when)(Env(subject, {})) is True


def on_file(sheet: Sheet, subject: Subject) -> bool:
    """Whether a record or paper of this sheet stands here, within, or further out."""
    return any(_is_it(sheet, one) for one in subject.members(_FILED[sheet.sort]) or ())


def _is_it(sheet: Sheet, filed: Subject) -> bool:
    kind = filed.get(_KIND[sheet.sort])
    if not isinstance(kind, Known) or kind.value not in sheet.kinds:
        return False
    item = filed.get(_ITEM) if sheet.item else Absent()
    return isinstance(item, Absent) or (isinstance(item, Known) and item.value == sheet.item)


def rests_on_sheet(rule: Rule, sheet: Sheet) -> bool:
    """Whether a rule asks for such a record or paper, or names it as what would show it."""
    return (sheet.sort == RECORD and rule.shown_by in sheet.kinds) or asks_for_sheet(rule, sheet)


def asks_for_sheet(rule: Rule, sheet: Sheet) -> bool:
    """Whether the demand of a rule looks for a record or paper of this sheet."""
    return any(word in sheet.kinds for fact, word in _words_of(rule.judgement.demands) if fact == _KIND[sheet.sort])


def _words_of(node: Node) -> Iterator[tuple[str, str]]:
    """Every fact that a condition compares with words, with each of them."""
    for one in walk_condition(node):
        if one[0] == "compare" and one[2][0] == "fact" and one[3][0] == "word":
            yield one[2][1], one[3][1]
        elif one[0] == "one of" and one[1][0] == "fact":
            yield from ((one[1][1], word) for word in one[2])
