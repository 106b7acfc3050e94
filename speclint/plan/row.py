"""A row of tokens under a cursor: what every reader of phrases looks at."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple, cast

from speclint.kernel.span import Span
from speclint.language.lexer import Token, scan_line


class Row(NamedTuple):
    """The tokens of one phrase, their normal forms for look-ups, and the line they stand on."""

    tokens: tuple[Token, ...]
    norms: tuple[str, ...]
    text: str
    file: str
    line: int

    def words(self, start: int, end: int) -> str:
        """The text of the line from one token to before another, as written."""
        return self.text[self.tokens[start].column - 1 : self.tokens[end - 1].end_column - 1]

    def span(self, start: int, end: int) -> Span:
        """The place of those tokens."""
        return Span(self.file, self.line, self.tokens[start].column, self.line, self.tokens[end - 1].end_column)


def row_of(tokens: tuple[Token, ...], text: str, file: str, line: int) -> Row:
    """A row from the tokens of a phrase."""
    return Row(tokens, tuple([normal(token) for token in tokens]), text, file, line)


def normal(token: Token) -> str:
    """How a token compares: words in small letters, figures in lowest terms, marks of feet and inches as units."""
    kind = token.kind
    if kind == "word":
        return token.text.casefold()
    if kind == "number":
        above, below = pair_of(token)
        return str(above) if below == 1 else f"{above}/{below}"
    if kind == "times":
        return "x"
    if kind == "inch":
        return "in"
    return "ft" if kind == "foot" else token.text


def pair_of(token: Token) -> tuple[int, int]:
    """The exact value of a number token as numerator and denominator in lowest terms."""
    return cast("tuple[int, int]", token.value)


def figure_of(token: Token) -> Fraction:
    """The exact value of a number token."""
    return Fraction(*pair_of(token))


def tokens_of(text: str) -> tuple[str, ...]:
    """A text of the data files as normal tokens, cut just as a line of a plan is."""
    return tuple(normal(token) for token in scan_line(text, 1).tokens)
