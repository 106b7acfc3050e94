"""Conditions as nested sequences of plain items, so that a compiled pack is JSON; what can be wrong with one.

A parsed leaf ends with its offset in the text (code points from 0); a checked node has no offsets, its quantities
are ``["number", numerator, denominator]`` in base units and its words are canonical.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple, TypeAlias

from speclint.kernel.faults import SpeclintError

Node: TypeAlias = Sequence[Any]

COLLECTIONS = frozenset({"any", "all", "none", "count"})
ARITHMETIC = {"+": "add", "-": "subtract", "*": "multiply", "/": "divide"}


class Trouble(NamedTuple):
    """One thing wrong in a condition: offset and width in code points, and what would pass."""

    offset: int
    width: int
    message: str


class ConditionFault(SpeclintError):
    """A condition that cannot be read or does not fit the catalogue; ``troubles`` holds all, in order."""

    def __init__(self, *troubles: Trouble) -> None:
        """Keep the troubles in the order of their places."""
        self.troubles = tuple(sorted(troubles))
        super().__init__("\n".join(f"column {one.offset + 1}: {one.message}" for one in self.troubles))


def children(node: Node) -> Iterator[Node]:
    """The nodes directly under a node, words of a set left out."""
    kind = node[0]
    if kind in ("and", "or", "not", "true"):
        yield from node[1:]
    elif kind in ("compare", "ordered"):
        yield node[2]
        yield node[3]
    elif kind in ("add", "subtract", "multiply", "divide"):
        yield node[1]
        yield node[2]
    elif kind in ("one of", "absent", "stated", "has"):
        yield node[1]
    elif kind == "covers":
        yield node[1]
        yield node[2]
    elif kind in COLLECTIONS and node[2] is not None:
        yield node[2]


def walk(node: Node) -> Iterator[Node]:
    """A node and all nodes under it, outermost first, without recursion."""
    waiting = [node]
    while waiting:
        one = waiting.pop()
        yield one
        waiting.extend(reversed(list(children(one))))


def facts_of(node: Node) -> tuple[str, ...]:
    """Every fact a condition reads, in the order of the text, once each; collections are not facts."""
    return tuple(dict.fromkeys(one[1] for one in walk(node) if one[0] == "fact"))


def limits_of(node: Node) -> tuple[str, ...]:
    """Every limit a condition reads, in the order of the text, once each."""
    return tuple(dict.fromkeys(one[1] for one in walk(node) if one[0] == "limit"))
