"""The order of work of a room with dates: what waits for what, what is done, and what stands against the order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.works.clashes import Clash, clashes
from speclint.works.dates import Dated, Done, Link, Task, dated, with_earlier
from speclint.works.done import Records, records_of
from speclint.works.reading import Reader
from speclint.works.steps import Step, Wait, Work, holds
from speclint.works.waits import OPEN, Ask, Length, length_of
from speclint.works.workdays import DAY, Week

TO_DO, DONE, BEFORE, PLANNED = "to do", "done", "done before", "planned"
_LONGEST = 366
"""Working days: a step that takes longer was misread."""


class Stage(NamedTuple):
    """One step of a room: where, from when to when, whether that is sure, and how it stands.

    ``late`` counts working days behind the start that was given (below nothing: early). ``after`` is all that it waits
    for, ``held_by`` what of it is over last or is not told. ``where`` is empty where the whole room has the step.
    """

    step: Step
    where: tuple[str, ...]
    begins: int
    ends: int
    sure: bool
    state: str
    late: int
    after: tuple[tuple[Step, Length], ...]
    held_by: tuple[tuple[Step, Length], ...]
    task: Task
    too_soon: tuple[Clash, ...]


class Sequence(NamedTuple):
    """The steps of one room in the order of their dates, and what is asked before the dates are sure."""

    plan: str
    room: str
    stages: tuple[Stage, ...]
    asks: tuple[Ask, ...]
    notes: tuple[str, ...]

    @property
    def against(self) -> bool:
        """Whether a record stands against the order."""
        return any(stage.too_soon for stage in self.stages)


class Calendar(NamedTuple):
    """The working week, the first moment, whether it was given, the end of the day of the run, working days by step."""

    week: Week
    start: int
    given: bool
    now_ends: int
    takes: Mapping[str, int]


def sequence_of(reader: Reader, plan: str, room: Subject, work: Work, calendar: Calendar) -> Sequence:
    """The order of work of one room."""
    where, asks = _there(work, room)
    tasks = {name: _task(reader, work.steps[name], each, calendar) for name, each in where.items()}
    links = tuple(_links(reader, work, where))
    records = records_of(reader, room, where, work.steps, calendar.now_ends)
    starts = dict.fromkeys(tasks, calendar.start)
    plain = dated(tasks, links, calendar.week, starts, {})
    appointed = {name: max(calendar.start, day[0]) for name, day in records.planned.items()}
    done = with_earlier(records.done, links)
    found = dated(tasks, links, calendar.week, starts | appointed, done)
    stages: list[Stage] = []
    for name, one in found.items():
        too_soon, unclear = clashes(name, links, records, found, work.steps)
        asks.extend(unclear)
        known = name not in done or name in records.done
        behind = calendar.week.between(plain[name].begins // DAY, one.begins // DAY)
        stages.append(
            Stage(
                step=work.steps[name],
                where=_names(where[name], room),
                begins=one.begins,
                ends=one.ends,
                sure=one.sure,
                state=_state(name, records, done),
                late=behind if calendar.given and records.done and known else 0,
                after=tuple((work.steps[link.first], link.wait) for link in one.held_by if link.first),
                held_by=_held_by(one, work.steps),
                task=tasks[name],
                too_soon=too_soon,
            )
        )
    asks.extend(ask for link in links if link.to not in done for ask in link.wait.asks)
    stages.sort(key=lambda stage: stage.begins)
    notes = (*records.notes, *_notes(reader, room))
    return Sequence(plan, room.name, tuple(stages), tuple(dict.fromkeys(asks)), notes)


def _state(name: str, records: Records, done: Mapping[str, Done]) -> str:
    if name in done:
        return DONE if name in records.done else BEFORE
    return PLANNED if name in records.planned else TO_DO


def _names(assemblies: tuple[Subject, ...], room: Subject) -> tuple[str, ...]:
    """The assemblies that have a step; none where all of the room have it."""
    every = room.collections.get("assemblies", ())
    return tuple(assembly.name for assembly in assemblies) if len(assemblies) < len(every) else ()


def _held_by(one: Dated, steps: Mapping[str, Step]) -> tuple[tuple[Step, Length], ...]:
    """The wait that is over last, if it takes time, and every wait that nobody told."""
    held = [link for link in one.held_by if link.wait.by == OPEN or (link is one.last and link.wait.seconds)]
    return tuple((steps[link.first], link.wait) for link in held if link.first)


def _there(work: Work, room: Subject) -> tuple[dict[str, tuple[Subject, ...]], list[Ask]]:
    """The assemblies that have each step; a step of which that is not known is asked about."""
    where: dict[str, tuple[Subject, ...]] = {}
    asks: list[Ask] = []
    for name, step in work.steps.items():
        answers = [(one, holds(step.there, one)) for one in room.collections.get("assemblies", ())]
        found = tuple(one for one, answer in answers if answer)
        if found:
            where[name] = found
        asks.extend(
            Ask(f"Is there this step in {one.name}: {step.does}?", "designer")
            for one, answer in answers
            if answer is None and step.days
        )
    return where, asks


def _task(reader: Reader, step: Step, assemblies: tuple[Subject, ...], calendar: Calendar) -> Task:
    days = calendar.takes.get(step.name) or max(_days(reader, step, one) for one in assemblies)
    return Task(days, length_of(reader, step.lasts, assemblies), step.any_day, step.along)


def _days(reader: Reader, step: Step, assembly: Subject) -> int:
    """Working days of a step: one for each lift where it is worked up in lifts."""
    if step.lifts is None:
        return step.days
    of, by = (reader.reach(assembly, fact) for fact in step.lifts)
    if of is None or by is None or by.low <= 0:
        return step.days
    return min(_LONGEST, max(step.days, -int(-Fraction(of.high / by.low) // 1)))


def _links(reader: Reader, work: Work, where: Mapping[str, tuple[Subject, ...]]) -> Iterator[Link]:
    """The waits that count in a room: between steps of one assembly, or across."""
    for wait in work.waits:
        if wait.to not in where or (wait.first and wait.first not in where):
            continue
        first, to = where.get(wait.first, where[wait.to]), where[wait.to]
        if wait.across:
            counted = first if _counts(wait, tuple(dict.fromkeys((*first, *to)))) else ()
        else:
            counted = tuple(one for one in first if one in to and _counts(wait, (one,)))
        if counted:
            yield Link(wait.first, wait.to, length_of(reader, wait.span, counted))


def _counts(wait: Wait, assemblies: tuple[Subject, ...]) -> bool:
    """Whether a wait counts for some assemblies together: where one calls for it, and none takes it away."""
    freed = wait.unless is not None and any(holds(wait.unless, one) for one in assemblies)
    return not freed and any(holds(wait.when, one) for one in assemblies)


def _notes(reader: Reader, room: Subject) -> Iterator[str]:
    assemblies = room.collections.get("assemblies", ())
    many = reader.reach(room, "room.count")
    if not assemblies:
        yield "no assembly, so there is no work to put in order"
    elif not any(one.stated("ambient.temperature") for one in assemblies):
        yield "no temperature is told: the waits are those of 20 C (68 F), and longer in the cold"
    if many is not None and many.low > 1:
        yield f"{int(many.low)} equal rooms: these are the dates of the first"
