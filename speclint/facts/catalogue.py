"""The catalogue: every fact a rule may read, its dimension, resolution, question, and what a left-out line means."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, NamedTuple

from speclint.kernel.lazy import Lazy
from speclint.kernel.quantity import Units, to_base
from speclint.kernel.values import ASSUMED, NOTHING, TAKEN, Absent, Between, Known, Members, Number, Single
from speclint.plan.vocabulary import Kind, Vocabulary

SHARE = "%"
NAMED = {"word": "word", "words": "words"}


class Source(NamedTuple):
    """How a computed fact is made: the way (``property``, ``function``, ``larger of`` ...) and its operands."""

    way: str
    operands: tuple[str, ...]
    detail: str = ""
    arguments: tuple[tuple[str, str], ...] = ()
    rises: frozenset[str] = frozenset()
    falls: frozenset[str] = frozenset()


class Fact(NamedTuple):
    """One entry of the catalogue.

    ``sort`` is quantity, word, words, flag, text or moment, ``detail`` its dimension or kind of words. Its question
    waits for that of ``waits_for`` while that is not answered, and for that of ``led_by`` while nothing of its line is
    told. ``memo`` keeps what was worked out from the data alone, or from equal arguments. ``choices`` are phrases of
    its line worth trying in place of what a plan says, in order.
    """

    name: str
    sort: str
    detail: str
    step: Number | None
    metric_step: Number | None
    means: str
    left_out: Single
    ask: str
    answers: str
    better: str
    waits_for: str
    led_by: str
    source: Source | None
    step_unit: str
    metric_unit: str
    memo: dict[Any, Any]
    choices: tuple[str, ...] = ()

    @property
    def share_step(self) -> Number | None:
        """The step to which a share is rounded before it is compared, so that a third and 33 % are one."""
        return self.step if self.step_unit == SHARE else None


class View(NamedTuple):
    """A word that names items of a collection: ``membrane`` is the items of ``layers`` whose ``layer.role`` it is."""

    collection: str
    fact: str
    word: str
    left_out: str

    @property
    def prefix(self) -> str:
        """The first part of the names of the items' facts."""
        return self.fact.partition(".")[0]


class Cell(NamedTuple):
    """One coefficient of a table: its value, and its dimension (none for a bare number or a word)."""

    value: Known
    dimension: str


class Catalogue(NamedTuple):
    """All facts, views, tables of coefficients and the vocabulary; ``memo`` keeps what follows from them alone."""

    facts: Mapping[str, Fact]
    views: Mapping[str, View]
    tables: Mapping[str, Cell]
    collections: Mapping[str, str]
    gathered: frozenset[str]
    words: Vocabulary
    memo: dict[Any, Any]

    def find(self, name: str) -> Fact | None:
        """The entry of a fact, or of the item fact that a view of it reads."""
        found = self.facts.get(name)
        if found is not None:
            return found
        head, _, rest = name.partition(".")
        view = self.views.get(head)
        return self.facts.get(f"{view.prefix}.{rest}") if view else None


def load_catalogue(data: Mapping[str, Any], tables: Mapping[str, Any], words: Vocabulary) -> Catalogue:
    """The catalogue from plain data of ``shared/facts``, as ``with_steps`` gives it, and of ``shared/tables``."""
    units = words.units
    return Catalogue(
        facts=Lazy(data, lambda name, entry: _fact(name, entry, units)),
        views=_views(words, data),
        tables=Lazy({name: row for name, row in tables.items() if "value" in row}, lambda name, row: _cell(row, units)),
        collections=words.collections,
        gathered=words.filed,
        words=words,
        memo={},
    )


def quantity(text: str, units: Units) -> Number:
    """``1/64 in`` or ``35 deg`` of a data file as base units; ValueError if it is not a figure and a unit."""
    figure, _, unit = str(text).strip().partition(" ")
    whole, _, part = figure.partition("-") if "/" in figure and not figure.startswith("-") else (figure, "", "")
    number = Fraction(whole) + (Fraction(part) if part else 0)
    found = units.unit(unit.strip())
    if found is None:
        raise ValueError(f'"{text}" has no unit that shared/units.yaml knows')
    return to_base(number, found)


def with_steps(data: Mapping[str, Any], units: Units) -> dict[str, Any]:
    """The facts as plain data, their steps worked out as ``steps``: numerator and denominator in base units."""
    return {
        name: {**entry, "steps": [_ratio(entry.get(key), units) for key in ("step", "metric step")]}
        for name, entry in data.items()
    }


def _ratio(text: Any, units: Units) -> list[int] | None:
    return None if text is None else list(Fraction(quantity(str(text), units)).as_integer_ratio())


def _number(ratio: list[int] | None) -> Number | None:
    if ratio is None:
        return None
    return ratio[0] if ratio[1] == 1 else Fraction(*ratio)


def _fact(name: str, entry: Mapping[str, Any], units: Units) -> Fact:
    sort, _, detail = str(entry["is"]).partition(" ")
    if sort not in NAMED:
        sort, detail = (
            (str(entry["is"]), "") if entry["is"] in ("flag", "text", "moment") else ("quantity", entry["is"])
        )
    step, metric = entry.get("step"), entry.get("metric step")
    return Fact(
        name=name,
        sort=sort,
        detail=detail,
        step=_number(entry["steps"][0]),
        metric_step=_number(entry["steps"][1]),
        means=entry.get("means", ""),
        left_out=_left_out(str(entry.get("left out", "unknown")), sort, detail, units),
        ask=entry.get("ask", ""),
        answers=entry.get("answers", ""),
        better=entry.get("better", "only"),
        waits_for=entry.get("waits for", ""),
        led_by=entry.get("led by", ""),
        source=_source(entry["from"]) if "from" in entry else None,
        step_unit=str(step or "").partition(" ")[2],
        metric_unit=str(metric or "").partition(" ")[2],
        memo={},
        choices=tuple(str(one) for one in entry.get("choices", ())),
    )


def _left_out(text: str, sort: str, detail: str, units: Units) -> Single:
    if text == "absent":
        return Absent(origin=TAKEN)
    if text in ("no", "yes"):
        return Known(text == "yes", origin=TAKEN)
    if text.startswith("assumed "):
        low, _, high = text.removeprefix("assumed ").partition(" to ")
        if not high:
            return _assumed(low, sort, detail, units)
        ends = sorted(
            (quantity(low if " " in low else f"{low} {high.partition(' ')[2]}", units), quantity(high, units))
        )
        return Between(ends[0], ends[1], text=text.removeprefix("assumed ").replace(" per 1", ""), origin=ASSUMED)
    return NOTHING


def _assumed(text: str, sort: str, detail: str, units: Units) -> Single:
    """One assumed value: a figure, or a word where the fact takes words."""
    if sort == "words":
        return Members(frozenset({text}), closed=True, text=text, origin=ASSUMED)
    if sort != "quantity":
        return Known(text, text, origin=ASSUMED)
    return Known(int(text) if detail == "count" else quantity(text, units), text, origin=ASSUMED)


def _source(entry: Mapping[str, Any]) -> Source:
    if "function" in entry:
        takes = tuple((str(name), str(fact)) for name, fact in entry["takes"].items())
        operands = tuple(fact for _, fact in takes if not fact.startswith("table "))
        rises, falls = frozenset(entry.get("rises with", ())), frozenset(entry.get("falls with", ()))
        return Source("function", operands, entry["function"], takes, rises, falls)
    if "property" in entry:
        of = entry["of"]
        return Source("property", (of,) if isinstance(of, str) else tuple(of), entry["property"])
    way, operands = next(iter(entry.items()))
    return Source(way, (operands,) if isinstance(operands, str) else tuple(operands))


def _views(words: Vocabulary, facts: Mapping[str, Any]) -> dict[str, View]:
    found: dict[str, View] = {}
    for collection, fact in words.views:
        kind: Kind = words.kinds[str(facts[fact]["is"]).removeprefix("word ")]
        for word in kind.words.values():
            left_out = str(word.properties.get("left-out", "absent"))
            found[word.name.replace(" ", "-").casefold()] = View(collection, fact, word.name, left_out)
    return found


def _cell(row: Mapping[str, Any], units: Units) -> Cell:
    text, name = str(row["value"]), str(row.get("unit", ""))
    unit = units.unit(name)
    if unit is not None and name:
        return Cell(Known(quantity(f"{text} {name}", units), f"{text} {name}"), unit.dimension)
    try:
        return Cell(Known(Fraction(text), text), "")
    except ValueError:
        return Cell(Known(text, text), "")
