"""Where the values of a data file stand, down to a word inside a value."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, TypeAlias

from speclint.kernel.span import Span, at

Path: TypeAlias = tuple[str | int, ...]


class Places(NamedTuple):
    """The spans of all values and keys of one file by their path of keys and indices, and the file's text."""

    file: str
    text: str
    values: Mapping[Path, Span]
    keys: Mapping[Path, Span]

    def span(self, *path: str | int) -> Span:
        """The place of a value, or of the nearest one around it."""
        while path and path not in self.values:
            path = path[:-1]
        return self.values.get(path, at(self.file, 1))

    def key(self, *path: str | int) -> Span:
        """The place of a key, or of the value that would hold it."""
        return self.keys.get(path) or self.span(*path)

    def inside(self, offset: int, width: int, *path: str | int) -> Span:
        """The place of so many code points of a text value, counted from 0 in the text as it was read.

        Line breaks and blanks may be folded by YAML, so places are found by counting what is not blank.
        """
        whole = self.span(*path)
        lines = self.text.removeprefix("\ufeff").split("\n")[whole.line - 1 : whole.end_line]
        if not lines:
            return whole
        line, column = 0, whole.column - 1
        first = lines[0][column : column + 1]
        if first in ("|", ">"):
            line, column = 1, 0
        elif first in ('"', "'"):
            column += 1
        if line == 0 and whole.line == whole.end_line:
            return at(self.file, whole.line, min(column + offset, len(lines[0])) + 1, width)
        return self._folded(lines, line, column, offset, width, whole)

    def _folded(self, lines: list[str], line: int, column: int, offset: int, width: int, whole: Span) -> Span:
        wanted = _solid(self._value(lines, line, column), offset)
        seen = 0
        while line < len(lines):
            for at_column in range(column, len(lines[line])):
                if lines[line][at_column].isspace():
                    continue
                if seen == wanted:
                    return at(self.file, whole.line + line, at_column + 1, width)
                seen += 1
            line, column = line + 1, 0
        return whole

    def _value(self, lines: list[str], line: int, column: int) -> str:
        pieces = [lines[line][column:], *lines[line + 1 :]] if line < len(lines) else []
        return " ".join(piece.strip() for piece in pieces)


def _solid(text: str, offset: int) -> int:
    """How many code points that are not blank stand before an offset."""
    return sum(not letter.isspace() for letter in text[:offset])
