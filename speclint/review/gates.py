"""Which rules may apply to a subject: the parts of ``applies`` that rules share are each decided once for it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from speclint.engine.closures import compile_condition
from speclint.engine.reading import Condition, Env
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import Subject
from speclint.kernel.lazy import Lazy
from speclint.packs.rule import Pack, Rule, Stand

BOOK = "book"


class _Gate:
    """One part of ``applies``, compiled when it is first asked, and as bits the rules that stand behind it."""

    __slots__ = ("_condition", "behind", "text")

    def __init__(self, text: str) -> None:
        """Nobody stands behind it yet."""
        self.text = text
        self.behind = 0
        self._condition: Condition | None = None

    @property
    def condition(self) -> Condition:
        """The part, ready to be asked."""
        if self._condition is None:
            self._condition = compile_condition(json.loads(self.text))
        return self._condition


class Shelf:
    """The rules that judge one kind of subject; a set of them is a whole number, one bit a rule."""

    __slots__ = ("_gates", "_wholly", "every", "orders")

    def __init__(self, stands: Iterable[tuple[int, Stand]]) -> None:
        """What is known of each rule, with its place among all rules of the run."""
        gates: dict[str, _Gate] = {}
        self._wholly = 0  # rules of which nothing is left to ask once their gates say yes
        orders: list[int] = []
        for place, (order, stand) in enumerate(stands):
            orders.append(order)
            for text in stand.gates:
                gates.setdefault(text, _Gate(text)).behind |= 1 << place
            self._wholly |= stand.wholly << place
        self.orders = tuple(orders)
        self.every = (1 << len(orders)) - 1
        self._gates = sorted(gates.values(), key=lambda gate: -gate.behind.bit_count())

    def admitted(self, subject: Subject) -> tuple[int, int]:
        """The rules that may apply to a subject, and those of them that surely do.

        A gate that hangs on a written choice settles nothing: the rule tries the choices itself.
        """
        alive, sure = self.every, self._wholly
        env = Env(subject, {})
        wanted, trace = env.wanted, env.open_on
        for gate in self._gates:
            behind = gate.behind
            if alive & behind:
                truth = gate.condition(env)
                if wanted:
                    wanted.clear()
                    truth = None
                if truth is False:
                    alive &= ~behind
                elif truth is None:
                    trace.clear()
                    sure &= ~behind
        return alive, alive & sure


class Book:
    """The rules of a run in order, and on their shelves by the kind of subject that they judge."""

    __slots__ = ("names", "rules", "shelves")

    def __init__(self, stands: Iterable[Stand], rules: Mapping[str, Rule]) -> None:
        """What is known of the rules in their order, and the rules themselves by their names."""
        self.rules = rules
        self.names: list[str] = []
        placed: dict[str, list[tuple[int, Stand]]] = {}
        for order, stand in enumerate(stands):
            self.names.append(stand.name)
            placed.setdefault(stand.judges, []).append((order, stand))
        self.shelves = {kind: Shelf(each) for kind, each in placed.items()}


def book_of(packs: tuple[Pack, ...], catalogue: Catalogue) -> Book:
    """The rules of some packs on their shelves, laid out once for a run."""
    kept = catalogue.memo.get(BOOK)
    if isinstance(kept, tuple) and kept[0] is packs:
        book: Book = kept[1]
        return book
    places = {stand.name: (pack, place) for pack in packs for place, stand in enumerate(pack.stands)}
    rules: Mapping[str, Rule] = Lazy(places, lambda _, at: at[0].rules[at[1]])
    book = Book((stand for pack in packs for stand in pack.stands), rules)
    catalogue.memo[BOOK] = (packs, book)
    return book
