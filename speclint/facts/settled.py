"""What a line tells, as rules compare it: shares to the step of their fact, bounds in a record as measured."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from speclint.facts.catalogue import Catalogue
from speclint.kernel.quantity import nearest
from speclint.kernel.values import DEMANDED, MEASURED, Among, Between, Cases, Known, Number, ValueSet
from speclint.plan.sections import Entry

TELLING = ("quantity", "moment")


def settled(facts: Mapping[str, ValueSet], catalogue: Catalogue, measured: bool = False) -> Mapping[str, ValueSet]:
    """The facts of a line with shares rounded to their step; ``measured``: no bound is a demand."""
    changed: dict[str, ValueSet] = {}
    for fact, value in facts.items():
        found = _as_measured(value) if measured else value
        step = catalogue.facts[fact].share_step if catalogue.words.shapes[fact].detail == "ratio" else None
        if step is not None:
            found = _rounded(found, step)
        if found is not value:
            changed[fact] = found
    return {**facts, **changed} if changed else facts


def is_made(entries: Iterable[Entry], catalogue: Catalogue) -> bool:
    """Whether a record tells a reading, a day or a result, and does not only order a test by what it demands."""
    return any(
        shape.sort in TELLING or shape.detail == "result"
        for entry in entries
        for fact, value in entry.facts.items()
        if isinstance(value, Known) or value.origin == MEASURED
        for shape in (catalogue.words.shapes[fact],)
    )


def _as_measured(value: ValueSet) -> ValueSet:
    if isinstance(value, (Between, Among)) and value.origin == DEMANDED:
        return value._replace(origin=MEASURED)
    return value


def _rounded(value: ValueSet, step: Number) -> ValueSet:
    if isinstance(value, Known) and not isinstance(value.value, str):
        return value._replace(value=nearest(value.value, step))
    if isinstance(value, Between):
        ends = (None if end is None else nearest(end, step) for end in (value.low, value.high, value.number))
        low, high, number = ends
        return value._replace(low=low, high=high, number=number)
    if isinstance(value, Cases):
        return value._replace(members=tuple(_rounded(one, step) for one in value.members))
    return value
