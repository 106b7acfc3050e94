"""Rows of styled pieces for a terminal, and how long text is folded into them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from speclint.forms.safe import width_of

_LABEL = 13  # columns of the label where there is room for two columns
_NARROW = 60  # below this width a label stands on the line of its text, which hangs under it
_HOLD = 30  # columns that are held together at most
_GAP = "\x00"  # holds a blank that must not be folded; never shown


class Piece(NamedTuple):
    """A stretch of text in one style: none, ``strong``, ``faint``, ``good``, or that of a weight."""

    text: str
    style: str = ""


Row = tuple[Piece, ...]
EMPTY: Row = ()


def fold(text: str, width: int) -> list[str]:
    """The text in lines of at most ``width`` columns, broken at blanks but not before a unit; a longer word is cut."""
    lines: list[str] = []
    line = ""
    for word in _held(text.split()):
        for part in _cut(word, width):
            if line and width_of(line) + 1 + width_of(part) > width:
                lines.append(line)
                line = part
            else:
                line = f"{line} {part}" if line else part
    return [*lines, line] if line or not lines else lines


def _held(words: list[str]) -> list[str]:
    """Words with a figure and its short unit held together, as in ``1/4 x 1/4 in`` and ``line 15``."""
    held: list[str] = []
    last = ""
    for word in words:
        unit = last[:1].isdigit() and len(word) <= 3 and (word.isalpha() or word == "%")
        figure = last in ("x", "line") and word[:1].isdigit()
        if held and (unit or figure) and len(held[-1]) + len(word) < _HOLD:
            held[-1] += f" {word}"
        else:
            held.append(word)
        last = word
    return held


def _cut(word: str, width: int) -> Iterable[str]:
    """A word in pieces that each fit."""
    if width_of(word) <= width:
        return (word,)
    parts: list[str] = []
    part = ""
    for sign in word:
        if part and width_of(part) + width_of(sign) > width:
            parts.append(part)
            part = ""
        part += sign
    return (*parts, part)


def paragraph(text: str, width: int, indent: int = 0, style: str = "", hang: int = 0) -> list[Row]:
    """Rows of a folded text; ``hang`` is what all rows but the first stand in deeper."""
    room = max(width - indent - hang, 12)
    first, *rest = fold(text, room)
    rows: list[Row] = [(Piece(" " * indent), Piece(first, style))]
    rows.extend((Piece(" " * (indent + hang)), Piece(line, style)) for line in rest)
    return rows


def labelled(label: str, text: str, width: int, indent: int) -> list[Row]:
    """A label and its text: side by side where the width allows, else the text right after it, hanging."""
    if width < _NARROW:
        lines = fold(f"{label.replace(' ', _GAP)}: {text}", max(width - indent - 2, 12))
        head, _, rest = lines[0].partition(": ") if ": " in lines[0] else (lines[0].rstrip(":"), "", "")
        rows: list[Row] = [(Piece(" " * indent), Piece(f"{head.replace(_GAP, ' ')}:", "faint"), Piece(f" {rest}"))]
        rows.extend((Piece(" " * (indent + 2)), Piece(line)) for line in lines[1:])
        return rows
    room = max(width - indent - _LABEL, 12)
    first, *others = fold(text, room)
    found: list[Row] = [(Piece(" " * indent), Piece(f"{label}:".ljust(_LABEL), "faint"), Piece(first))]
    found.extend((Piece(" " * (indent + _LABEL)), Piece(line)) for line in others)
    return found


def across(left: Row, right: str, width: int, style: str = "faint") -> list[Row]:
    """Text at the left and a short one at the right edge of one row, or below it where both do not fit."""
    used = sum(width_of(piece.text) for piece in left)
    room = width - used - width_of(right)
    if room >= 2:
        return [(*left, Piece(" " * room), Piece(right, style))]
    lead = len(left[0].text) if left and left[0].text.isspace() else 0
    return [left, *paragraph(right, width, lead, style)]


def plain(rows: Iterable[Row]) -> str:
    """The rows as text without colour, no blank at the end of a line, each line ended."""
    return "".join("".join(piece.text for piece in row).rstrip() + "\n" for row in rows)
