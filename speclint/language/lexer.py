"""From a line of text to tokens: one alternation of regular expressions, no knowledge of any word.

Repeats are possessive throughout, so that no text makes the expression go back over itself.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from speclint.language.mistakes import advice
from speclint.language.numbers import DIGIT_LIMIT, exact

STRING_LIMIT = 4096
LINE_LIMIT = 16384


class Token(NamedTuple):
    """One piece of a line; columns count code points from 1, ``end_column`` lies just past the piece.

    ``kind`` is ``word``, ``number``, ``string``, ``times``, ``inch``, ``foot``, ``date``, ``time``, ``mark`` or
    ``bad``. ``text`` is as written. ``value`` is the pair (numerator, denominator) in lowest terms of a number, the
    inner text of a string, a word with plain hyphens and apostrophes, the reason of what is refused, else the text.
    """

    kind: str
    text: str
    value: str | tuple[int, int]
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


_B = r"\x20\t\xa0\u1680\u2000-\u200a\u202f\u205f\u3000"
_F = "¼½¾⅐-⅞"
_Q = '"“”'
_DASH = "-–‑‐"
_NUMBER = (
    rf"(?:[0-9]++(?:[{_DASH}{_B}]?[{_F}]|[{_DASH}{_B}][0-9]++[/⁄][0-9]++(?![/⁄])|[/⁄][0-9]++|\.[0-9]++)?+"
    rf"|\.[0-9]++|[{_F}])"
)
_NAME = rf"[{_Q}][^{_Q}]*+[{_Q}]"
_LINK = rf"(?:[{_B}]++[^\W\d]++){{1,3}}+[{_B}]++{_NAME}"
_CLOSES = (
    rf"(?=[{_B}]*+(?:$|,|/[{_B}]*+[{_Q}])|[{_B}]++\#"
    rf"|{_LINK}(?:[{_B}]*+/[{_B}]*+{_NAME}|{_LINK}){{0,3}}+[{_B}]*+(?:$|[,\#]))"
)

# The order matters: what is common comes first, and each refused shape before the sound one that it begins like.
_ALTERNATIVES = (
    ("times", rf"×|[xX](?=[{_B}]*+\.?[0-9{_F}])"),
    ("word", rf"[^\W\d_{_F}]\w*+(?:[-./'’+‐‑–]\w++)*+(?:['’+](?!\w))?+"),
    (
        "number",
        (
            r"[0-9]++(?:[-\x20][0-9]++/[0-9]++|/[0-9]++|\.[0-9]++)?+"
            r"(?!\x20?[^\x00-\x7f]|[-./:0-9]|,[0-9]|[eE][-+]?[0-9])"
        ),
    ),
    ("comma", r","),
    ("string", rf"(?<![^{_B},:/(=])[{_Q}](?:[^{_Q}]++|[{_Q}](?!{_CLOSES}))*+[{_Q}]"),
    ("inch", rf"(?<=[0-9{_F}])(?:[{_Q}″]|''|’’|′′)"),
    ("foot", rf"(?<=[0-9{_F}])['’′](?:-(?=[.0-9{_F}]))?+"),
    ("comment", rf"(?<![^{_B}])\#.*+"),
    ("slash", r"/"),
    (
        "bad_time",
        (
            r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9:.Z+-]*+|[0-9]{1,2}:[0-9]{2}"
            rf"(?:(?::[0-9]{{2}}[.0-9]*+)?+(?:Z|[{_B}]?[-+−][0-9]{{2}}:?[0-9]{{2}})(?![\w/.])|:[0-9]{{2}}[.0-9]*+"
            rf"|[{_B}]?[aApP]\.?[mM]\b)"
        ),
    ),
    ("date", r"(?:19|20|21)[0-9]{2}-(?:0[1-9]|1[0-2])(?:-[0-3][0-9])?+(?![\w/⁄-])"),
    ("time", r"(?:[01][0-9]|2[0-3]):[0-5][0-9](?![\w:])"),
    (
        "bad_date",
        (
            r"(?:20[0-9]{2}[-/.][0-9]{1,2}[-/.][0-9]{1,2}|[0-9]{1,2}[-.][0-9]{1,2}[-.](?:19|20)[0-9]{2}"
            r"|[0-9]++/[0-9]++(?:/[0-9]++)++)(?![\w/-])"
        ),
    ),
    (
        "code",
        (
            r"[0-9]++(?:\.[0-9]++){2,}+(?![\w/⁄])|[0-9]{4,}+(?:-[0-9]{1,3}(?![\w./⁄]))++"
            r"|[0-9]++-[^\W\d_¼½¾⅐-⅞]\w*+(?:[-./'’+]\w++)*+"
        ),
    ),
    ("bad_exponent", r"[0-9]++(?:\.[0-9]++)?[eE][-+]?[0-9]++\w*+"),
    ("bad_comma", rf"{_NUMBER}(?:,[0-9]++(?:[./][0-9]++)*+)++"),
    ("bad_range", rf"{_NUMBER}[{_B}]?[-–—‑][{_B}]?{_NUMBER}"),
    ("bad_dash", rf"[–—](?=[{_B}]*+[.0-9{_F}])|-(?=[{_B}]++[.0-9{_F}])"),
    ("figure", rf"(?:(?<![^{_B},:(=<>])[-−])?+{_NUMBER}"),
    ("bad_open", rf"(?<![^{_B},:/(=])[{_Q}].*+"),
    ("bad_quote", rf"[{_Q}].*+"),
    ("mark", rf"[^{_B}]"),
)
_TOKENS = re.compile(
    rf"[{_B}]*+(?:" + "|".join(f"(?P<{name}>{pattern})" for name, pattern in _ALTERNATIVES) + ")", re.DOTALL
).finditer
_SORTS = ("", *(name for name, _ in _ALTERNATIVES))
_COMMA, _COMMENT = _SORTS.index("comma"), _SORTS.index("comment")
_KINDS = tuple({"code": "word", "figure": "number", "slash": "mark"}.get(sort, sort) for sort in _SORTS)
_LETTERS = "".join(
    {"word": "w", "code": "w", "string": "s", "slash": "/", "comma": ",", "comment": "#"}.get(sort, "i")
    for sort in _SORTS
)
_AS_WRITTEN = frozenset(_SORTS.index(sort) for sort in ("times", "inch", "foot", "slash", "time"))
_WORD, _NUMBER_SORT = _SORTS.index("word"), _SORTS.index("number")
_HIDDEN = re.compile(
    "[\x00-\x08\x0a-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff"
    "\ufff9-\ufffb\ud800-\udfff\U000e0000-\U000e007f]"
)
_LOST_INCH = re.compile(rf"[{_Q}][{_B}]*+[xX×][{_B}]*+[0-9{_F}]").match
_PLAIN_WORD = str.maketrans("’‐‑–", "'---")
_DAYS = (0, 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def scan_line(line: str, number: int) -> Scan:
    """The tokens of one line, which holds no line end; ``number`` is its place in the text. Never raises."""
    if len(line) > LINE_LIMIT:
        width = len(line)
        return Scan([Token("bad", line, advice("length", line), number, 1, width + 1)], "i", None, False)
    tokens: list[Token] = []
    letters: list[str] = []
    comment = None
    sound = True
    ascii_only = line.isascii()
    for match in _TOKENS(line):
        sort = match.lastindex or 0
        letters.append(_LETTERS[sort])
        if sort == _COMMA:
            continue
        text = match[sort]
        start, end = match.span(sort)
        kind = _KINDS[sort]
        value: str | tuple[int, int] | None = text
        if sort == _WORD:
            if not ascii_only:
                value = text.translate(_PLAIN_WORD)
        elif sort == _NUMBER_SORT:
            value = exact(text)
        elif sort == _COMMENT:
            comment = text
            continue
        elif sort not in _AS_WRITTEN:
            kind, value = _settle(sort, text, tokens)
        if value is None:
            kind, value = "bad", _refusal(text)
        if kind == "bad":
            sound = False
        tokens.append(Token(kind, text, value, number, start + 1, end + 1))
    if not line.isprintable() and _HIDDEN.search(line):
        _hide(tokens, letters, line, number)
        sound = False
    return Scan(tokens, "".join(letters), comment, sound)


def _settle(sort: int, text: str, before: list[Token]) -> tuple[str, str | tuple[int, int] | None]:
    """Kind and value of the rarer sorts; a value of None is a number that is refused."""
    name = _SORTS[sort]
    if name == "string":
        if len(text) > STRING_LIMIT + 2:
            return "bad", advice("string", text)
        return ("bad", advice("open", text)) if _LOST_INCH(text) else ("string", text[1:-1])
    if name == "figure":
        if text[0] in "-−" and before and before[-1].kind in ("number", "inch", "foot"):
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
    below = text.replace("⁄", "/").rpartition("/")[2]
    return advice("mixed" if int(below) else "zero", text)


def _exists(date: str) -> bool:
    """Whether the calendar has that day or month."""
    year, month, day = int(date[:4]), int(date[5:7]), int(date[8:] or 1)
    if month == 2 and day == 29:
        return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return 1 <= day <= _DAYS[month]


def _hide(tokens: list[Token], letters: list[str], line: str, number: int) -> None:
    """Put a bad token where the first character stands that cannot be seen: over its token, else at the end."""
    found = _HIDDEN.search(line)
    assert found is not None, "called for lines that hold one"
    column, text = found.start() + 1, found[0]
    for index, token in enumerate(tokens):
        if token.column <= column < token.end_column:
            tokens[index] = Token(
                "bad", token.text, advice("hidden", text), number, token.column, token.end_column
            )
            return
    tokens.append(Token("bad", text, advice("hidden", text), number, column, column + 1))
    letters.insert(len(letters) - 1 if letters and letters[-1] == "#" else len(letters), "i")
