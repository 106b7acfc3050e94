"""A small world of shelves and brackets, neutral on purpose: a catalogue and subjects for the tests of the engine."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction

from speclint.engine.catalogue import FactKind
from speclint.engine.check import check, read_limit
from speclint.engine.nodes import Node
from speclint.engine.outcomes import Judgement, Variant
from speclint.engine.syntax import parse
from speclint.kernel.quantity import Dimension, Unit, Units
from speclint.kernel.values import NOTHING, STATED, Cases, Known, ValueSet

# Sizes by definition of the international inch and pound (1959 agreement): 1 in = 25.4 mm, 1 lb = 0.45359237 kg.
_SI = {
    "length": 10_000_000_000, "area": 1_000_000, "ratio": 1, "time": 1, "mass": 1000, "temperature": 1000,
    "count": 1, "mass per area": 1000, "volume": 1_000_000_000,
}  # fmt: skip
_SIZES = {
    "in": ("length", Fraction(254, 10000)), "ft": ("length", Fraction(3048, 10000)),
    "mm": ("length", Fraction(1, 1000)), "m": ("length", Fraction(1)),
    "sq ft": ("area", Fraction(3048, 10000) ** 2), "m2": ("area", Fraction(1)),
    "%": ("ratio", Fraction(1, 100)), "in per ft": ("ratio", Fraction(1, 12)),
    "s": ("time", Fraction(1)), "h": ("time", Fraction(3600)), "day": ("time", Fraction(86400)),
    "lb": ("mass", Fraction(45359237, 100000000)), "kg": ("mass", Fraction(1)),
    "lb per sq ft": ("mass per area", Fraction(45359237, 100000000) / Fraction(3048, 10000) ** 2),
    "kg per m2": ("mass per area", Fraction(1)), "m3": ("volume", Fraction(1)),
    "F": ("temperature", Fraction(5, 9)), "C": ("temperature", Fraction(1)),
    "pieces": ("count", Fraction(1)),
}  # fmt: skip


def _units() -> Units:
    spellings = {}
    for name, (dimension, size) in _SIZES.items():
        offset = Fraction(-32) if name == "F" else Fraction(0)
        spellings[name] = Unit(name, dimension, size * _SI[dimension], offset)
    dimensions = {
        name: Dimension(name, Fraction(si), tuple(unit for unit in spellings.values() if unit.dimension == name))
        for name, si in _SI.items()
    }
    return Units(dimensions, spellings)


UNITS = _units()
INCH = 254_000_000  # base units of length, 0.1 nm, in an inch
STEP = INCH // 64

KINDS = {
    "shelf.width": FactKind("quantity", "length", STEP), "shelf.deep": FactKind("quantity", "length", STEP),
    "shelf.area": FactKind("quantity", "area"), "shelf.load": FactKind("quantity", "mass", 1000),
    "shelf.load-per-area": FactKind("quantity", "mass per area"), "shelf.fall": FactKind("quantity", "ratio"),
    "shelf.wood": FactKind("word", "wood"), "shelf.painted": FactKind("flag"), "shelf.marks": FactKind("words", "mark"),
    "shelf.label": FactKind("text"), "shelf.hung": FactKind("moment"), "shelf.loaded": FactKind("moment"),
    "shelf.warm": FactKind("quantity", "temperature", 100), "shelf.pieces": FactKind("quantity", "count", 1),
    "bracket.kind": FactKind("word", "bracket"), "bracket.reach": FactKind("quantity", "length", STEP),
    "bracket.strength": FactKind("word", "strength"), "bracket.needed": FactKind("word", "strength"),
    "bracket.steel": FactKind("flag"), "shelf.bracket-kinds": FactKind("words", "bracket"),
}  # fmt: skip
WORDS: Mapping[str, Mapping[str, Sequence[str]]] = {
    "wood": {"oak": ["oaken"], "ash": [], "spruce": ["whitewood"], "hardwood": []},
    "bracket": {"angle": [], "gusset": [], "gallows bracket": ["gallows"]},
    "strength": {"light": [], "middling": [], "heavy": []},
    "mark": {"dry": [], "indoor": [], "fire": []},
}


class Shop:
    """The catalogue of the shelving world."""

    units = UNITS

    def kind_of(self, fact: str) -> FactKind | None:
        return KINDS.get(fact)

    def facts(self) -> Collection[str]:
        return KINDS

    def collections(self) -> Collection[str]:
        return ("brackets", "wall plugs")

    def word(self, kind: str, text: str) -> str | None:
        names = {alias: word for word, aliases in WORDS[kind].items() for alias in (word, *aliases)}
        return names.get(text.casefold())

    def words(self, kind: str) -> Collection[str]:
        return WORDS[kind]

    def order(self, kind: str) -> Sequence[str]:
        return tuple(WORDS[kind]) if kind == "strength" else ()

    def family(self, kind: str, word: str) -> Sequence[str]:
        return ("oak", "ash") if word == "hardwood" else ()

    def relations(self, kind: str) -> Mapping[str, tuple[Collection[str], Collection[str]]]:
        if kind != "bracket":
            return {}
        return {"gusset": (("angle",), ()), "angle": ((), ("gusset",))}


SHOP = Shop()


class Thing:
    """A subject that falls outwards, with facts given as value sets and roots as told."""

    def __init__(
        self,
        facts: Mapping[str, ValueSet] | None = None,
        *,
        name: str = "a shelf",
        outer: Thing | None = None,
        parts: Mapping[str, Sequence[Thing] | None] | None = None,
        from_: Mapping[str, Sequence[str]] | None = None,
    ) -> None:
        self.kind = "shelf"
        self.address: tuple[str, ...] = (name,) if outer is None else (*outer.address, name)
        self.facts = dict(facts or {})
        self.outer = outer
        self.parts = {key: None if each is None else tuple(each) for key, each in (parts or {}).items()}
        self.from_ = dict(from_ or {})
        self.reads = 0

    def get(self, fact: str) -> ValueSet:
        self.reads += 1
        if fact in self.facts:
            return self.facts[fact]
        return NOTHING if self.outer is None else self.outer.get(fact)

    def members(self, collection: str) -> tuple[Thing, ...] | None:
        return self.parts.get(collection, ())

    def roots(self, fact: str) -> tuple[tuple[Thing, str, str], ...]:
        if fact not in self.facts and self.outer is not None:
            return self.outer.roots(fact)
        if fact in self.from_:
            return tuple(dict.fromkeys(root for name in self.from_[fact] for root in self.roots(name)))
        value = self.get(fact)
        if isinstance(value, Known) and value.origin == STATED:
            return ()
        return ((self, fact, value.origin),)


def node(text: str, **limits: str) -> Node:
    """A condition checked against the shop."""
    kinds = {name: read_limit(value, SHOP)[1] for name, value in limits.items()}
    return check(parse(text), SHOP, kinds)


def rule(demands: str, applies: str | None = None, **limits: str | Sequence[tuple[str, str | None, str]]) -> Judgement:
    """A judgement from texts; a limit is a text or variants of label, when and text."""
    each = {name: [("", None, value)] if isinstance(value, str) else list(value) for name, value in limits.items()}
    plain = {name: variants[0][2] for name, variants in each.items()}
    made = {
        name: [
            Variant(label, None if when is None else node(when), read_limit(value, SHOP)[0])
            for label, when, value in variants
        ]
        for name, variants in each.items()
    }
    return Judgement(node(demands, **plain), None if applies is None else node(applies, **plain), made)


def inches(number: int | str) -> Known:
    """An exact length."""
    size = Fraction(number) * INCH
    return Known(size.numerator if size.denominator == 1 else size, f"{number} in")


def either(*members: ValueSet, group: str = "g", together: bool = False) -> Cases:
    """A written choice, or a plurality."""
    return Cases(group, members, together)
