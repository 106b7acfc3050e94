"""Exact values of numbers as people write them: 3/8, 1-1/2, 1 1/2, .5, 0.125, and signs for fractions."""

from __future__ import annotations

from math import gcd

DIGIT_LIMIT = 40
_REMEMBERED = 4096
_SPELLINGS = str.maketrans(
    {
        "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅐": " 1/7", "⅑": " 1/9", "⅒": " 1/10",
        "⅓": " 1/3", "⅔": " 2/3", "⅕": " 1/5", "⅖": " 2/5", "⅗": " 3/5", "⅘": " 4/5",
        "⅙": " 1/6", "⅚": " 5/6", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
        "-": " ",
    }
)  # fmt: skip
known: dict[str, tuple[int, int]] = {}
"""Values found so far, up to a limit: plans write the same few numbers again and again."""


def plain_number(text: str) -> str:
    """The plain form of a number: ``1½`` and ``1 1/2`` become ``1-1/2``; digits stay as written."""
    sign = "-" if text[0] == "-" else ""
    parts = text[len(sign) :].translate(_SPELLINGS).split()
    return sign + "-".join(parts)


def exact(text: str) -> tuple[int, int] | None:
    """Numerator and denominator in lowest terms, or None for a number that is refused.

    Refused are more than 40 digits, a nought below the bar, and a mixed number whose fraction is one or more.
    """
    pair = known.get(text)
    if pair is None:
        pair = _measure(text)
        if pair is not None and len(known) < _REMEMBERED:
            known[text] = pair
    return pair


def _measure(text: str) -> tuple[int, int] | None:
    if len(text) > DIGIT_LIMIT and sum(map(str.isdecimal, text)) > DIGIT_LIMIT:
        return None
    sign = -1 if text[0] == "-" else 1
    *whole, last = text[sign < 0 :].translate(_SPELLINGS).split()
    top_text, bar, bottom_text = last.partition("/")
    if bar:
        top, bottom = int(top_text), int(bottom_text)
        if not bottom or (whole and top >= bottom):
            return None
        top += int(whole[0]) * bottom if whole else 0
    else:
        before, _, after = top_text.partition(".")
        top, bottom = int(before + after), 10 ** len(after)
    common = gcd(top, bottom)
    return sign * top // common, bottom // common
