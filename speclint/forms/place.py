"""How a place is said: the address of its subject in words, and the file and line."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.safe import safe
from speclint.kernel.span import Span
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


def place_words(place: Place) -> str:
    """Address, file and line of one place."""
    return f"{address_words(place.address)}, {line_words(place.span)}"


def several_places(places: Sequence[Place], most: int = 6) -> str:
    """The addresses of some places with their lines, each once; beyond ``most`` the rest is counted."""
    told = list(dict.fromkeys(place_words(place) for place in places))
    left = len(told) - most
    return "; ".join(told[:most]) + (f"; and {left} more" if left > 0 else "")
