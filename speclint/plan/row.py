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


def pieces_of(row: Row, joiner: str) -> list[Row]:
    """The parts of a row between its joining words, ``mixed`` at its head left out.

    A unit written once at the end, as in ``1/8 or 3/16 in``, belongs to each part that ends in a bare figure.
    """
    start = int(joiner == "to" and row.norms[0] == "mixed")
    figures = [at for at, token in enumerate(row.tokens) if token.kind == "number"]
    unit = slice(figures[-1] + 1 if figures else len(row.tokens), len(row.tokens))
    pieces: list[Row] = []
    for at, norm in enumerate((*row.norms, joiner)):
        if norm == joiner:
            tokens, norms = row.tokens[start:at], row.norms[start:at]
            if tokens and tokens[-1].kind == "number" and at < len(row.tokens):
                end = tokens[-1].end_column
                carried = [token._replace(column=end, end_column=end) for token in row.tokens[unit]]
                tokens, norms = (*tokens, *carried), (*norms, *row.norms[unit])
            pieces.append(row._replace(tokens=tokens, norms=norms))
            start = at + 1
    return pieces


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
