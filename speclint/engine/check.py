"""A parsed condition against the catalogue: every name known, like compared with like, figures exact."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from difflib import get_close_matches
from fractions import Fraction

from speclint.engine.catalogue import FLAG, MOMENT, QUANTITY, TEXT, WORD, WORDS, Catalogue, FactKind
from speclint.engine.checked import EITHER, Typed, describe, place_of, scaled
from speclint.engine.dimensions import divided, go_together, in_base, multiplied
from speclint.engine.nodes import ConditionFault, Node, Trouble
from speclint.engine.syntax import parse

_UNORDERED = ("=", "!=")


def check(node: Node, catalogue: Catalogue, limits: Mapping[str, FactKind] | None = None) -> Node:
    """A parsed condition as a checked node; raises `ConditionFault` with every trouble found."""
    checker = _Checker(catalogue, limits or {})
    checked = checker.condition(node)
    if checker.troubles:
        raise ConditionFault(*checker.troubles)
    return checked


def read_limit(text: str, catalogue: Catalogue, kind: FactKind | None = None) -> tuple[Node, FactKind]:
    """The literal and kind of a limit as a pack states it: quantity, `yes`, `no`, else a word of ``kind``."""
    checker = _Checker(catalogue, {})
    try:
        node = parse(text)
    except ConditionFault:
        node = ("word", text, 0)
    if node[0] not in ("quantity", "flag"):
        node = ("word", " ".join(text.strip().strip('"').split()), 0)
    typed = checker.value(node, kind or FactKind(WORD))
    if checker.troubles:
        raise ConditionFault(*checker.troubles)
    return typed.node, typed.kind


class _Checker:
    def __init__(self, catalogue: Catalogue, limits: Mapping[str, FactKind]) -> None:
        self.names = catalogue
        self.limits = limits
        self.troubles: list[Trouble] = []
        self.conditions: dict[str, Callable[[Node], Node]] = {
            "and": self._all_of, "or": self._all_of, "not": self._all_of, "compare": self._compare,
            "one of": self._one_of, "has": self._has, "covers": self._covers, "absent": self._state,
            "stated": self._state, "any": self._over, "all": self._over, "none": self._over,
        }  # fmt: skip

    def trouble(self, node: Node, message: str) -> None:
        offset, width = place_of(node)
        self.troubles.append(Trouble(offset, width, message))

    def unknown(self, node: Node, what: str, name: str, known: Collection[str]) -> None:
        near = get_close_matches(name, known, n=3, cutoff=0.6)
        hint = f"; did you mean {' or '.join(f'`{one}`' for one in near)}?" if near else ""
        self.trouble(node, f"there is no {what} `{name}`{hint}")

    def condition(self, node: Node) -> Node:
        maker = self.conditions.get(node[0])
        if maker is not None:
            return maker(node)
        if node[0] == "flag":
            return ("flag", node[1])
        typed = self.value(node)
        if typed.kind.is_ not in (FLAG, EITHER):
            self.trouble(node, f"{describe(typed.kind)} alone is no condition; compare it with something")
        return ("true", typed.node)

    def value(self, node: Node, hint: FactKind | None = None) -> Typed:
        maker = getattr(self, f"_value_{node[0]}", None)
        if maker is not None:
            typed: Typed = maker(node, hint)
            return typed
        if node[0] in ("add", "subtract", "multiply", "divide"):
            return self._arithmetic(node)
        self.trouble(node, "a fact or a value is needed here, not a condition")
        return Typed(("flag", True), FactKind(EITHER))

    def _value_fact(self, node: Node, hint: FactKind | None) -> Typed:
        kind = self.names.kind_of(node[1])
        if kind is None:
            self.unknown(node, "fact", node[1], self.names.facts())
        return Typed(("fact", node[1]), kind or FactKind(EITHER))

    def _value_limit(self, node: Node, hint: FactKind | None) -> Typed:
        kind = self.limits.get(node[1])
        if kind is None:
            self.unknown(node, "limit", node[1], self.limits)
        return Typed(("limit", node[1]), kind or FactKind(EITHER))

    def _value_flag(self, node: Node, hint: FactKind | None) -> Typed:
        if hint is not None and hint.is_ in (WORD, WORDS) and hint.of:
            return self._value_word(("word", "yes" if node[1] else "no", node[2]), hint)
        return Typed(("flag", node[1]), FactKind(FLAG))

    def _value_quantity(self, node: Node, hint: FactKind | None) -> Typed:
        base = in_base(node[1], node[2], self.names.units)
        if base is None:
            self.unknown(node, "unit", node[2], tuple(self.names.units.spellings))
            return Typed(("number", 0, 1), FactKind(EITHER))
        number = Fraction(base[1])
        return Typed(("number", number.numerator, number.denominator), FactKind(QUANTITY, base[0]))

    def _value_word(self, node: Node, hint: FactKind | None) -> Typed:
        if hint is None or hint.is_ == EITHER:
            return Typed(("word", node[1]), FactKind(EITHER))
        if hint.is_ == TEXT or (hint.is_ in (WORD, WORDS) and not hint.of):
            return Typed(("word", node[1]), FactKind(hint.is_))
        if hint.is_ not in (WORD, WORDS):
            self.trouble(node, f"`{node[1]}` is a word, where {describe(hint)} is needed")
            return Typed(("word", node[1]), FactKind(EITHER))
        word = self.names.word(hint.of, node[1])
        if word is None:
            self.unknown(node, hint.of, node[1], self.names.words(hint.of))
        return Typed(("word", word or node[1]), FactKind(WORD, hint.of))

    def _value_count(self, node: Node, hint: FactKind | None) -> Typed:
        self._collection(node)
        inner = None if node[2] is None else self.condition(node[2])
        return Typed(("count", node[1], inner), FactKind(QUANTITY, "count", 1))

    def _collection(self, node: Node) -> None:
        if node[1] not in self.names.collections():
            self.unknown(node, "collection", node[1], self.names.collections())

    def _all_of(self, node: Node) -> Node:
        return (node[0], *(self.condition(part) for part in node[1:]))

    def _over(self, node: Node) -> Node:
        self._collection(node)
        return (node[0], node[1], self.condition(node[2]))

    def _state(self, node: Node) -> Node:
        if node[1][0] != "fact":
            self.trouble(node[1], f"only a fact can be {node[0]}")
        return (node[0], self.value(node[1]).node)

    def _compare(self, node: Node) -> Node:
        sign = node[1]
        if node[2][0] in ("word", "flag") and node[3][0] not in ("word", "flag"):
            right = self.value(node[3])
            left = self.value(node[2], right.kind)
        else:
            left = self.value(node[2])
            right = self.value(node[3], left.kind)
        kinds = {left.kind.is_, right.kind.is_}
        if EITHER in kinds:
            if node[2][0] == node[3][0] == "word":
                self.trouble(node, "two words are compared; one side must be a fact")
            return ("compare", sign, left.node, right.node)
        if kinds != {left.kind.is_} or not _alike(left.kind, right.kind):
            message = f"{describe(left.kind)} cannot be compared with {describe(right.kind)}"
            self.trouble(node, message)
        elif WORDS in kinds:
            self.trouble(node, "a set of words is asked with `has`, not compared")
        elif kinds == {WORD}:
            return self._compare_words(node, sign, left, right)
        elif sign not in _UNORDERED and kinds & {FLAG, TEXT}:
            self.trouble(node, f"{describe(left.kind)} has no order; only `=` and `!=` can compare it")
        return ("compare", sign, left.node, right.node)

    def _compare_words(self, node: Node, sign: str, left: Typed, right: Typed) -> Node:
        kind = left.kind.of or right.kind.of
        if sign not in _UNORDERED:
            order = tuple(self.names.order(kind))
            if not order:
                self.trouble(node, f"the words of `{kind}` have no order; only `=` and `!=` can compare them")
            return ("ordered", sign, left.node, right.node, order)
        for one, other in ((left, right), (right, left)):
            family = self._members(kind, other.node[1]) if other.node[0] == "word" else ()
            if len(family) > 1:
                membership = ("one of", one.node, family)
                return membership if sign == "=" else ("not", membership)
        return ("compare", sign, left.node, right.node)

    def _members(self, kind: str, word: str) -> tuple[str, ...]:
        return tuple(self.names.family(kind, word)) or (word,)

    def _one_of(self, node: Node) -> Node:
        typed = self.value(node[1])
        if typed.kind.is_ not in (WORD, TEXT, EITHER):
            self.trouble(node[1], f"{describe(typed.kind)} cannot be one of several words")
            return ("one of", typed.node, ())
        words = [self._value_word(word, typed.kind).node[1] for word in node[2]]
        spread = (one for word in words for one in self._members(typed.kind.of, word))
        return ("one of", typed.node, tuple(dict.fromkeys(spread)))

    def _has(self, node: Node) -> Node:
        typed = self.value(node[1])
        if typed.kind.is_ not in (WORDS, EITHER):
            self.trouble(node[1], f"only a set of words can have a word; this is {describe(typed.kind)}")
            return ("has", typed.node, ())
        if node[2][0] not in ("word", "flag"):
            self.trouble(node, "`has` needs a word on its right")
            return ("has", typed.node, ())
        word = self.value(node[2], typed.kind).node[1]
        return ("has", typed.node, self._members(typed.kind.of, word))

    def _covers(self, node: Node) -> Node:
        left = self.value(node[1])
        right = self.value(node[2], left.kind)
        kinds = (left.kind, right.kind)
        if EITHER in (left.kind.is_, right.kind.is_):
            return ("covers", left.node, right.node, {})
        if any(kind.is_ not in (WORD, WORDS) for kind in kinds) or not _alike(*kinds):
            self.trouble(node, f"{describe(left.kind)} cannot cover {describe(right.kind)}")
            return ("covers", left.node, right.node, {})
        relations = self.names.relations(left.kind.of)
        baked = {word: (sorted(covers), sorted(excludes)) for word, (covers, excludes) in relations.items()}
        if right.node[0] != "word":
            return ("covers", left.node, right.node, baked)
        each = [self._narrow(left.node, word, baked) for word in self._members(left.kind.of, right.node[1])]
        return each[0] if len(each) == 1 else ("or", *each)

    def _narrow(self, left: Node, word: str, baked: Mapping[str, tuple[list[str], list[str]]]) -> Node:
        # one word on the right: only what is said of that word goes into the compiled pack
        said = {
            one: ([word] * (word in covers), [word] * (word in excludes))
            for one, (covers, excludes) in baked.items()
            if word in covers or word in excludes
        }
        return ("covers", left, ("word", word), said)

    def _arithmetic(self, node: Node) -> Typed:
        left, right = self.value(node[1]), self.value(node[2])
        plain = (node[0], left.node, right.node)
        sorts = (left.kind.is_, right.kind.is_)
        if EITHER in sorts:
            return Typed(plain, FactKind(EITHER))
        if MOMENT in sorts:
            return self._moments(node, plain, left.kind, right.kind)
        if sorts != (QUANTITY, QUANTITY):
            wrong = left.kind if left.kind.is_ != QUANTITY else right.kind
            self.trouble(node, f"{describe(wrong)} cannot be reckoned with")
            return Typed(plain, FactKind(EITHER))
        first, second = left.kind.of, right.kind.of
        if node[0] in ("add", "subtract"):
            if first == "temperature":
                self.trouble(node, "temperatures are compared, not added; a computed fact can hold a difference")
            elif not go_together(first, second):
                self.trouble(node, f"{describe(left.kind)} and {describe(right.kind)} do not add up")
            return Typed(plain, left.kind)
        result = (multiplied if node[0] == "multiply" else divided)(first, second, self.names.units)
        if result is None:
            verb = "multiplied" if node[0] == "multiply" else "divided"
            self.trouble(node, f"{describe(left.kind)} cannot be {verb} by {describe(right.kind)}")
            return Typed(plain, FactKind(EITHER))
        return Typed(scaled(plain, result[1]), FactKind(QUANTITY, result[0]))

    def _moments(self, node: Node, plain: Node, left: FactKind, right: FactKind) -> Typed:
        if left.is_ == right.is_ and node[0] == "subtract":
            return Typed(plain, FactKind(QUANTITY, "time"))
        time = FactKind(QUANTITY, "time")
        if left.is_ == MOMENT and right[:2] == time[:2] and node[0] in ("add", "subtract"):
            return Typed(plain, FactKind(MOMENT))
        self.trouble(node, f"{describe(left)} and {describe(right)} do not go together here")
        return Typed(plain, FactKind(EITHER))


def _alike(left: FactKind, right: FactKind) -> bool:
    if left.is_ == QUANTITY:
        return go_together(left.of, right.of)
    return left.of == right.of or not left.of or not right.of
