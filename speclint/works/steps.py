"""The steps of the work and the waits between them, as the shared data tells them, ready to be asked of a room."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from speclint.engine.closures import compile_condition
from speclint.engine.reading import Condition, Env
from speclint.facts.subject import Subject


class Span(NamedTuple):
    """How long something takes by itself: the facts that tell it, the table entry of the least, what is asked."""

    told: tuple[str, ...]
    least: str
    cold: bool = False
    ask: str = ""
    answers: str = ""

    @property
    def none(self) -> bool:
        """Whether there is nothing to wait for."""
        return not (self.told or self.least or self.ask)


class Step(NamedTuple):
    """One step: ``days`` of work (0: a moment), ``lasts`` by itself, ``lifts`` the facts of height and daily lift.

    ``along`` names the step whose days are its days too.
    """

    name: str
    does: str
    there: Condition
    days: int
    lasts: Span
    lifts: tuple[str, str] | None
    any_day: bool
    along: str
    shown_by: Condition | None


class Wait(NamedTuple):
    """What step ``to`` waits for: ``first`` is nothing where it is asked before any step."""

    first: str
    to: str
    span: Span
    across: bool
    when: Condition | None
    unless: Condition | None


class Work(NamedTuple):
    """All steps in the order in which they are told, and all waits."""

    steps: Mapping[str, Step]
    waits: tuple[Wait, ...]


def work_of(data: Mapping[str, Any]) -> Work:
    """The steps and waits of the shared data."""
    steps = {name: _step(name, row) for name, row in data["steps"].items()}
    return Work(steps, tuple(_wait(row) for row in data["waits"]))


def holds(condition: Condition | None, subject: Subject) -> bool | None:
    """Whether a condition holds of a subject; None where that is not known; it holds where there is none."""
    return True if condition is None else condition(Env(subject, {}))


def _step(name: str, row: Mapping[str, Any]) -> Step:
    lifts = row.get("lifts")
    return Step(
        name=name,
        does=row["does"],
        there=compile_condition(row["there"]),
        days=row["days"],
        lasts=_span(row.get("lasts", {})),
        lifts=(lifts["of"], lifts["by"]) if lifts else None,
        any_day="on any day" in row,
        along=row.get("along with", ""),
        shown_by=_condition(row, "shown by"),
    )


def _wait(row: Mapping[str, Any]) -> Wait:
    return Wait(
        first=row.get("from", ""),
        to=row["to"],
        span=_span(row),
        across="across" in row,
        when=_condition(row, "when"),
        unless=_condition(row, "unless"),
    )


def _span(row: Mapping[str, Any]) -> Span:
    return Span(
        told=tuple(row.get("told", ())),
        least=row.get("least", ""),
        cold="stretches in the cold" in row,
        ask=row.get("ask", ""),
        answers=row.get("answers", ""),
    )


def _condition(row: Mapping[str, Any], key: str) -> Condition | None:
    return compile_condition(row[key]) if key in row else None
