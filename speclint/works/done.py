"""What the records of a room show as done, and what they plan."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.kernel.values import Between, Known
from speclint.works.dates import Done
from speclint.works.reading import Reader, flag, word
from speclint.works.steps import Step, holds

_NOT_HELD = frozenset({"failed", "not finished", "not accepted"})
Moment = tuple[int, int]


class Records(NamedTuple):
    """Steps that are done, steps with a day they are planned for, and what the records say besides."""

    done: Mapping[str, Done]
    planned: Mapping[str, Moment]
    notes: tuple[str, ...]


def records_of(
    reader: Reader, room: Subject, where: Mapping[str, tuple[Subject, ...]], steps: Mapping[str, Step], today: int
) -> Records:
    """The records of a room and its assemblies by the steps that they show; one dated after ``today`` only plans."""
    done: dict[str, Done] = {}
    planned: dict[str, Moment] = {}
    notes: list[str] = []
    every = room.members("records") or ()
    for name, assemblies in where.items():
        shown_by = steps[name].shown_by
        for record in every if shown_by is not None else ():
            if not _bears(record, room, assemblies) or not holds(shown_by, record):
                continue
            if word(record, "record.result") in _NOT_HELD:
                notes.append(f"{record.name}: {word(record, 'record.result')}, so it is not counted as done")
                continue
            found = _times(reader, record)
            day = moment(record, "record.planned-day")
            if day is not None or flag(record, "record.planned") is True:
                found, day = None, day or (found.begun if found else None)
            elif found is not None and found.begun[0] >= today:
                day, found = found.begun, None
            if found is not None:
                done[name] = _joined(done.get(name), found)
            elif day is not None:
                planned[name] = day
    return Records(done, {name: day for name, day in planned.items() if name not in done}, tuple(dict.fromkeys(notes)))


def moment(record: Subject, fact: str) -> Moment | None:
    """A day or moment of a record as the earliest and the latest second that it may be."""
    value = record.own.get(fact)
    if isinstance(value, Known) and isinstance(value.value, int):
        return value.value, value.value
    if isinstance(value, Between) and value.low is not None and value.high is not None:
        return int(value.low), int(value.high)
    return None


def _bears(record: Subject, room: Subject, assemblies: Iterable[Subject]) -> bool:
    """Whether a record is of the room, or of an assembly that has the step."""
    return record.outer is room or any(record.outer is one for one in assemblies)


def _times(reader: Reader, record: Subject) -> Done | None:
    on = moment(record, "record.on")
    begun = moment(record, "record.from") or on
    ended = moment(record, "record.to") or on
    if ended is None and begun is not None:
        lasted = reader.reach(record, "record.lasted")
        ended = (begun[0] + int(lasted.low), begun[1] + int(lasted.high)) if lasted is not None else None
    begun, ended = begun or ended, ended or begun
    if begun is None or ended is None:
        return None
    return Done(begun, ended, frozenset({record.name}))


def _joined(one: Done | None, other: Done) -> Done:
    """Several records of one step: from the first begun to the last ended."""
    if one is None:
        return other
    begun = (min(one.begun[0], other.begun[0]), min(one.begun[1], other.begun[1]))
    ended = (max(one.ended[0], other.ended[0]), max(one.ended[1], other.ended[1]))
    return Done(begun, ended, one.records | other.records)
