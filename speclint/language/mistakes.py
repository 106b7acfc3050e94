"""Malformed pieces of a line and the one sentence that helps: each row shows a sample of what it is about."""

from __future__ import annotations

import functools
import re
from typing import NamedTuple

_SHOWN = 40


class Mistake(NamedTuple):
    """One way to get a piece of a line wrong.

    ``sort`` is the lexer's name for the piece; ``pattern`` tells the rows of one sort apart and its named
    groups fill the ``sentence``; ``sample`` is a line that holds the piece.
    """

    sort: str
    pattern: str
    sample: str
    sentence: str


_WHOLE = r"(?:[0-9]+[- –‑‐])?"

MISTAKES: tuple[Mistake, ...] = (
    Mistake(
        "comma",
        r"(?P<a>[0-9]+),(?P<b>[0-9]{3})",
        "load 1,200 kg",
        '"{text}" has a comma between digits: write {a}{b} for a thousand, {a}.{b} for a decimal, or '
        "put a blank "
        "after a comma that parts two values",
    ),
    Mistake(
        "comma",
        r"(?P<a>[0-9]+),(?P<b>[0-9]+)",
        "width 9,5 mm",
        '"{text}" has a comma between digits: write {a}.{b}, or put a blank after a comma that parts two values',
    ),
    Mistake(
        "comma",
        r".*",
        "length 1,234,567.5 mm",
        '"{text}" has a comma between digits: write a point for decimals and nothing between thousands, '
        "or put a "
        "blank after a comma that parts two values",
    ),
    Mistake(
        "range",
        rf"(?P<a>{_WHOLE}[^\s–—-]+)\s?[-–—‑]\s?(?P<b>{_WHOLE}[^\s–—-]+)",
        "width 3/8-1/2 in",
        'a range is written with "to" and the unit twice: "3/8 in to 1/2 in" rather than "{text}"',
    ),
    Mistake(
        "range",
        r".*",
        "width 1-1/2 -2-1/2 in",
        'a range is written with "to" and the unit twice: "3/8 in to 1/2 in" rather than "{text}"',
    ),
    Mistake(
        "dash",
        r".*",
        "width 3/8 in - 1/2 in",
        'a dash before a figure can be a range or a minus: write "3/8 in to 1/2 in" for a range, or put '
        "the minus "
        "right at the figure",
    ),
    Mistake(
        "date",
        r"(?P<year>20[0-9]{2})[-/.](?P<month>[0-9]{1,2})[-/.](?P<day>[0-9]{1,2})",
        "until 2026/4/2",
        '"{text}" is not a date that can be read: write four digits, two and two of a day that exists, '
        "as in 2026-04-02",
    ),
    Mistake(
        "date",
        r"[0-9]{1,2}(?P<bar>[/.-])[0-9]{1,2}(?P=bar)(?:[0-9]{2}|[0-9]{4})",
        "until 01/02/26",
        '"{text}" could be two different days: write the year, the month and the day, as in 2026-01-02',
    ),
    Mistake(
        "date",
        r".*",
        "width 1/2/3 in",
        '"{text}" has one bar too many: a fraction is written 1/2, a date 2026-01-02',
    ),
    Mistake(
        "time",
        r".*(?:Z|[+−-][0-9]{2}:?[0-9]{2})",
        "from 2026-04-02 16:00Z",
        '"{text}" carries a time zone: write the local time of the place alone, as in 2026-04-02 16:00',
    ),
    Mistake(
        "time",
        r"[0-9]{4}-.*",
        "from 2026-04-02T16:00",
        '"{text}" runs the day and the time together: write them with a blank between, as in 2026-04-02 16:00',
    ),
    Mistake(
        "time",
        r".*[aApP]\.?[mM]",
        "from 2026-04-02 4:00 pm",
        '"{text}": write the hours from 00 to 23, as in 16:00',
    ),
    Mistake(
        "time",
        r".*",
        "from 2026-04-02 16:00:30",
        '"{text}" is finer than a minute: write hours and minutes, as in 16:00',
    ),
    Mistake(
        "exponent",
        r".*",
        "load 1e999 kg",
        '"{text}" is written with an exponent: write the figure out, as in 1200 or 0.005',
    ),
    Mistake(
        "digits",
        r".*",
        "load " + "7" * 41 + " kg",
        '"{text}" has more than 40 digits: no figure on a site needs so many, shorten it',
    ),
    Mistake("zero", r".*", "width 1/0 in", '"{text}" has a nought below the bar: write a fraction such as 1/2'),
    Mistake(
        "mixed",
        r".*",
        "width 2 5/4 in",
        '"{text}" is not a mixed number, since its fraction is one or more: write it as in 3-1/4, or '
        "put a comma "
        "between two figures",
    ),
    Mistake(
        "open",
        r'["“”]\s*+(?:[xX×]\s*+[0-9¼-¾⅐-⅞].*|[,#)].*|)',
        'size 12 " x 24 "',
        "this quote is never closed: an inch mark stands right at its figure, as in 12, and then the "
        "mark, or write "
        '"in"; a name or text stands between two quotes',
    ),
    Mistake(
        "open",
        r'["“”][^"“”]*["“”].+',
        'because "agreed" on site',
        "this text is never closed, since a quote closes only before a comma, a comment or the end of "
        "the line: put a "
        "comma after the closing quote",
    ),
    Mistake(
        "open",
        r".*",
        'name "the hall',
        "this text is never closed: put a quote at its end, on the same line",
    ),
    Mistake(
        "quote",
        r".*",
        'name the"hall"',
        "a quote opens a text only after a blank or a comma: put a blank before it (an inch mark stands "
        "right after a "
        "digit)",
    ),
    Mistake(
        "string",
        r".*",
        'because "' + "a" * 4097 + '"',
        "this text has more than 4,096 characters: shorten it, or name a document that holds it",
    ),
    Mistake(
        "hidden",
        r".*",
        "width 3\u202e/8 in",
        "there is a character here that cannot be seen ({code}): take it out",
    ),
    Mistake(
        "numeral",
        r".*",
        "width ३ in",
        '"{text}" is not one of the figures 0 to 9: write the figure with those',
    ),
    Mistake(
        "stray",
        r"first",
        ", thick",
        "a comma stands at the head of the line with nothing before it: take it out",
    ),
    Mistake("stray", r"last", "thick,", "a comma stands at the end with nothing after it: take it out"),
    Mistake(
        "stray",
        r".*",
        "thick,, wide",
        "two commas stand together with nothing between them: take one out",
    ),
    Mistake(
        "length",
        r".*",
        "note " + "a " * 8200,
        "this line has more than 16,384 characters and is not read: part it into several lines",
    ),
)


@functools.cache
def _rows(sort: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(row.pattern, re.DOTALL), row.sentence) for row in MISTAKES if row.sort == sort)


@functools.lru_cache(maxsize=256)
def advice(sort: str, text: str) -> str:
    """The sentence for a piece of that sort; a long piece is shown shortened. Unknown sorts raise "
    "KeyError."""
    shown = text if len(text) <= _SHOWN else text[: _SHOWN - 3] + "..."
    for pattern, sentence in _rows(sort):
        found = pattern.fullmatch(text)
        if found:
            return sentence.format(**found.groupdict(), text=shown, code=f"U+{ord(text[:1] or ' '):04X}")
    raise KeyError(sort)
