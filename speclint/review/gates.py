"""Parts of rules' ``applies`` that many share: each is decided once for a subject, and a no spares the rule."""

from __future__ import annotations

import json

from speclint.engine.closures import compile_condition
from speclint.engine.reading import Condition, Env
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import Subject

GATES = "gates"


class Gates:
    """All gates of the rules of a catalogue, each known by a number; a gate is compiled when it is first asked."""

    __slots__ = ("conditions", "numbers", "texts", "together")

    def __init__(self) -> None:
        """No gate is known yet."""
        self.numbers: dict[str, int] = {}
        self.texts: list[str] = []
        self.conditions: dict[int, Condition] = {}
        self.together: dict[tuple[str, ...], tuple[int, ...]] = {}

    def numbers_of(self, texts: tuple[str, ...]) -> tuple[int, ...]:
        """The numbers of the gates that a rule stands behind."""
        found = self.together.get(texts)
        if found is None:
            found = self.together[texts] = tuple([self._number(text) for text in texts])
        return found

    def condition(self, number: int) -> Condition:
        """The gate of a number, ready to be asked."""
        found = self.conditions.get(number)
        if found is None:
            found = self.conditions[number] = compile_condition(json.loads(self.texts[number]))
        return found

    def _number(self, text: str) -> int:
        number = self.numbers.setdefault(text, len(self.texts))
        if number == len(self.texts):
            self.texts.append(text)
        return number


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
                shut = self.gates.condition(number)(env) is False and not env.wanted
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
