"""How a place is said: the address of its subject in words, and the file and line."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.safe import safe
from speclint.kernel.span import Span
from speclint.review.edit import Edit
from speclint.review.report import Place

WHOLE = "the whole plan"


def address_words(address: Sequence[str]) -> str:
    """An address from the room inward, such as ``hall shower / shower walls / niche``."""
    return safe(" / ".join(address)) if address else WHOLE


def line_words(span: Span) -> str:
    """File and line, as a person looks them up."""
    return safe(f"{span.file}:{span.line}")


def exact_words(span: Span) -> str:
    """File, line and column, as an editor jumps to them."""
    return safe(str(span))


def place_words(place: Place, home: str = "") -> str:
    """Address and line of one place; the file is told too unless it is ``home``, the file that the report is on."""
    where = f"line {place.span.line}" if place.span.file == home else line_words(place.span)
    return f"{address_words(place.address)}, {where}"


def several_places(places: Sequence[Place], most: int = 6, home: str = "") -> str:
    """The addresses of some places with their lines, each once; beyond ``most`` the rest is counted."""
    told = list(dict.fromkeys(place_words(place, home) for place in places))
    left = len(told) - most
    return "; ".join(told[:most]) + (f"; and {left} more" if left > 0 else "")


def edit_place(edit: Edit, home: str = "") -> str:
    """Where a changed line goes: the number of the one it replaces, or of the heading that a new one follows."""
    where = f"line {edit.span.line}" if edit.span.file == home else line_words(edit.span)
    return f"below {where}" if edit.fresh else where


def line_to_write(text: str) -> str:
    """A line of a plan as it is told in a sentence: with single blanks."""
    return safe(" ".join(text.split()))
