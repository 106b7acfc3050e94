"""The bridge from value sets to the computations: exact base units to SI figures and back, ranges by their corners."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache
from importlib import import_module
from typing import Any

from speclint.facts.catalogue import Catalogue, Fact
from speclint.kernel.faults import OutOfRange
from speclint.kernel.quantity import nearest
from speclint.kernel.values import ASSUMED, NOTHING, Absent, Between, Known, Single, Unknown

REMEMBERED = 4096  # results that one computed fact keeps
TABLE = "table "


def function_of(catalogue: Catalogue, fact: Fact, values: list[Single]) -> Single:
    """The result of a fact's computation over its operands.

    A range is taken at its two corners, in the arguments that the catalogue calls monotone; in any other it leaves the
    result unknown. A value outside the computation's validity leaves it unknown too, with the reason as its text.
    """
    source = fact.source
    assert source is not None
    given = dict(zip(source.operands, values, strict=True))
    taken: list[tuple[str, str, Any, Any]] = []
    for argument, operand in source.arguments:
        if operand.startswith(TABLE):
            continue
        value = given[operand]
        if isinstance(value, Absent):
            return Absent()
        ends = _ends(value)
        if ends is None or (ends[0] != ends[1] and argument not in source.rises | source.falls):
            return Unknown()
        first, last = (ends[1], ends[0]) if argument in source.falls else ends
        taken.append((argument, operand, first, last))
    mark = tuple(end for one in taken for end in one[2:])
    result = fact.memo.get(mark)
    if result is None:
        if len(fact.memo) > REMEMBERED:
            fact.memo.clear()
        result = fact.memo[mark] = _called(catalogue, fact, taken)
    assert isinstance(result, (Known, Between, Unknown))
    return result


def _called(catalogue: Catalogue, fact: Fact, taken: list[tuple[str, str, Any, Any]]) -> Single:
    """The computation done: for each argument its name, the fact, and the value at the low and the high corner."""
    source = fact.source
    assert source is not None
    cells = {name: operand.removeprefix(TABLE) for name, operand in source.arguments if operand.startswith(TABLE)}
    low = {name: _cell(catalogue, table) for name, table in cells.items()}
    high = dict(low)
    for argument, operand, first, last in taken:
        entry = catalogue.find(operand)
        dimension = entry.detail if entry is not None and entry.sort == "quantity" else ""
        low[argument], high[argument] = _si(catalogue, dimension, first), _si(catalogue, dimension, last)
    function = function_named(source.detail)
    try:
        result = function(**low)
        return _result(catalogue, fact, result, result if low == high else function(**high))
    except OutOfRange as fault:
        return Unknown(str(fault), origin="out of range")


def _cell(catalogue: Catalogue, table: str) -> Any:
    """A coefficient of a table in its SI unit."""
    cell = catalogue.tables[table]
    return _si(catalogue, cell.dimension, cell.value.value)


def _ends(value: Single) -> tuple[Any, Any] | None:
    if isinstance(value, Known):
        return value.value, value.value
    if isinstance(value, Between) and value.low is not None and value.high is not None:
        return value.low, value.high
    return None


def _si(catalogue: Catalogue, dimension: str, value: Any) -> Any:
    if isinstance(value, (str, bool)):
        return value
    found = catalogue.words.units.dimensions.get(dimension)
    return float(value / found.si) if found else float(value)


def _result(catalogue: Catalogue, fact: Fact, low: Any, high: Any) -> Single:
    if isinstance(low, (str, bool)):
        return Known(low) if low == high else NOTHING
    found = catalogue.words.units.dimensions.get(fact.detail)
    scale = found.si if found else Fraction(1)
    step = fact.step or Fraction(1, 10**6)
    ends = sorted(nearest(Fraction(end) * scale, step) for end in (low, high))
    return Known(ends[0]) if ends[0] == ends[1] else Between(ends[0], ends[1], origin=ASSUMED)


@cache
def function_named(name: str) -> Callable[..., Any]:
    """The computation that the catalogue calls by module and name, as ``trowel.bed_from_notch``."""
    module, _, function = name.partition(".")
    found: Callable[..., Any] = getattr(import_module(f"speclint.calc.{module}"), function)
    return found
