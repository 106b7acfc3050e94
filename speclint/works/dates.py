"""Dates for steps that wait for one another: each as early as working days and waits allow, or as it was recorded."""

from __future__ import annotations

from collections.abc import Mapping
from graphlib import TopologicalSorter
from typing import NamedTuple

from speclint.works.waits import Length
from speclint.works.workdays import DAY, Week


class Task(NamedTuple):
    """One step in a room: ``days`` of work, what it ``lasts`` by itself, any day or not, the step it goes with."""

    days: int
    lasts: Length
    any_day: bool
    along: str


class Link(NamedTuple):
    """A step waits for another, by how much."""

    first: str
    to: str
    wait: Length


class Done(NamedTuple):
    """When a step was begun and ended by its records: each the earliest and the latest that they allow.

    Without a record of its own it is done by the day on which a later step was.
    """

    begun: tuple[int, int]
    ended: tuple[int, int]
    records: frozenset[str]


class Dated(NamedTuple):
    """A step with its dates; ``sure`` unless some wait before it is not known; ``held_by`` is what it waits for.

    ``last`` is what of it is over last.
    """

    begins: int
    ends: int
    sure: bool
    held_by: tuple[Link, ...]
    last: Link | None = None


def with_earlier(done: Mapping[str, Done], links: tuple[Link, ...]) -> dict[str, Done]:
    """What is done, with every step that what is done had to wait for."""
    found = dict(done)
    waiting = sorted(found, key=lambda name: found[name].begun)
    while waiting:
        name = waiting.pop(0)
        by = found[name].begun
        for link in links:
            if link.to == name and link.first and link.first not in found:
                found[link.first] = Done(by, by, frozenset())
                waiting.append(link.first)
    return found


def in_order(names: tuple[str, ...], links: tuple[Link, ...]) -> tuple[str, ...]:
    """The steps so that each stands after all it waits for."""
    graph: dict[str, list[str]] = {name: [] for name in names}
    for link in links:
        if link.first:
            graph[link.to].append(link.first)
    return tuple(TopologicalSorter(graph).static_order())


def dated(
    tasks: Mapping[str, Task], links: tuple[Link, ...], week: Week, starts: Mapping[str, int], done: Mapping[str, Done]
) -> dict[str, Dated]:
    """Every step with its dates, in order: none before its start, and what is done where it was done."""
    found: dict[str, Dated] = {}
    for name in in_order(tuple(tasks), links):
        before = tuple(link for link in links if link.to == name)
        if name in done:
            found[name] = _recorded(done[name], before, week)
        else:
            found[name] = _planned(tasks[name], before, week, starts[name], found)
    return found


def _recorded(done: Done, before: tuple[Link, ...], week: Week) -> Dated:
    """A step as recorded; of a day without an hour, the work ends when the working day closes."""
    ends = done.ended[1]
    if done.ended[0] < ends:
        ends = max(done.ended[0], ends // DAY * DAY + week.closes)
    return Dated(done.begun[0], ends, True, before)


def _planned(task: Task, before: tuple[Link, ...], week: Week, start: int, found: Mapping[str, Dated]) -> Dated:
    over = {link: (found[link.first].ends if link.first else start) + link.wait.seconds for link in before}
    ready = max([start, *over.values()])
    last = next((link for link, end in over.items() if end == ready), None)
    sure = task.lasts.sure and all(link.wait.sure and (not link.first or found[link.first].sure) for link in before)
    if task.along:
        begins, ends = found[task.along].begins, found[task.along].ends
    elif task.days:
        begins = week.opening(ready)
        ends = week.closing(begins, task.days)
    else:
        begins = ready if task.any_day else week.within(ready)
        ends = begins + task.lasts.seconds
    return Dated(begins, ends, sure, before, last)
