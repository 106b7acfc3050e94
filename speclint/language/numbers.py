"""Exact values of numbers as a trade writes them: 3/8, 1-1/2, 1 1/2, .5, 0.125, and the signs for fractions."""

from __future__ import annotations

import unicodedata
from math import gcd

DIGIT_LIMIT = 40
_REMEMBERED = 4096
_SIGNS = tuple("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞")
_SPELLINGS = str.maketrans(
    {sign: " " + unicodedata.normalize("NFKC", sign).replace("⁄", "/") for sign in _SIGNS}
    | {joint: " " for joint in "-–‑‐"}
    | {"⁄": "/"}
)
_known: dict[str, tuple[int, int]] = {}


def plain_number(text: str) -> str:
    """The plain form of a number: ``1½``, ``1 1/2`` and ``1–1/2`` become ``1-1/2``; digits stay as written."""
    sign = "-" if text[0] in "-−" else ""
    parts = text[len(sign) :].translate(_SPELLINGS).split()
    return sign + "-".join(parts)


def exact(text: str) -> tuple[int, int] | None:
    """Numerator and denominator in lowest terms, or None for a number that is refused.

    Refused are more than 40 digits, a nought below the bar, and a mixed number whose fraction is one or more.
    """
    pair = _known.get(text)
    if pair is None:
        pair = _measure(text)
        if pair is not None and len(_known) < _REMEMBERED:
            _known[text] = pair
    return pair


def _measure(text: str) -> tuple[int, int] | None:
    if len(text) > DIGIT_LIMIT and sum(map(str.isdecimal, text)) > DIGIT_LIMIT:
        return None
    sign = -1 if text[0] in "-−" else 1
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
