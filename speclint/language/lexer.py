"""From a line of text to tokens: one alternation of regular expressions, no knowledge of any word.

Repeats are possessive throughout, so that no text makes the expression go back over itself.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

from speclint.language.mistakes import advice
from speclint.language.numbers import DIGIT_LIMIT, exact
from speclint.language.numbers import known as _numbers

STRING_LIMIT = 4096
LINE_LIMIT = 16384


Value = str | tuple[int, int]


class Token(NamedTuple):
    """One piece of a line; columns count code points from 1, ``end_column`` lies just past the piece.

    ``kind`` is ``word``, ``number``, ``string``, ``times``, ``inch``, ``foot``, ``date``, ``time``,
    ``mark`` or ``bad``. ``text`` is as written. ``value`` is the pair (numerator, denominator) in
    lowest terms of a number, the inner text of a string, a word with plain hyphens and apostrophes, the
    reason of what is refused, else the text.
    """

    kind: str
    text: str
    value: Value
    line: int
    column: int
    end_column: int


class Scan(NamedTuple):
    """The tokens of one line without its commas, a letter for each token, comma and comment, and the comment.

    Letters: ``w`` word, ``s`` string, ``/`` slash, ``,`` comma, ``#`` comment, ``i`` any other item.
    """

    tokens: list[Token]
    letters: str
    comment: str | None
    sound: bool


# Signs of one width that phones put in: blanks, dashes, quotes, primes. Lexed as their plain fellows,
# kept as written.
_FOLD = str.maketrans(
    "\xa0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000“”″’′–‑‐−⁄",
    " " * 16 + '"""\'\'----/',
)
_F = "¼-¾⅐-⅞"
_WORD = rf"[^\W\d_{_F}]\w*+(?:[-./'+]\w++)*+(?:['+](?!\w))?+"
_NUMBER = rf"(?:[0-9]++(?:[-\x20]?[{_F}]|[-\x20][0-9]++/[0-9]++(?!/)|/[0-9]++|\.[0-9]++)?+|\.[0-9]++|[{_F}])"
# After a closing quote: further names behind a slash or a link of up to three words, then a comma,
# a comment or the end.
_CLOSES = (
    r'(?=(?:(?:(?:[\x20\t]++[^\W\d]++){1,3}+[\x20\t]++|[\x20\t]*+/[\x20\t]*+)"[^"]*+"){0,6}+'
    r"(?:[\x20\t]*+(?:$|,)|[\x20\t]++\#))"
)
_OPENS = r"(?<![^\x20\t,:/(=])"

# What plans are made of. The order matters; a character that none of these takes sends the line to the
# rare ones too.
_COMMON = (
    ("times", rf"×|[xX](?=[\x20\t]*+\.?[0-9{_F}])"),
    ("word", _WORD),
    (
        "number",
        (
            r"[0-9]++(?:[-\x20][0-9]++/[0-9]++|/[0-9]++|\.[0-9]++)?+"
            rf"(?!\x20?[{_F}]|[-./0-9]|:[0-5][0-9]|,[0-9]|[eE][-+]?[0-9])"
        ),
    ),
    ("comma", r","),
    ("string", rf'{_OPENS}"(?:[^"]++|"(?!{_CLOSES}))*+"'),
    ("inch", rf"(?<=[0-9{_F}])(?:\"|'')"),
    ("foot", rf"(?<=[0-9{_F}])'(?:-(?=[.0-9{_F}]))?+"),
    ("comment", r"(?<![^\x20\t])\#.*+"),
    ("slash", r"/"),
    ("date", r"(?:19|20|21)[0-9]{2}-(?:0[1-9]|1[0-2])(?:-[0-3][0-9])?+(?![\w/-])"),
    (
        "time",
        r"(?:[01][0-9]|2[0-3]):[0-5][0-9](?![\w:]|[\x20\t]?(?:[-+][0-9]{2}:?[0-9]{2}|[aApP]\.?[mM]\b))",
    ),
    ("sign", r"[%:()=<>°]|\.(?![0-9])"),
)
# Each refused shape stands before the sound one that it begins like.
_RARE = (
    (
        "bad_time",
        (
            r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9:.Z+-]*+|[0-9]{1,2}:[0-9]{2}"
            r"(?:(?::[0-9]{2}[.0-9]*+)?+(?:Z|[\x20\t]?[-+][0-9]{2}:?[0-9]{2})(?![\w/.])|:[0-9]{2}[.0-9]*+"
            r"|[\x20\t]?[aApP]\.?[mM]\b)"
        ),
    ),
    (
        "bad_date",
        (
            r"(?:20[0-9]{2}[-/.][0-9]{1,2}[-/.][0-9]{1,2}|[0-9]{1,2}[-.][0-9]{1,2}[-.](?:19|20)[0-9]{2})"
            r"(?![\w/-])|[0-9]++/[0-9]++(?:/[0-9]++)++"
        ),
    ),
    (
        "code",
        r"[0-9]++(?:\.[0-9]++){2,}+(?![\w/])|[0-9]{4,}+(?:-[0-9]{1,3}(?![\w./]))++|[0-9]++-" + _WORD,
    ),
    ("bad_exponent", r"[0-9]++(?:\.[0-9]++)?[eE][-+]?[0-9]++\w*+"),
    ("bad_comma", rf"{_NUMBER}(?:,[0-9]++(?:[./][0-9]++)*+)++"),
    ("bad_range", rf"{_NUMBER}\x20?[-—]\x20?{_NUMBER}"),
    ("bad_dash", rf"—(?=[\x20\t]*+[.0-9{_F}])|-(?=[\x20\t]++[.0-9{_F}])"),
    ("figure", rf"(?:(?<![^\x20\t,:(=<>])-)?+{_NUMBER}"),
    ("bad_open", rf'{_OPENS}".*+'),
    ("bad_quote", r'".*+'),
    ("mark", r"[^\x20\t]"),
)
_SORTS = ("", *(name for name, _ in _COMMON + _RARE))
_KINDS = tuple({"code": "word", "figure": "number", "slash": "mark", "sign": "mark"}.get(sort, sort) for sort in _SORTS)
_LETTERS = "".join(
    {"word": "w", "code": "w", "string": "s", "slash": "/", "comma": ",", "comment": "#"}.get(sort, "i")
    for sort in _SORTS
)
_AS_WRITTEN = frozenset(_SORTS.index(sort) for sort in ("times", "inch", "foot", "slash", "sign", "time"))
_WORD_SORT, _SIMPLE_NUMBER = _SORTS.index("word"), _SORTS.index("number")
_COMMA, _COMMENT = _SORTS.index("comma"), _SORTS.index("comment")
_BEYOND = len(_COMMON) + 1
# A tuple's own constructor takes the fields at once: half the cost of a token.
_new = tuple.__new__

_Finder = Callable[[str], Iterator[re.Match[str]]]


def _finder(alternatives: tuple[tuple[str, str], ...]) -> _Finder:
    grouped = "|".join(f"({pattern})" for _, pattern in alternatives)
    return re.compile(rf"[\x20\t]*+(?:{grouped})", re.DOTALL).finditer


_find_common = _finder((*_COMMON, ("beyond", r"[^\x20\t]")))


@functools.cache
def _find_all() -> _Finder:
    """All alternatives, compiled when a line first needs them: they would double the time to start."""
    return _finder(_COMMON + _RARE)


_LOST_INCH = r'"[\x20\t]*+[xX×][\x20\t]*+[0-9¼-¾⅐-⅞]'
_HIDDEN = (
    "[\x00-\x08\x0a-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff"
    "\ufff9-\ufffb\ud800-\udfff\U000e0000-\U000e007f]"
)
_DAYS = (0, 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def plain_text(text: str) -> str:
    """The text with plain blanks, dashes, quotes and primes, of the same length."""
    return text if text.isascii() else text.translate(_FOLD)


def scan_line(line: str, number: int) -> Scan:
    """The tokens of one line, which holds no line end; ``number`` is its place in the text. Never raises."""
    if len(line) > LINE_LIMIT:
        refused = Token("bad", line, advice("length", line), number, 1, len(line) + 1)
        return Scan([refused], "i", None, False)
    plain = plain_text(line).rstrip(" \t")
    scan = _scan(line, plain, number, _find_common) or _scan(line, plain, number, _find_all())
    assert scan is not None, "the last alternative takes any character"
    return scan if line.isprintable() else _without_hidden(scan, line, number)


def _scan(line: str, plain: str, number: int, find: _Finder) -> Scan | None:
    """The tokens of a line, found in its ``plain`` fellow; None if it needs the rare alternatives."""
    tokens: list[Token] = []
    letters = ""
    comment = None
    sound = True
    value: Value | None
    for match in find(plain):
        sort: int = match.lastindex  # type: ignore[assignment]  # every alternative is a group
        if sort == _BEYOND and find is _find_common:
            return None
        letters += _LETTERS[sort]
        if sort == _COMMA:
            continue
        text = match[sort]
        start, end = match.span(sort)
        kind = _KINDS[sort]
        if sort == _WORD_SORT:
            value = text
        elif sort == _SIMPLE_NUMBER:
            value = _numbers.get(text) or exact(text)
        elif sort == _COMMENT:
            comment = line[start:]
            continue
        else:
            kind, value = _settle(sort, text, tokens)
        if value is None:
            kind, value = "bad", _refusal(text)
        if kind == "bad":
            sound = False
        tokens.append(_new(Token, (kind, text, value, number, start + 1, end + 1)))
    if not line.isascii():
        tokens = [_as_written(token, line) for token in tokens]
    return _new(Scan, (tokens, letters, comment, sound))


def _as_written(token: Token, line: str) -> Token:
    """The token with the text that stands in the line, of a string the value too."""
    text = line[token.column - 1 : token.end_column - 1]
    return token._replace(text=text, value=text[1:-1] if token.kind == "string" else token.value)


def _settle(sort: int, text: str, before: list[Token]) -> tuple[str, Value | None]:
    """Kind and value of the rarer sorts; a value of None is a number that is refused."""
    name = _SORTS[sort]
    if sort in _AS_WRITTEN:
        return _KINDS[sort], text
    if name == "string":
        if len(text) > STRING_LIMIT + 2:
            return "bad", advice("string", text)
        return ("bad", advice("open", text)) if re.match(_LOST_INCH, text) else ("string", text[1:-1])
    if name == "figure":
        if text[0] == "-" and before and before[-1].kind in ("number", "inch", "foot"):
            return "bad", advice("range", f"{before[-1].text} {text}")
        return "number", exact(text)
    if name == "date":
        return ("date", text) if _exists(text) else ("bad", advice("date", text))
    if name == "mark":
        numeral = text.isdigit() or text.isnumeric()
        return ("bad", advice("numeral", text)) if numeral else ("mark", text)
    if name == "code":
        return ("bad", advice("digits", text)) if len(text) > 2 * DIGIT_LIMIT else ("word", text)
    return "bad", advice(name.removeprefix("bad_"), text)


def _refusal(text: str) -> str:
    """Why a number in a sound spelling is refused."""
    if sum(map(str.isdecimal, text)) > DIGIT_LIMIT:
        return advice("digits", text)
    below = text.rpartition("/")[2]
    return advice("mixed" if int(below) else "zero", text)


def _exists(date: str) -> bool:
    """Whether the calendar has that day or month."""
    year, month, day = int(date[:4]), int(date[5:7]), int(date[8:] or 1)
    if month == 2 and day == 29:
        return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return 1 <= day <= _DAYS[month]


def _without_hidden(scan: Scan, line: str, number: int) -> Scan:
    """The scan with a bad token where the first character stands that cannot be seen, if there is one.

    It takes the place of the token that holds the character; in a comment it stands at the end.
    """
    found = re.search(_HIDDEN, line)
    if found is None:
        return scan
    column, reason = found.start() + 1, advice("hidden", found[0])
    tokens, letters = scan.tokens, scan.letters
    for index, token in enumerate(tokens):
        if token.column <= column < token.end_column:
            tokens[index] = token._replace(kind="bad", value=reason)
            return scan._replace(sound=False)
    tokens.append(Token("bad", found[0], reason, number, column, column + 1))
    letters = letters.removesuffix("#") + "i" + "#" * letters.endswith("#")
    return scan._replace(letters=letters, sound=False)
