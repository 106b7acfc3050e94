"""Text of a condition to a node; lark is loaded at the first text, compiled packs never need it."""

from __future__ import annotations

import re
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from speclint.engine.nodes import ConditionFault, Node, Trouble, children

if TYPE_CHECKING:
    from lark import Lark, Token

MOST_CHARACTERS = 2_000
MOST_LEVELS = 64
MOST_NODES = 300
MOST_DIGITS = 40

_ARITHMETIC = {"+": "add", "-": "subtract", "*": "multiply", "/": "divide"}

_QUANTITY = re.compile(r"(-?\d+(?:\.\d+|:\d+|-\d+/\d+|\s\d+/\d+|/\d+)?)\s*(.*)\Z", re.DOTALL)
_OPERATOR_SLIPS = {
    "==": "=", "&&": "and", "||": "or", "=<": "<=", "=>": ">=", "<>": "!=", "≥": ">=", "≤": "<=", "≠": "!=",
    "&": "and", "|": "or", "!": "not", "×": "*", "÷": "/", "–": "-", "−": "-",
}  # fmt: skip


def parse(text: str) -> Node:
    """A condition or value as a node with offsets; raises `ConditionFault` with every trouble found."""
    if len(text) > MOST_CHARACTERS:
        message = f"a condition may have {MOST_CHARACTERS:,} characters, not {len(text):,}; make it two rules"
        raise ConditionFault(Trouble(MOST_CHARACTERS, len(text) - MOST_CHARACTERS, message))
    node = _tree(text)
    troubles = _too_deep_or_long(node) + _bad_quantities(node)
    if troubles:
        raise ConditionFault(*troubles)
    return node


def _tree(text: str) -> Node:
    from lark import UnexpectedInput, UnexpectedToken

    try:
        return _parser().parse(text)  # type: ignore[return-value]
    except UnexpectedToken as error:
        place = len(text) if error.token.type == "$END" else error.token.start_pos or 0
        word = "" if error.token.type == "$END" else str(error.token)
        raise ConditionFault(_wrong_token(text, place, word)) from None
    except UnexpectedInput as error:
        raise ConditionFault(_wrong_character(text, error.pos_in_stream or 0)) from None


@lru_cache(maxsize=1)
def _parser() -> Lark:
    from lark import Lark

    grammar = files("speclint.engine").joinpath("condition.lark").read_text(encoding="utf-8")
    return Lark(grammar, parser="lalr", lexer="basic", transformer=_builder(), maybe_placeholders=True)


def _builder() -> Any:
    from lark import Transformer, v_args

    class Build(Transformer):  # type: ignore[type-arg]
        """Nodes straight from the grammar's rules."""

        either = v_args(inline=True)(lambda self, *parts: ("or", *parts))
        both = v_args(inline=True)(lambda self, *parts: ("and", *parts))
        opposite = v_args(inline=True)(lambda self, part: ("not", part))
        compare = v_args(inline=True)(lambda self, a, sign, b: ("compare", str(sign), a, b, sign.start_pos))
        membership = v_args(inline=True)(_membership)
        state = v_args(inline=True)(_state)
        relation = v_args(inline=True)(lambda self, a, verb, b: (str(verb), a, b, verb.start_pos))
        arithmetic = v_args(inline=True)(lambda self, a, sign, b: (_ARITHMETIC[str(sign)], a, b, sign.start_pos))
        leaf = v_args(inline=True)(_leaf)
        collection = v_args(inline=True)(_collection)

    return Build()


def _leaf(_: object, token: Token) -> Node:
    text, place = str(token), token.start_pos
    if token.type == "QUANTITY":
        found = _QUANTITY.match(text)
        assert found is not None  # the grammar's terminal has the same shape
        return ("quantity", found[1], " ".join(found[2].split()), place)
    if token.type == "FLAG":
        return ("flag", text == "yes", place)
    if token.type == "LIMIT":
        return ("limit", text.partition(".")[2], place)
    if token.type == "FACT":
        return ("fact", text, place)
    return ("word", " ".join(text.strip('"').split()), place)


def _membership(_: object, value: Node, verb: Token, braces: Token) -> Node:
    words: list[Node] = []
    place = (braces.start_pos or 0) + 1
    for item in str(braces)[1:-1].split(","):
        start = place + len(item) - len(item.lstrip())
        words.append(("word", " ".join(item.strip().strip('"').split()), start))
        place += len(item) + 1
    node: Node = ("one of", value, tuple(words), verb.start_pos)
    return ("not", node) if "not" in verb.split() else node


def _state(_: object, value: Node, verb: Token) -> Node:
    node: Node = (verb.split()[-1], value, verb.start_pos)
    return ("not", node) if "not" in verb.split() else node


def _collection(_: object, head: Token, condition: Node | None = None) -> Node:
    verb, *name = head.split()
    return (verb, " ".join(name[1:] if verb == "count" else name), condition, head.start_pos)


def _too_deep_or_long(node: Node) -> tuple[Trouble, ...]:
    nodes = 0
    waiting = [(node, 1)]
    while waiting:
        one, level = waiting.pop()
        nodes += 1 + (len(one[2]) if one[0] == "one of" else 0)
        if level > MOST_LEVELS:
            return (Trouble(0, 1, f"the condition is nested more than {MOST_LEVELS} levels deep"),)
        if nodes > MOST_NODES:
            return (Trouble(0, 1, f"the condition has more than {MOST_NODES} parts; make it two rules"),)
        waiting.extend((part, level + 1) for part in children(one))
    return ()


def _bad_quantities(node: Node) -> tuple[Trouble, ...]:
    troubles: list[Trouble] = []
    waiting = [node]
    while waiting:
        one = waiting.pop()
        if one[0] == "quantity":
            if any(int(digits) == 0 for digits in re.findall(r"[/:](\d{1,40})\b", one[1])):
                troubles.append(Trouble(one[3], len(one[1]), f"`{one[1]}` divides by nothing"))
            if sum(map(str.isdigit, one[1])) > MOST_DIGITS:
                troubles.append(Trouble(one[3], len(one[1]), f"a figure may have {MOST_DIGITS} digits"))
        elif one[0] == "one of":
            troubles += [Trouble(word[2], 1, "a word is missing between the commas") for word in one[2] if not word[1]]
        waiting.extend(children(one))
    return tuple(troubles)


def _before(text: str, place: int) -> str:
    words = text[:place].split()
    return words[-1] if words else ""


def _wrong_token(text: str, place: int, word: str) -> Trouble:
    last = _before(text, place)
    if not text.strip():
        return Trouble(0, 0, "a condition is missing here")
    if not word:
        if text.count("(") > text.count(")"):
            return Trouble(place, 0, "a parenthesis is opened and not closed")
        return Trouble(place, 0, f"the condition stops after `{last}`, which needs something to follow")
    if word == ")":
        if text[:place].count("(") <= text[:place].count(")"):
            return Trouble(place, 1, "this parenthesis closes nothing")
        return Trouble(place, 1, f"something is missing between `{last}` and the parenthesis")
    if text[place - 1 : place + len(word)] in _OPERATOR_SLIPS:
        slip = text[place - 1 : place + len(word)]
        return Trouble(place - 1, len(slip), f"write `{_OPERATOR_SLIPS[slip]}` instead of `{slip}`")
    if word.startswith("{"):
        return Trouble(place, len(word), "words in braces follow `is one of` or `is not one of`")
    if word in ("=", "!=", "<", "<=", ">", ">="):
        return Trouble(place, len(word), "one comparison cannot follow another; join two with `and`")
    if word.split()[0] in ("and", "or", "has", "covers", "is", "+", "-", "*", "/"):
        return Trouble(place, len(word), f"a fact or a value is missing before `{word}`")
    missing = "a comparison, `and` or `or` is missing between them, or the quotes around a word with blanks"
    return Trouble(place, len(word), f"`{word}` cannot follow `{last}`: {missing}")


def _wrong_character(text: str, place: int) -> Trouble:
    rest = text[place:]
    for width in (2, 1):
        slip = rest[:width]
        if slip in _OPERATOR_SLIPS and not (slip == "-" or slip == "="):
            return Trouble(place, width, f"write `{_OPERATOR_SLIPS[slip]}` instead of `{slip}`")
    if rest[0] == "-":
        return Trouble(place, 1, "a minus stands between two spaces; a hyphen joins only the parts of one name")
    if rest[0] == '"':
        return Trouble(place, 1, "this quote is opened and not closed")
    if rest[0] in "{}":
        return Trouble(place, 1, "this brace has no partner")
    if re.match(r"in\b", rest):
        return Trouble(place, 2, "`in` is always the inch and follows a figure; write `is one of {...}` for membership")
    if re.match(r"is\b", rest):
        return Trouble(place, 2, "`is` goes with `one of`, `absent` or `stated`; write `=` to compare with one word")
    if rest[0].isdigit():
        token = re.match(r"\S+", rest)
        shown = token[0][:40] if token else rest[0]
        advice = "is not a figure with a unit, such as `1-1/2 in`; a word that begins with a digit is quoted"
        return Trouble(place, len(shown), f"`{shown}` {advice}")
    return Trouble(place, 1, f"`{rest[0]}` cannot stand in a condition")
