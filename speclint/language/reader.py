"""From a text to its lines: a line that cannot be read is a problem with its place, and reading goes on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span, at
from speclint.language.lexer import Scan, Token, scan_line
from speclint.language.mistakes import advice
from speclint.language.tables import Driver, default_driver

TEXT_LIMIT = 1 << 20
PROBLEM_LIMIT = 200
TOKEN_LIMIT = 250_000

_new = tuple.__new__
_Phrases = tuple[tuple[Token, ...], ...]


class Line(NamedTuple):
    """One line that is not blank.

    ``number`` counts from 1 over all lines of the text, blank ones too. ``text`` is the line as written
    without its end. ``phrases`` hold the tokens between the commas. ``heading_shaped`` is a word alone,
    a word and a name, or these with a link and further names. ``readable`` is false when a token is
    ``bad``. ``comment`` begins with ``#``.
    """

    number: int
    text: str
    phrases: _Phrases
    heading_shaped: bool
    comment: str | None
    readable: bool
    file: str

    @property
    def tokens(self) -> tuple[Token, ...]:
        """The tokens of all phrases in order."""
        return tuple(token for phrase in self.phrases for token in phrase)

    @property
    def span(self) -> Span:
        """From the first token to the last; of a line that is all comment, the comment."""
        if self.phrases:
            first, last = self.phrases[0][0].column, self.phrases[-1][-1].end_column
            return Span(self.file, self.number, first, self.number, last)
        width = len(self.comment or "")
        return at(self.file, self.number, len(self.text) - width + 1, width)


class Document(NamedTuple):
    """A text as read: its lines without the blank ones, and what could not be read.

    ``complete`` is false when reading stopped early (size, NUL, too many words): then ``lines`` is not
    the whole text.
    """

    file: str
    lines: tuple[Line, ...]
    problems: tuple[Problem, ...]
    complete: bool = True


def read(text: str, file: str, tables: Driver | Mapping[str, Any] | None = None) -> Document:
    """The lines of ``text``. Never raises for any text; ``file`` is its name in places.

    ``tables`` are those of ``build_tables``, or better a ``Driver`` over them kept by the caller, which
    remembers shapes; left out, lark builds them once per process.
    """
    refused = _refuse(text, file)
    if refused is not None:
        return Document(file, (), (refused,), complete=False)
    driver = tables if isinstance(tables, Driver) else Driver(tables) if tables is not None else default_driver()
    lines: list[Line] = []
    problems: list[Problem] = []
    tokens = 0
    for number, line in enumerate(split_lines(text), 1):
        if not line or line.isspace():
            continue
        scan = scan_line(line, number)
        tokens += len(scan.letters)
        if tokens > TOKEN_LIMIT:
            problems = problems[: PROBLEM_LIMIT + 1]
            problems.append(Problem(at(file, number), f"the text has more than {TOKEN_LIMIT:,} words: part it"))
            return Document(file, tuple(lines), capped(problems, file), complete=False)
        lines.append(_line(scan, line, number, file, driver, problems))
    return Document(file, tuple(lines), capped(problems, file))


def split_lines(text: str) -> list[str]:
    """The lines of a text without their ends (LF, CR LF or CR) and without a byte order mark at its head."""
    text = text.removeprefix("\ufeff")
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text.split("\n")


def decode(data: bytes, file: str) -> str | Problem:
    """The text of a file's bytes (UTF-8, at most 1 MiB, no NUL), or the one problem that bars it."""
    if len(data) > TEXT_LIMIT:
        return Problem(at(file, 1), _too_large())
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return Problem(at(file, 1), "this file is UTF-16: save it as UTF-8")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = split_lines(data[: error.start].decode("utf-8"))
        place = at(file, len(before), len(before[-1]) + 1, 1)
        return Problem(place, f"byte {data[error.start]:#04x} is not UTF-8 here: save the file as UTF-8 text")
    return _refuse(text, file) or text.removeprefix("\ufeff")


def _too_large() -> str:
    return f"the file has more than {TEXT_LIMIT:,} bytes (1 MiB) and is not read: part it into several files"


def _refuse(text: str, file: str) -> Problem | None:
    """The problem of a text that is too large or holds a NUL."""
    if len(text) > TEXT_LIMIT or (not text.isascii() and len(text.encode("utf-8", "surrogatepass")) > TEXT_LIMIT):
        return Problem(at(file, 1), _too_large())
    nul = text.find("\0")
    if nul < 0:
        return None
    before = split_lines(text[:nul])
    place = at(file, len(before), len(before[-1]) + 1, 1)
    return Problem(place, "there is a NUL here, so this is not a text file: write the plan as plain text")


def _line(scan: Scan, text: str, number: int, file: str, driver: Driver, problems: list[Problem]) -> Line:
    """The line that a scan makes; what is bad in it goes to ``problems``."""
    form, bounds, refused_at = driver.shape(scan.letters)
    if refused_at >= 0:
        phrases, sound = _piecewise(scan, text, number), False
    else:
        tokens, sound = scan.tokens, scan.sound
        phrases = tuple([tuple(tokens[first:last]) for first, last in bounds])
    if not sound:
        problems.extend(
            Problem(Span(file, number, token.column, number, token.end_column), str(token.value))
            for phrase in phrases
            for token in phrase
            if token.kind == "bad"
        )
    return _new(Line, (number, text, phrases, form == "heading", scan.comment, sound, file))


def _piecewise(scan: Scan, text: str, number: int) -> _Phrases:
    """The phrases of a refused line: each comma with nothing beside it, or a run of them, stands as a bad token."""
    phrases: list[tuple[Token, ...]] = []
    phrase: list[Token] = []
    tokens = iter(scan.tokens)
    column = 0
    parting = True
    for letter in scan.letters:
        if letter == ",":
            column = text.index(",", column) + 1
            if parting and phrases and _is_stray(phrases[-1]):
                continue  # a run of commas is one slip
            if parting:
                which = "between" if phrases else "first"
                phrases.append((Token("bad", ",", advice("stray", which), number, column, column + 1),))
            else:
                phrases.append(tuple(phrase))
            phrase, parting = [], True
        elif letter != "#":
            token = next(tokens)
            column = token.end_column - 1
            phrase.append(token)
            parting = False
    if phrase:
        phrases.append(tuple(phrase))
    elif not (phrases and _is_stray(phrases[-1])):
        phrases.append((Token("bad", ",", advice("stray", "last"), number, column, column + 1),))
    return tuple(phrases)


def _is_stray(phrase: tuple[Token, ...]) -> bool:
    return phrase[-1].kind == "bad" and phrase[-1].text == ","


def capped(problems: list[Problem], file: str) -> tuple[Problem, ...]:
    """At most so many problems of a file, and one that says that there are more."""
    if len(problems) <= PROBLEM_LIMIT:
        return tuple(problems)
    place = problems[PROBLEM_LIMIT].span
    more = Problem(at(file, place.line), "there are more problems from here on: mend those above first")
    return (*problems[:PROBLEM_LIMIT], more)
