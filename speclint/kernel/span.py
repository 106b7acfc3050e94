"""Places in a text: lines and columns count from 1, columns count code points."""

from __future__ import annotations

from typing import NamedTuple


class Span(NamedTuple):
    """From the first to just past the last code point of a piece of one file."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    @property
    def order(self) -> tuple[str, int, int]:
        """The key that sorts spans by file, line and column."""
        return (self.file, self.line, self.column)

    def __str__(self) -> str:
        """The place as ``file:line:column``."""
        return f"{self.file}:{self.line}:{self.column}"


def at(file: str, line: int, column: int = 1, width: int = 0) -> Span:
    """A span on one line that starts at ``column`` and is ``width`` code points wide."""
    return Span(file, line, column, line, column + width)
