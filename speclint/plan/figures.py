"""Reads figures with their units: bounds, ranges, feet and inches, ratios, and units carried left in ``12 x 24 in``."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

from speclint.kernel.quantity import Unit, to_base
from speclint.kernel.values import ASSUMED, DEMANDED, Between, Known, Number, Single
from speclint.language.lexer import Token
from speclint.plan.row import Row, figure_of, pair_of
from speclint.plan.spelling import longest
from speclint.plan.vocabulary import Vocabulary


class Figure(NamedTuple):
    """One exact figure in base units, where it ends, and the unit it was written in."""

    base: Number
    end: int
    unit: Unit | None = None


class Hint(NamedTuple):
    """Why a figure at a place could not be taken, for the message."""

    position: int
    message: str


PLAIN = Unit("", "ratio", Fraction(1))
Note = Callable[[Hint], None]


def read_quantity(row: Row, start: int, dimension: str, words: Vocabulary, note: Note) -> tuple[Single, int] | None:
    """A figure, an open bound or a range of one dimension, and where it ends; None if none stands there."""
    bound = longest(words.bounds, row.norms, start)
    at = bound[1] if bound else start
    first = _figure(row, at, dimension, words, note)
    if first is None:
        return None
    end = first.end
    text, span = row.words(start, end), row.span(start, end)
    if bound:
        step = to_base(_last_step(row.tokens[at].text), (first.unit or PLAIN)._replace(offset=Fraction(0)))
        return _bounded(bound[0], first.base, step, text)._replace(span=span), end
    if end < len(row.norms) and row.norms[end] == "to":
        second = _figure(row, end + 1, dimension, words, note)
        if second is not None:
            low, high = sorted((first.base, second.base))
            text, span = row.words(start, second.end), row.span(start, second.end)
            return Between(low, high, text=text, span=span, origin=DEMANDED), second.end
    return Known(first.base, text, span), end


def _bounded(sort: str, base: Number, step: Number, text: str) -> Between:
    if sort in ("from", "above"):
        return Between(base, None, low_open=sort == "above", text=text, number=base if sort == "from" else None)
    if sort in ("up to", "below"):
        return Between(None, base, high_open=sort == "below", text=text, number=base if sort == "up to" else None)
    return Between(base - step, base + step, text=text, origin=ASSUMED)


def _figure(row: Row, at: int, dimension: str, words: Vocabulary, note: Note) -> Figure | None:
    tokens = row.tokens
    if at >= len(tokens) or tokens[at].kind != "number":
        return None
    if dimension == "count":
        return _count(row, at, words)
    if dimension == "ratio":
        ratio = _ratio(row, at)
        if ratio is not None:
            return ratio
    unit, end = _unit(row, at + 1, dimension, words)
    if unit is None:
        carried = _carried(row, at + 1, dimension, words)
        if carried is None:
            above, below = pair_of(tokens[at])
            if dimension == "ratio" and (above < below or below > 1) and not _starts_unit(row, at + 1, words):
                return Figure(figure_of(tokens[at]), at + 1)
            note(Hint(at, _no_unit(tokens[at].text, dimension, words)))
            return None
        unit, end = carried, at + 1
    base = _in_base(tokens[at], unit)
    if unit.name == "ft" and end < len(tokens) and tokens[end].kind == "number":
        inches, after = _unit(row, end + 1, dimension, words)
        if inches is not None and inches.name == "in":
            base, end = base + _in_base(tokens[end], inches), after
    return Figure(base, end, unit)


def _no_unit(text: str, dimension: str, words: Vocabulary) -> str:
    found = words.units.dimensions.get(dimension)
    ways = " or ".join(f"{text} {unit.name}" for unit in found.units[:1]) if found else ""
    return f"{text} has no unit: write, for example, {ways}"


def _in_base(token: Token, unit: Unit) -> Number:
    """Base units by whole numbers where they suffice, which is the common case and far faster than fractions."""
    above, below = pair_of(token)
    if unit.offset:
        return to_base(Fraction(above, below), unit)
    size = unit.size
    top, bottom = above * size.numerator, below * size.denominator
    base, rest = divmod(top, bottom)
    return Fraction(top, bottom) if rest else base


def _unit(row: Row, at: int, dimension: str, words: Vocabulary) -> tuple[Unit | None, int]:
    rows = words.unit_spellings.get(row.norms[at], ()) if at < len(row.norms) else ()
    for spelling, name in rows:
        end = at + len(spelling)
        unit = words.units.spellings[name]
        if unit.dimension == dimension and row.norms[at:end] == spelling:
            return unit, end
    return None, at


def _carried(row: Row, at: int, dimension: str, words: Vocabulary) -> Unit | None:
    """The unit of a later figure in ``12 x 24 in`` or ``1/8 to 3/16 in``."""
    while at + 1 < len(row.norms) and row.norms[at] in ("x", "to") and row.tokens[at + 1].kind == "number":
        unit, _ = _unit(row, at + 2, dimension, words)
        if unit is not None:
            return unit
        at += 2
    return None


def _count(row: Row, at: int, words: Vocabulary) -> Figure | None:
    above, below = pair_of(row.tokens[at])
    if below != 1:
        return None
    unit, end = _unit(row, at + 1, "count", words)
    if unit is None and _starts_unit(row, at + 1, words):
        return None
    return Figure(above, end if unit else at + 1)


def _starts_unit(row: Row, at: int, words: Vocabulary) -> bool:
    return at < len(row.norms) and row.norms[at] in words.unit_spellings


def _ratio(row: Row, at: int) -> Figure | None:
    """``1:80`` as one in eighty."""
    if at + 2 < len(row.tokens) and row.norms[at + 1] == ":" and row.tokens[at + 2].kind == "number":
        other = figure_of(row.tokens[at + 2])
        return Figure(figure_of(row.tokens[at]) / other, at + 3) if other else None
    return None


def _last_step(text: str) -> Fraction:
    """One step of the last written place: 1/8 for ``3/8``, 0.1 for ``2.5``, 1 for ``2``."""
    if "/" in text:
        below = text.rsplit("/", 1)[1]
        return Fraction(1, int(below)) if below.isdigit() and int(below) else Fraction(1)
    return Fraction(1, 10 ** len(text.partition(".")[2]))
