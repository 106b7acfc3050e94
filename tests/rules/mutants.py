"""Mutants of a rule file: the same file with one slip of the pen in a condition or a limit.

A slip is a limit one step off, a unit taken for another of its dimension, a sign, a joint or a quantifier turned round, a word left out
or taken for its neighbour in the vocabulary.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from copy import deepcopy
from functools import cache
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple, TypeAlias

from lark import Lark, Token

from speclint.engine.outcomes import Judgement
from speclint.engine.weaken import weakened
from speclint.files.data import data_folder
from speclint.files.names import CatalogueNames
from speclint.kernel.faults import Problem
from speclint.packs.conditions import compile_conditions
from speclint.packs.rule import Rule
from speclint.packs.yaml_text import Read, read_yaml
from tests.rules.shipped import shipped_kit, step_of

Place: TypeAlias = tuple[str | int, ...]

SIGNS = {
    ">=": (">", "<=", "="),
    "<=": ("<", ">=", "="),
    ">": (">=", "<"),
    "<": ("<=", ">"),
    "=": ("!=",),
    "!=": ("=",),
}
JOINTS = {"_AND": "or", "_OR": "and", "_NOT": ""}
EACH = ("any", "all", "none")
# what a hand writes for a unit by mistake; figures without a unit have none to mistake
UNITS = {
    "in": "mm",
    "ft": "in",
    "mm": "in",
    "m": "ft",
    "mil": "mm",
    "h": "days",
    "min": "h",
    "days": "h",
    "day": "h",
    "F": "C",
    "psi": "kPa",
    "kg/m2": "lb per sq ft",
    "lb/ft2": "kg per m2",
    "lbf": "N",
}


class Mutant(NamedTuple):
    """A slip: its kind (limits, units, operators, words), where and what, and the judgement that it makes."""

    kind: str
    note: str
    judgement: Judgement


class Slip(NamedTuple):
    """One changed stretch of a text: its kind, the code points from ``start`` to ``end``, and what stands there instead."""

    kind: str
    start: int
    end: int
    instead: str


def mutants(rule: Rule) -> Iterator[Mutant]:
    """Every slip in the file of a rule that the reader of rule files takes and that compiles to something else."""
    seen = [_form(rule.judgement)]
    for one in (*_limit_slips(rule), *_text_slips(rule)):
        if _form(one.judgement) not in seen:
            seen.append(_form(one.judgement))
            yield one


def _limit_slips(rule: Rule) -> Iterator[Mutant]:
    return (Mutant("limits", note, judgement) for note, judgement in weakened(rule.judgement, step_of))


def _text_slips(rule: Rule) -> Iterator[Mutant]:
    path = Path(data_folder("rules")) / rule.pack / rule.topic / f"{rule.name}.yaml"
    read = read_yaml(path.read_text(encoding="utf-8"), path.name)
    for place, slips_of in _texts(read.data):
        text = str(_at(read.data, place))
        for slip in slips_of(text):
            changed = deepcopy(read.data)
            _at(changed, place[:-1])[place[-1]] = text[: slip.start] + slip.instead + text[slip.end :]
            judgement = _judgement(read._replace(data=changed))
            if judgement is not None:
                yield Mutant(slip.kind, _note(place, text, slip), judgement)


def _texts(data: Any) -> Iterator[tuple[Place, Callable[[str], Iterator[Slip]]]]:
    """Where the conditions and limits of a rule file stand, each with what makes its slips."""
    yield from (((key,), condition_slips) for key in ("applies", "demands") if key in data)
    for name, given in data.get("limits", {}).items():
        if not isinstance(given, list):
            yield ("limits", name), unit_slips
            continue
        for number, row in enumerate(given):
            yield ("limits", name, number, "value"), unit_slips
            if "when" in row:
                yield ("limits", name, number, "when"), condition_slips


def condition_slips(text: str) -> Iterator[Slip]:
    """Every slip in the text of a condition."""
    fact = verb = ""
    for token in _lexer().lex(text):
        yield from _operator(token)
        if token.type == "QUANTITY":
            yield from _unit(str(token), token.start_pos or 0)
        elif token.type in ("BARE", "QUOTED") and verb in ("SIGN", "HAS", "COVERS"):
            yield from _word(token, fact)
        elif token.type == "BRACES":
            yield from _set(token, fact)
        fact = str(token) if token.type == "FACT" else fact
        verb = token.type


def unit_slips(text: str) -> Iterator[Slip]:
    """The unit of a limit taken for another."""
    return _unit(text, 0)


def _operator(token: Token) -> Iterator[Slip]:
    start, text = token.start_pos or 0, str(token)
    if token.type == "SIGN":
        turned = SIGNS[text]
    elif token.type in JOINTS:
        turned = (JOINTS[token.type],)
    elif token.type == "EACH":
        verb = text.split()[0]
        turned = tuple(text.replace(verb, other, 1) for other in EACH if other != verb)
    elif token.type in ("STATE", "ONE_OF"):
        turned = (text.replace(" not", "", 1) if " not" in text else text.replace("is", "is not", 1),)
    else:
        return
    yield from (Slip("operators", start, start + len(text), other) for other in turned)


def _unit(text: str, start: int) -> Iterator[Slip]:
    figure, _, unit = text.rpartition(" ")
    if unit in UNITS and figure:
        yield Slip("units", start + len(figure) + 1, start + len(text), UNITS[unit])


def _word(token: Token, fact: str) -> Iterator[Slip]:
    start, text = token.start_pos or 0, str(token)
    other = _neighbour(fact, text.strip('"'), ())
    if other:
        yield Slip("words", start, start + len(text), f'"{other}"')


def _set(token: Token, fact: str) -> Iterator[Slip]:
    start, text = token.start_pos or 0, str(token)
    words = [word.strip().strip('"') for word in text[1:-1].split(",")]
    for place, word in enumerate(words):
        rest = [*words[:place], *words[place + 1 :]]
        if rest:
            yield Slip("words", start, start + len(text), _braces(rest))
        other = _neighbour(fact, word, words)
        if other:
            yield Slip("words", start, start + len(text), _braces([*words[:place], other, *words[place + 1 :]]))


def _braces(words: list[str]) -> str:
    return "{" + ", ".join(f'"{word}"' for word in words) + "}"


def _neighbour(fact: str, text: str, taken: tuple[str, ...] | list[str]) -> str:
    """The word of the same kind that stands next in the vocabulary and is not in the set already; families are passed by."""
    names = _names()
    kind = names.kind_of(fact)
    word = kind and names.word(kind.of, text)
    if kind is None or word is None:
        return ""
    mine = {each for one in (text, *taken) for each in _members(kind.of, one)}
    row = [one for one in names.words(kind.of) if one == word or (not names.family(kind.of, one) and one not in mine)]
    return dict(pairwise([*row, row[0]]))[word] if len(row) > 1 else ""


def _members(kind: str, text: str) -> tuple[str, ...]:
    word = _names().word(kind, text) or text
    return (word, *_names().family(kind, word))


def _judgement(read: Read) -> Judgement | None:
    """The judgement of a rule file; None if the reader refuses it."""
    problems: list[Problem] = []
    made = compile_conditions(read, _names(), problems)["judgement"]
    return None if problems else Judgement(made["demands"], made["applies"], made["limits"])


def _form(judgement: Judgement) -> str:
    return json.dumps((judgement.applies, judgement.demands, judgement.limits))


def _note(place: Place, text: str, slip: Slip) -> str:
    before = text[slip.start : slip.end]
    where = " ".join(map(str, place))
    after = text[slip.end :].strip()[:30]
    return f"{where}: {before} -> {slip.instead or 'nothing'} at {slip.start}" + (f", before {after}" if after else "")


def _at(data: Any, place: Place) -> Any:
    for step in place:
        data = data[step]
    return data


@cache
def _names() -> CatalogueNames:
    return CatalogueNames(shipped_kit().catalogue, {})


@cache
def _lexer() -> Lark:
    grammar = files("speclint.engine").joinpath("condition.lark").read_text(encoding="utf-8")
    return Lark(grammar, parser="lalr", lexer="basic")
