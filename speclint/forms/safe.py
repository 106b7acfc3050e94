"""Text that may be shown: it cannot steer a terminal, begin a line of its own, or turn the reading direction."""

from __future__ import annotations

import unicodedata

_JOINERS = "\u200c\u200d"  # shape letters of some scripts, and hide nothing


def safe(text: str) -> str:
    """The text on one line: controls (C0, C1) are gone, line ends and odd blanks are one blank, hidden signs are shown.

    What turns the reading direction, and whatever else would not be seen, stands as ``<U+202E>``.
    """
    if text.isprintable():
        return text
    return "".join([sign if sign.isprintable() else _shown(sign) for sign in text])


def _shown(sign: str) -> str:
    """What stands for one sign that a terminal would not print as itself."""
    if sign in "\t\n\r\x85":
        return " "
    kind = unicodedata.category(sign)
    if kind == "Cc":
        return ""
    if kind in ("Zs", "Zl", "Zp"):
        return " "
    return sign if sign in _JOINERS else f"<U+{ord(sign):04X}>"


def width_of(text: str) -> int:
    """How many columns a text takes on a terminal: two for wide signs, none for marks that sit on another."""
    if text.isascii():
        return len(text)
    return sum([_columns(sign) for sign in text])


def _columns(sign: str) -> int:
    if unicodedata.combining(sign) or sign in _JOINERS:
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1
