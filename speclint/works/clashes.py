"""What stands against the recorded or planned day of a step, and what only the hours could show."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from speclint.works.dates import Dated, Done, Link
from speclint.works.done import Records
from speclint.works.steps import Step
from speclint.works.waits import Ask, Length


class Clash(NamedTuple):
    """A step stands too soon after another: its wait, and the first moment at which it would not."""

    after: str
    wait: Length
    until: int


def clashes(
    name: str, links: Iterable[Link], records: Records, found: Mapping[str, Dated], steps: Mapping[str, Step]
) -> tuple[tuple[Clash, ...], tuple[Ask, ...]]:
    """What a step stands too soon after, as far as its records show; and the hours that are asked for.

    That a record is missing is for the review to say: a step that is done is held against recorded steps only.
    """
    done = records.done.get(name)
    begun = done.begun if done is not None else records.planned.get(name)
    against: list[Clash] = []
    asks: list[Ask] = []
    for link in links if begun is not None else ():
        first = records.done.get(link.first)
        if link.to != name or not link.first or _together(done, first) or (done is not None and first is None):
            continue
        ended = first.ended if first is not None else (found[link.first].ends,) * 2
        assert begun is not None
        if begun[1] < ended[0] + link.wait.seconds:
            against.append(Clash(steps[link.first].does, link.wait, ended[0] + link.wait.seconds))
        elif begun[0] < ended[1] + link.wait.seconds and link.wait.seconds:
            asks.append(
                Ask(
                    f"At which hour did this end: {steps[link.first].does}? And this begin: {steps[name].does}?",
                    "setter",
                )
            )
    return tuple(against), tuple(asks)


def _together(one: Done | None, other: Done | None) -> bool:
    """Whether one record shows both steps."""
    return one is not None and other is not None and bool(one.records & other.records)
