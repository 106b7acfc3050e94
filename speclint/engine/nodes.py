"""Conditions as nested sequences of plain items, so that a compiled pack is JSON; what can be wrong with one.

A parsed leaf ends with its offset in the text (code points from 0); a checked node has no offsets, its
quantities are ``["number", numerator, denominator]`` in base units and its words are canonical.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple, TypeAlias

from speclint.kernel.faults import SpeclintError

Node: TypeAlias = Sequence[Any]

_COLLECTIONS = frozenset({"any", "all", "none", "count"})
_PLACES = {
    **dict.fromkeys(("not", "true", "one of", "absent", "stated", "has"), (1,)),
    **dict.fromkeys(("add", "subtract", "multiply", "divide", "covers"), (1, 2)),
    **dict.fromkeys(("compare", "ordered"), (2, 3)),
}


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


def places(node: Node) -> tuple[int, ...]:
    """Where in a node the nodes directly under it stand; words of a set and figures are not nodes."""
    kind = node[0]
    if kind in ("and", "or"):
        return tuple(range(1, len(node)))
    if kind in _COLLECTIONS:
        return () if node[2] is None else (2,)
    return _PLACES.get(kind, ())


def children(node: Node) -> Iterator[Node]:
    """The nodes directly under a node."""
    return (node[place] for place in places(node))


def walk(node: Node) -> Iterator[Node]:
    """A node and all nodes under it, outermost first, without recursion."""
    waiting = [node]
    while waiting:
        one = waiting.pop()
        yield one
        waiting.extend(reversed(list(children(one))))


def joined(node: Node | None) -> tuple[Node, ...]:
    """The parts that ``and`` joins at the top of a condition; the whole if it is none, nothing of no condition."""
    if node is None:
        return ()
    return tuple(node[1:]) if node[0] == "and" else (node,)


def facts_of(node: Node) -> tuple[str, ...]:
    """Every fact a condition reads, in the order of the text, once each; collections are not facts."""
    return tuple(dict.fromkeys(one[1] for one in walk(node) if one[0] == "fact"))


def limits_of(node: Node) -> tuple[str, ...]:
    """Every limit a condition reads, in the order of the text, once each."""
    return tuple(dict.fromkeys(one[1] for one in walk(node) if one[0] == "limit"))
