"""Parts of rules' ``applies`` that many share: each is decided once for a subject, and a no spares the rule."""

from __future__ import annotations

import json

from speclint.engine.closures import compile_condition
from speclint.engine.nodes import Node, limits_of
from speclint.engine.reading import Condition, Env
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import Subject
from speclint.packs.rule import Rule

GATES = "gates"


class Gates:
    """All gates of the rules of a catalogue, each known by a number; filled as rules come."""

    __slots__ = ("conditions", "numbers", "of_rule")

    def __init__(self) -> None:
        """No gate is known yet."""
        self.numbers: dict[str, int] = {}
        self.conditions: list[Condition] = []
        self.of_rule: dict[tuple[str, str], tuple[int, ...]] = {}

    def of(self, rule: Rule) -> tuple[int, ...]:
        """The numbers of the gates that a rule stands behind."""
        mark = (rule.pack, rule.name)
        found = self.of_rule.get(mark)
        if found is None:
            parts = _parts(rule.judgement.applies)
            found = self.of_rule[mark] = tuple(self._number(part) for part in parts if not limits_of(part))
        return found

    def _number(self, node: Node) -> int:
        text = json.dumps(node)
        if text not in self.numbers:
            self.numbers[text] = len(self.conditions)
            self.conditions.append(compile_condition(node))
        return self.numbers[text]


class Gatekeeper:
    """What the gates say of one subject, each asked at most once."""

    __slots__ = ("env", "gates", "said")

    def __init__(self, gates: Gates, subject: Subject) -> None:
        """Nothing is asked yet."""
        self.gates = gates
        self.env = Env(subject, {})
        self.said: dict[int, bool] = {}

    def shuts(self, numbers: tuple[int, ...]) -> bool:
        """Whether one of these gates is surely no; a written choice leaves a gate open."""
        said = self.said
        for number in numbers:
            shut = said.get(number)
            if shut is None:
                env = self.env
                shut = self.gates.conditions[number](env) is False and not env.wanted
                env.open_on.clear()
                env.wanted.clear()
                said[number] = shut
            if shut:
                return True
        return False


def gates_of(catalogue: Catalogue) -> Gates:
    """The gates that the rules of a catalogue share."""
    found = catalogue.memo.get(GATES)
    if not isinstance(found, Gates):
        found = catalogue.memo[GATES] = Gates()
    return found


def _parts(applies: Node | None) -> tuple[Node, ...]:
    if applies is None:
        return ()
    return tuple(applies[1:]) if applies[0] == "and" else (applies,)
