"""The driver against lark's own parser: the same reductions in the same order, and the same refusals."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from functools import cache, partial
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lark import Lark, Token, Transformer
from lark.exceptions import UnexpectedInput
from lark.lexer import Lexer

from speclint.language.lexer import scan_line
from speclint.language.tables import CALLBACKS, Driver, Refused, build_tables, default_driver, grammar_text

TERMINALS = ["WORD", "STRING", "SLASH", "COMMA", "ITEM", "COMMENT"]
LETTERS = dict(zip("ws/,i#", TERMINALS, strict=True))
Events = list[tuple[str, tuple[Any, ...]]]


class Given(Lexer):
    """A lexer that is handed its terminals."""

    def __init__(self, conf: object) -> None: ...

    def lex(self, lexer_state: Any, parser_state: Any = None) -> Iterator[Token]:
        """One token a terminal, its index as value."""
        for index, terminal in enumerate(lexer_state):
            yield Token(terminal, index)


@cache
def oracle() -> Lark:
    """lark's own parser over the same grammar."""
    return Lark(grammar_text(), parser="lalr", start="line", lexer=Given, maybe_placeholders=False)


def by_lark(terminals: list[str]) -> tuple[Events, int]:
    """Reductions in order, and the index of the terminal that lark refuses, or -1."""
    events: Events = []

    def note(name: str, _: object, children: list[Any]) -> Any:
        children = [int(child) if isinstance(child, Token) else child for child in children]
        events.append((name, tuple(map(str, children))))
        return CALLBACKS[name](children)

    noting = type("Noting", (Transformer,), {name: partial(note, name, None) for name in CALLBACKS})
    try:
        noting().transform(oracle().parse(terminals))
    except UnexpectedInput as error:
        token = error.token  # type: ignore[attr-defined]
        return [], len(terminals) if token.type == "$END" else int(token.value)
    return events, -1


def by_driver(terminals: list[str]) -> tuple[Events, int]:
    """The same of our driver."""
    events: Events = []

    def note(name: str, children: list[Any]) -> Any:
        events.append((name, tuple(map(str, children))))
        return CALLBACKS[name](children)

    try:
        default_driver().parse(terminals, {name: partial(note, name) for name in CALLBACKS})
    except Refused as refused:
        return [], refused.index
    return events, -1


@given(st.lists(st.sampled_from(TERMINALS), max_size=14))
def test_driver_does_what_lark_does(terminals: list[str]) -> None:
    assert by_driver(terminals) == by_lark(terminals)


PIECES = ["plan ", '"a" ', "of ", "/ ", "12 ", ", ", "# c", "x ", '"b"']


@given(st.lists(st.sampled_from(PIECES), max_size=10).map("".join))
def test_driver_does_what_lark_does_on_text(text: str) -> None:
    terminals = [LETTERS[letter] for letter in scan_line(text, 1).letters]
    assert by_driver(terminals) == by_lark(terminals)


@given(st.text(alphabet="ws/,i#", max_size=12))
def test_shape_says_what_the_words_of_the_grammar_say(letters: str) -> None:
    """The grammar's meaning told once more, by splitting and comparing."""
    shape = default_driver().shape(letters)
    body, _, after = letters.partition("#")
    phrases = body.split(",") if body else []
    if after or (phrases and not all(phrases)):
        assert shape.form == "refused"
        assert shape.refused_at >= 0
        return
    ends = [sum(map(len, phrases[: index + 1])) for index in range(len(phrases))]
    assert shape.phrases == tuple(zip([0, *ends], ends, strict=False))
    name, *more = body.split("/")
    linked = name.startswith("ws") and name.endswith("s") and set(name[2:-1]) == {"w"} and len(name) > 3
    heading = body in ("w", "ws") or (linked and all(part == "s" for part in more))
    assert shape.form == ("heading" if heading else "entry" if body else "blank")


def test_tables_survive_json() -> None:
    tables = build_tables(grammar_text())
    again = json.loads(json.dumps(tables))
    assert again == tables
    assert Driver(again).shape("wsws/s,i") == default_driver().shape("wsws/s,i")


def test_tables_of_another_make_are_refused() -> None:
    with pytest.raises(ValueError, match="version None"):
        Driver({})


def test_lark_is_not_imported_to_read() -> None:
    program = (
        "import json, sys; from speclint.language.reader import read; tables = json.load(sys.stdin);"
        "assert len(read('plan \"a\"\\n  b  c, 12\\n', 'f', tables).lines) == 2;"
        "assert not {'lark', 'yaml', 'fractions', 'dataclasses'} & set(sys.modules)"
    )
    given_tables = json.dumps(build_tables(grammar_text()))
    subprocess.run([sys.executable, "-c", program], input=given_tables, text=True, check=True, timeout=60)
