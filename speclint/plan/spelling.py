"""Spellings as rows of tokens: kept by their first token, found by the longest that fits."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeAlias

Tokens: TypeAlias = tuple[str, ...]


def spelt(pairs: Sequence[tuple[Tokens, str]]) -> dict[str, tuple[tuple[Tokens, str], ...]]:
    """Spellings by their first token, the longest first, so that the first that fits is the right one."""
    found: dict[str, list[tuple[Tokens, str]]] = {}
    for tokens, name in pairs:
        if tokens:
            found.setdefault(tokens[0], []).append((tokens, name))
    return {first: tuple(sorted(rows, key=lambda row: (-len(row[0]), row))) for first, rows in found.items()}


def longest(
    table: Mapping[str, Sequence[tuple[Tokens, str]]], tokens: Sequence[str], start: int
) -> tuple[str, int] | None:
    """The longest spelling in a table that stands at a place of a token row: its name and where it ends."""
    if start >= len(tokens):
        return None
    for spelling, name in table.get(tokens[start], ()):
        end = start + len(spelling)
        if len(spelling) == 1 or tuple(tokens[start:end]) == spelling:
            return name, end
    return None


def pattern_elements(text: str, tokenize: Callable[[str], Tokens]) -> list[tuple[bool, str]]:
    """A phrase pattern such as ``to {layer.height} above {layer.datum}`` as literal tokens and slots (true)."""
    elements: list[tuple[bool, str]] = []
    for index, piece in enumerate(text.replace("}", "{").split("{")):
        if index % 2:
            elements.append((True, piece.strip()))
        else:
            elements.extend((False, token) for token in tokenize(piece))
    return elements
