"""Small parts of the check: a node with its kind, and how kinds and places are told."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.engine.catalogue import FLAG, MOMENT, QUANTITY, TEXT, WORD, WORDS, FactKind
from speclint.engine.dimensions import BARE
from speclint.engine.nodes import Node, children

EITHER = ""  # the sort of what could not be checked, so that one mistake is told once


class Typed(NamedTuple):
    """A checked value and its kind."""

    node: Node
    kind: FactKind


def describe(kind: FactKind) -> str:
    """A kind in words for a message."""
    if kind.is_ == QUANTITY:
        return {BARE: "a bare figure", "count": "a count", "ratio": "a ratio"}.get(kind.of) or f"a quantity ({kind.of})"
    told = {WORD: "a word", WORDS: "a set of words", FLAG: "a yes or no", TEXT: "a text", MOMENT: "a moment"}
    return told.get(kind.is_, "a value") + (f" ({kind.of})" if kind.of else "")


def place_of(node: Node) -> tuple[int, int]:
    """Offset and width of a parsed node; a joined one starts where its first part does."""
    while isinstance(node[-1], (tuple, list)):
        node = next(children(node))
    width = {"fact": lambda: len(node[1]), "word": lambda: len(node[1]), "limit": lambda: len(node[1]) + 6}
    if node[0] == "quantity":
        return node[-1], len(" ".join(filter(None, node[1:3])))
    return node[-1], width.get(node[0], lambda: 1)()


def scaled(node: Node, factor: Fraction) -> Node:
    """A node times a factor, itself if the factor is one."""
    if factor == 1:
        return node
    return ("multiply", node, ("number", factor.numerator, factor.denominator))
