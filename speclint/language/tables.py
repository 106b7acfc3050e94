"""The parse tables that lark builds from the grammar, as plain data, and the driver that runs them.

lark takes longer to import than a short plan takes to read, so its tables are exported once as
JSON-able data that a caller may keep; the driver below runs them without lark.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

Tables = Mapping[str, Any]

_VERSION = 1
_END = "$END"
_TERMINALS = {"w": "WORD", "s": "STRING", "/": "SLASH", ",": "COMMA", "i": "ITEM", "#": "COMMENT"}
_REMEMBERED = 4096
_LONGEST_REMEMBERED = 64


class Shape(NamedTuple):
    """What the grammar says of a line: its form, where its phrases lie, and where it stopped fitting.

    ``form`` is ``blank``, ``heading``, ``entry`` or ``refused``. ``phrases`` are pairs (first, past the
    last) that count tokens without the commas. ``refused_at`` is the index of the letter that does not
    fit, -1 if all do.
    """

    form: str
    phrases: tuple[tuple[int, int], ...]
    refused_at: int = -1


def grammar_text() -> str:
    """The text of the grammar that ships beside this module."""
    import pkgutil

    data = pkgutil.get_data("speclint.language", "grammar.lark")
    assert data is not None, "grammar.lark travels with the package"
    return data.decode("utf-8")


def build_tables(grammar: str, start: str = "line") -> dict[str, Any]:
    """The LALR tables of ``grammar``, built by lark, as data that JSON can hold.

    ``actions`` and ``gotos`` are lists indexed by state, each a mapping from a symbol to a number: a
    state to go to (0 or more), or ``-1 - rule``. ``rules`` are (origin, length, callback name). lark is
    imported here only.
    """
    from lark import Lark
    from lark.grammar import Rule
    from lark.lexer import Lexer, TerminalDef

    class NoLexer(Lexer):
        """The tokens come from our own lexer; lark only builds the tables."""

        def __init__(self, conf: object) -> None: ...

        def lex(self, *_: object) -> Iterator[Any]:
            yield from ()

    built = Lark(grammar, parser="lalr", start=start, lexer=NoLexer, maybe_placeholders=False)
    data, memo = built.memo_serialize([TerminalDef, Rule])
    return _plain(data["parser"]["parser"], memo, start)


def _plain(parser: Mapping[str, Any], memo: Mapping[int, Any], start: str) -> dict[str, Any]:
    """lark's serialized tables in our own numbering of states and rules."""
    names = parser["tokens"]
    state_of = {key: index for index, key in enumerate(parser["states"])}
    rule_keys = [key for key, value in memo.items() if value["__type__"] == "Rule"]
    rule_of = {key: index for index, key in enumerate(rule_keys)}
    rules = [
        [
            memo[key]["origin"]["name"],
            len(memo[key]["expansion"]),
            memo[key]["alias"] or memo[key]["origin"]["name"],
        ]
        for key in rule_keys
    ]
    origins = {rule[0] for rule in rules}
    actions: list[dict[str, int]] = []
    gotos: list[dict[str, int]] = []
    for entries in parser["states"].values():
        steps = {
            names[symbol]: -1 - rule_of[argument["@"]] if isinstance(argument, dict) else state_of[argument]
            for symbol, (_, argument) in entries.items()
        }
        actions.append({name: step for name, step in steps.items() if name not in origins})
        gotos.append({name: step for name, step in steps.items() if name in origins})
    return {
        "version": _VERSION,
        "start": state_of[parser["start_states"][start]],
        "end": state_of[parser["end_states"][start]],
        "actions": actions,
        "gotos": gotos,
        "rules": rules,
    }


class Refused(Exception):
    """The terminal at ``index`` does not fit (``index`` may lie just past the last)."""

    def __init__(self, index: int) -> None:
        """Keep the index of the terminal."""
        super().__init__(f"terminal {index} does not fit")
        self.index = index


class Driver:
    """Runs the tables over the letters of a line; remembers the shapes it has seen."""

    def __init__(self, tables: Tables) -> None:
        """Take tables as ``build_tables`` made them; raises ValueError when they are of another make."""
        if tables.get("version") != _VERSION:
            raise ValueError(f"parse tables of version {tables.get('version')}, not {_VERSION}")
        self._start: int = tables["start"]
        self._end: int = tables["end"]
        self._actions: list[dict[str, int]] = tables["actions"]
        self._gotos: list[dict[str, int]] = tables["gotos"]
        self._rules = [(origin, length, name) for origin, length, name in tables["rules"]]
        self._shapes: dict[str, Shape] = {}

    def parse(self, terminals: Sequence[str], callbacks: Mapping[str, Callable[[list[Any]], Any]]) -> Any:
        """Reduce the terminals by the rules; a terminal's value is its index. Raises ``Refused``."""
        states: list[int] = [self._start]
        values: list[Any] = []
        for index, terminal in enumerate([*terminals, _END]):
            step = self._actions[states[-1]].get(terminal)
            while step is not None and step < 0:
                origin, length, name = self._rules[-1 - step]
                kept = len(values) - length
                children = values[kept:]
                del values[kept:], states[kept + 1 :]
                values.append(callbacks[name](children))
                states.append(self._gotos[states[-1]][origin])
                if terminal == _END and states[-1] == self._end:
                    return values[0]
                step = self._actions[states[-1]].get(terminal)
            if step is None:
                raise Refused(index)
            states.append(step)
            values.append(index)
        raise AssertionError("the tables lead past the end of the line")

    def shape(self, letters: str) -> Shape:
        """The shape of a line from the lexer's letters, one a token, commas and comment included.

        Only the letters decide, so that a shape once found serves every line of the same letters.
        """
        known = self._shapes.get(letters)
        if known is not None:
            return known
        try:
            form, bounds = self.parse([_TERMINALS[letter] for letter in letters], CALLBACKS)
            shape = Shape(form, tuple((first - k, last - k) for k, (first, last) in enumerate(bounds)))
        except Refused as refused:
            shape = Shape("refused", (), refused.index)
        if len(letters) <= _LONGEST_REMEMBERED and len(self._shapes) < _REMEMBERED:
            self._shapes[letters] = shape
        return shape


def _next(children: list[Any]) -> Any:
    """One more phrase after a comma."""
    children[0].append(children[2])
    return children[0]


CALLBACKS: Mapping[str, Callable[[list[Any]], Any]] = {
    "begin": lambda children: (children[0], children[0] + 1),
    "extend": lambda children: (children[0][0], children[1] + 1),
    "keep": lambda children: children[0],
    "first": lambda children: [children[0]],
    "pair": lambda children: [children[0], children[2]],
    "next": _next,
    "blank": lambda children: ("blank", []),
    "heading": lambda children: ("heading", [children[0]]),
    "entry": lambda children: ("entry", children[0]),
}


@functools.cache
def default_driver() -> Driver:
    """A driver over tables that lark builds once per process, for callers that keep none."""
    return Driver(build_tables(grammar_text()))
